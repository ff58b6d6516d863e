"""How a figure of a machine goes from visit to visit: steady, settling, with the season, or changed by an event.

Four models are fitted by weighted least squares: a constant; a straight line over time (settlement); a sine of one year
(season); one step at the best place between two visits (event). Each is compared with the constant by the fall of chi
squared, taken from the stated uncertainties, with as many degrees of freedom as it has more parameters. Where the best
model leaves more scatter than the uncertainties explain, all of them are widened until it does not. A step is looked
for at every place, so its probability is multiplied by the number of places (Bonferroni). Among those below the level
the one with the smallest AICc is told.

Weakness: with few visits all of this sees little. A line needs three visits, a step four, a season five over more than
a year; below that it is not told apart, and :attr:`Trend.smallest_per_year` says which slope would have been seen.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput

Floats = npt.NDArray[np.float64]

LEVEL = 0.05
_SEEN = 2.8  # a slope of 2.8 standard uncertainties is found four times out of five at the level of 5 %
_LEAST = {"settlement": 3, "event": 4, "season": 5}


@dataclass(frozen=True, slots=True)
class Model:
    """One model against the constant: ``probability`` is that of so large a fall of chi squared by chance."""

    name: str
    probability: float
    chi_squared: float
    parameters: int
    fitted: Floats
    per_year: float = 0.0
    amplitude: float = 0.0
    step: float = 0.0
    step_after: int | None = None


@dataclass(frozen=True, slots=True)
class Trend:
    """What a figure did; ``told`` is "steady", "settlement", "season", "event" or "too few".

    ``models`` are all that could be tried, ``untried`` those for which there are too few visits. ``per_year`` is the
    slope of the straight line with its standard uncertainty, whatever was told.
    """

    told: str
    models: tuple[Model, ...]
    untried: tuple[str, ...]
    visits: int
    span_years: float
    per_year: float
    per_year_u: float
    smallest_per_year: float
    widened: float

    @property
    def model(self) -> Model | None:
        """The model that was told, None for a constant."""
        return next((model for model in self.models if model.name == self.told), None)


def trend(time_years: npt.ArrayLike, value: npt.ArrayLike, standard_uncertainty: npt.ArrayLike) -> Trend:
    """What a figure (n,) with its standard uncertainties (n,) did over times (n,) in years.

    Raises BadInput for lengths that differ, what is not finite, an uncertainty that is not positive, or one visit.
    """
    t, y, u = _checked(time_years, value, standard_uncertainty)
    constant = _fit(t, y, u, np.ones((t.size, 1)))
    tried = tuple(_models(t, y, u))
    widened = _widened(tried, constant, t.size)
    models = tuple(_against(model, constant, widened, t.size) for model in tried)
    slope, slope_u = _slope(t, y, u * math.sqrt(widened))
    believed = [model for model in models if model.probability < LEVEL]
    best = min(believed, key=lambda model: _aicc(model.chi_squared / widened, model.parameters, t.size), default=None)
    untried = tuple(name for name in _LEAST if name not in {model.name for model in models})
    told = best.name if best else ("too few" if "settlement" in untried else "steady")
    return Trend(told, models, untried, t.size, float(np.ptp(t)), slope, slope_u, _SEEN * slope_u, widened)


def _checked(*given: npt.ArrayLike) -> tuple[Floats, Floats, Floats]:
    t, y, u = (np.asarray(each, dtype=np.float64) for each in given)
    if not t.ndim == y.ndim == u.ndim == 1 or not t.size == y.size == u.size or t.size < 2:
        raise BadInput("history.lengths", times=int(t.size), values=int(y.size), uncertainties=int(u.size))
    if not (np.isfinite(t).all() and np.isfinite(y).all() and np.isfinite(u).all() and (u > 0.0).all()):
        raise BadInput("history.not_finite")
    order = np.argsort(t, kind="stable")
    return t[order], y[order], u[order]


def _models(t: Floats, y: Floats, u: Floats) -> Iterator[Model]:
    if t.size >= _LEAST["settlement"]:
        yield _line(t, y, u)
    if t.size >= _LEAST["event"]:
        yield min((_step(t, y, u, after) for after in range(t.size - 1)), key=lambda model: model.chi_squared)
    if t.size >= _LEAST["season"] and np.ptp(t) > 1.0:
        yield _season(t, y, u)


def _fit(t: Floats, y: Floats, u: Floats, design: Floats) -> tuple[Floats, Floats, float]:
    """Coefficients, fitted values and chi squared of a weighted fit by QR."""
    coefficient = np.asarray(np.linalg.lstsq(design / u[:, None], y / u, rcond=None)[0], dtype=np.float64)
    fitted: Floats = design @ coefficient
    return coefficient, fitted, float(np.sum(((y - fitted) / u) ** 2))


def _line(t: Floats, y: Floats, u: Floats) -> Model:
    coefficient, fitted, chi = _fit(t, y, u, np.column_stack([np.ones_like(t), t - t.mean()]))
    return Model("settlement", 1.0, chi, 2, fitted, per_year=float(coefficient[1]))


def _season(t: Floats, y: Floats, u: Floats) -> Model:
    angle = 2.0 * np.pi * t
    coefficient, fitted, chi = _fit(t, y, u, np.column_stack([np.ones_like(t), np.cos(angle), np.sin(angle)]))
    return Model("season", 1.0, chi, 3, fitted, amplitude=float(np.hypot(coefficient[1], coefficient[2])))


def _step(t: Floats, y: Floats, u: Floats, after: int) -> Model:
    later = (np.arange(t.size) > after).astype(np.float64)
    coefficient, fitted, chi = _fit(t, y, u, np.column_stack([np.ones_like(t), later]))
    return Model("event", 1.0, chi, 2, fitted, step=float(coefficient[1]), step_after=after)


def _widened(models: tuple[Model, ...], constant: tuple[Floats, Floats, float], n: int) -> float:
    """How much more scatter (variance) there is about the best model than the uncertainties explain; at least 1."""
    left = [(model.chi_squared, n - model.parameters) for model in models] + [(constant[2], n - 1)]
    return max(1.0, min((chi / free for chi, free in left if free > 0), default=1.0))


def _against(model: Model, constant: tuple[Floats, Floats, float], widened: float, n: int) -> Model:
    from scipy.special import chdtrc

    fall = max(constant[2] - model.chi_squared, 0.0) / widened
    probability = float(chdtrc(model.parameters - 1, fall))
    places = n - 1 if model.name == "event" else 1
    return replace(model, probability=min(1.0, probability * places))


def _aicc(chi: float, parameters: int, n: int) -> float:
    """Akaike's criterion for few values; infinite where there are as many parameters as values."""
    spare = n - parameters - 1
    return chi + 2 * parameters + (2 * parameters * (parameters + 1) / spare if spare > 0 else math.inf)


def _slope(t: Floats, y: Floats, u: Floats) -> tuple[float, float]:
    weight = 1.0 / u**2
    middle = float(np.sum(weight * t) / np.sum(weight))
    spread = float(np.sum(weight * (t - middle) ** 2))
    if spread == 0.0:
        return 0.0, math.inf
    return float(np.sum(weight * (t - middle) * y) / spread), 1.0 / math.sqrt(spread)
