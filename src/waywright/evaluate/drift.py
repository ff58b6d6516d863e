"""Drift of the beam during passes: an offset and an angle that change evenly with time.

A reading at position x and time t carries ``(offset_per_h + angle_per_h * (x - source) / 1000) * t``. An angle that
turns by theta during one pass of length L bends the profile into a parabola of theta L / 4 about its end line.

Estimated by least squares from closures (one place read twice, the axis not moved in between or reached from the same
side), and from passes: those of one direction read the same profile at different times. The profiles and any reversal
stay unknown. One forward and one backward pass alone say nothing: an even drift and a reversal that grows along the
axis make the same difference. This is then named, never removed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw
from waywright.evaluate.least_squares import fit
from waywright.evaluate.passes import CommonStations, Traverse, common_stations
from waywright.evaluate.results import Reason
from waywright.evaluate.straightness import straightness
from waywright.evaluate.unknown_profile import UnknownProfile

SECONDS_PER_HOUR = 3600.0
_UNSEEN = 1e-9  # of its effect on the readings: what is left of an unknown then is rounding


@dataclass(frozen=True, slots=True, eq=False)
class Closure:
    """One place read at two moments: ``change`` is the second value minus the first, a float or (draws,).

    The axis stood still in between, or came to the place from the same side both times: otherwise the reversal would
    be taken for drift. ``standard_deviation`` is that of the change (a difference of two readings).
    """

    position_mm: float
    first_s: float
    second_s: float
    change: PerDraw
    standard_deviation: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Drift:
    """An even drift, in the unit of the values (um) per hour and um/m per hour; floats or (draws,).

    ``covariance`` (2, 2) of offset and angle, from the standard deviations of the readings where they are known (never
    less than the scatter shows), otherwise from the scatter alone; NaN where nothing is left over to see it from.
    ``separable`` False: ``reason`` says why, and the figures hold only if the reversal is the same all along the axis.
    """

    offset_per_h: PerDraw
    angle_per_h: PerDraw
    covariance: FloatArray
    source_mm: float
    degrees_of_freedom: int
    residual_sd: PerDraw
    passes: int
    closures: int
    separable: bool = True
    reason: Reason | None = None

    def at(self, position_mm: npt.ArrayLike, time_s: npt.ArrayLike) -> FloatArray:
        """What the drift adds to readings at positions and times (n,): (n,) or (n, draws)."""
        hours = np.asarray(time_s, dtype=np.float64) / SECONDS_PER_HOUR
        arm_m = (np.asarray(position_mm, dtype=np.float64) - self.source_mm) / 1000.0
        return np.asarray(
            np.multiply.outer(hours, self.offset_per_h) + np.multiply.outer(hours * arm_m, self.angle_per_h)
        )

    def bow(self, traverse: Traverse) -> PerDraw:
        """How far the drift bends one pass about its end line, with its sign (theta L / 4 for an even traverse)."""
        if traverse.time_s is None:
            raise BadInput("passes.no_times")
        shape = straightness(traverse.position_mm, self.at(traverse.position_mm, traverse.time_s), "end-points")
        high, low = np.asarray(shape.largest_um), np.asarray(shape.smallest_um)
        return np.where(high >= -low, high, low)[()]


def estimate_drift(
    traverses: Sequence[Traverse], closures: Sequence[Closure] = (), *, source_mm: float | None = None
) -> Drift:
    """The drift that passes of one set-up and closures agree on best.

    Nothing may have been zeroed or moved between the passes. ``source_mm`` is where the angle turns (by default the
    smallest position; the choice moves figures between offset and angle, not the drift itself).
    Raises BadInput where a pass has no times, and like ``join_passes``.
    """
    common = common_stations(traverses)
    if common.time_s is None:
        raise BadInput("passes.no_times")
    pivot = float(common.position_mm[0]) if source_mm is None else source_mm
    equations = _Equations(common, tuple(closures), pivot)
    strict = equations.solved(constant_reversal=False)
    if strict is not None:
        return strict
    seen = equations.solved(constant_reversal=True) if len(traverses) > 1 else None
    return _unseen(equations, len(closures)) if seen is None else replace(seen, separable=False, reason=equations.why())


def remove_drift(traverses: Sequence[Traverse], drift: Drift) -> list[Traverse]:
    """The passes without a drift that was told apart from everything else.

    Raises BadInput where it was not, or where a pass has no times.
    """
    if not drift.separable:
        raise BadInput("passes.drift_not_separable")
    return [_without(traverse, drift) for traverse in traverses]


def _without(traverse: Traverse, drift: Drift) -> Traverse:
    if traverse.time_s is None:
        raise BadInput("passes.no_times")
    value = np.asarray(traverse.value, dtype=np.float64)
    added = drift.at(traverse.position_mm, traverse.time_s)
    return replace(traverse, value=value[:, None] - added if value.ndim < added.ndim else _less(value, added))


def _less(value: FloatArray, added: FloatArray) -> FloatArray:
    return value - added.reshape(*added.shape, *[1] * (value.ndim - added.ndim))


@dataclass(frozen=True, slots=True, eq=False)
class _Equations:
    """Weighted equations for offset and angle per hour, a constant reversal as a third unknown if it is assumed."""

    common: CommonStations
    closures: tuple[Closure, ...]
    source_mm: float

    def solved(self, *, constant_reversal: bool) -> Drift | None:
        """The fit; None where the equations do not tell offset and angle apart."""
        profile = UnknownProfile.common_to(self.common, by_direction=not constant_reversal)
        unknowns = 2 + constant_reversal
        block = self._of_passes()[..., :unknowns]
        columns = np.concatenate([profile.projected(block), self._of_closures()[:, :unknowns]])
        if not _full_rank(columns, np.abs(block * profile.weight[..., None]).max(axis=(0, 1))):
            return None
        observed = np.concatenate([profile.projected(self._values()), self._changes()])
        found = fit(columns, observed[:, 0] if self.common.value.ndim == 2 else observed)
        freedom = profile.equations + len(self.closures) - columns.shape[1]
        return self._drift(found.coefficient, found.residual, found.cofactor, freedom)

    def why(self) -> Reason:
        """What kept drift and reversal together."""
        if self.closures:
            places = ", ".join(f"{closure.position_mm:.0f}" for closure in self.closures)
            return Reason("passes.drift_closure_too_little", {"places_mm": places})
        return Reason("passes.drift_or_reversal", {"passes": self.common.value.shape[0]})

    def _drift(self, coefficient: FloatArray, residual: FloatArray, cofactor: FloatArray, freedom: int) -> Drift:
        squares = (residual**2).sum(axis=0)
        sd = np.sqrt(squares / freedom) if freedom > 0 else squares * np.nan
        factor = self._factor(sd)
        return Drift(
            offset_per_h=_figure(coefficient[0]),
            angle_per_h=_figure(coefficient[1]),
            covariance=cofactor[:2, :2] * factor**2,
            source_mm=self.source_mm,
            degrees_of_freedom=max(freedom, 0),
            residual_sd=_figure(sd),
            passes=self.common.value.shape[0],
            closures=len(self.closures),
        )

    def _factor(self, sd: FloatArray) -> float:
        """From the assumed to the real scatter; known standard deviations are never made smaller."""
        seen = float(np.sqrt(np.mean(np.square(sd))))
        if not self._known():
            return seen
        return seen if seen > 1.0 else 1.0

    def _known(self) -> bool:
        passes = self.common.standard_deviation is not None
        return passes and all(closure.standard_deviation is not None for closure in self.closures)

    def _of_passes(self) -> FloatArray:
        time_s = self.common.time_s
        assert time_s is not None
        hours = time_s / SECONDS_PER_HOUR
        arm_m = (self.common.position_mm - self.source_mm) / 1000.0
        backward = np.broadcast_to(~self.common.forward[:, None], hours.shape).astype(np.float64)
        return np.stack([hours, hours * arm_m, backward], axis=-1)

    def _of_closures(self) -> FloatArray:
        rows = np.zeros((len(self.closures), 3))
        for row, closure in zip(rows, self.closures, strict=True):
            hours = (closure.second_s - closure.first_s) / SECONDS_PER_HOUR
            arm_m = (closure.position_mm - self.source_mm) / 1000.0
            row[:2] = np.array([hours, hours * arm_m]) * self._weight(closure)
        return rows

    def _changes(self) -> FloatArray:
        width = self._values().shape[2]
        rows = [np.broadcast_to(np.asarray(c.change) * self._weight(c), (width,)) for c in self.closures]
        return np.array(rows).reshape(len(rows), width)

    def _weight(self, closure: Closure) -> float:
        """A change is a difference of two readings; without a standard deviation it counts as of two usual ones."""
        if closure.standard_deviation is not None and self.common.standard_deviation is not None:
            return 1.0 / closure.standard_deviation
        usual = self.common.standard_deviation
        return float(1.0 / (np.sqrt(2.0) * (1.0 if usual is None else np.median(usual))))

    def _values(self) -> FloatArray:
        value = self.common.value
        return value[..., None] if value.ndim == 2 else value


def _full_rank(columns: FloatArray, effect: FloatArray) -> bool:
    """Whether no combination of unknowns is without effect; ``effect`` is the largest that each has on any reading."""
    if columns.shape[0] < columns.shape[1] or not (effect > 0.0).all():
        return False
    return bool(np.linalg.svd(columns / effect, compute_uv=False)[-1] > _UNSEEN)


def _unseen(equations: _Equations, closures: int) -> Drift:
    passes = equations.common.value.shape[0]
    reason = Reason("passes.drift_one_pass", {"passes": passes}) if passes == 1 and not closures else equations.why()
    nothing = np.full((2, 2), np.nan)
    return Drift(np.nan, np.nan, nothing, equations.source_mm, 0, np.nan, passes, closures, False, reason)


def _figure(value: FloatArray) -> PerDraw:
    return value if value.ndim else float(value)
