"""Input quantities of a measurement model: a distribution, drawn once per trial or once per reading.

Every distribution is a monotone function of a standard normal draw, so that one counter-based stream serves all of
them and two inputs can be correlated through their normal draws (for normal inputs that is their correlation).
Parametrisation as in JCGM 101:2008, 6.4.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray

Shape: TypeAlias = Callable[[FloatArray], FloatArray]
INFINITE = math.inf


@dataclass(frozen=True, slots=True, eq=False)
class Input:
    """One input quantity.

    ``mean`` is a number, or an array (n,) of what was read at n stations. ``readings`` None: one draw per trial serves
    all stations (a systematic part); n: each reading has its own draw (a random part), and the model gets (n, draws).
    ``degrees_of_freedom`` counts in the Welch-Satterthwaite formula.
    """

    mean: float | FloatArray
    standard_uncertainty: float
    distribution: str
    degrees_of_freedom: float = INFINITE
    readings: int | None = None

    def drawn(self, normals: FloatArray) -> FloatArray:
        """Values for standard normal draws, shape (draws,) or (n, draws)."""
        deviation = self.standard_uncertainty * _STANDARD[self.distribution](normals, self.degrees_of_freedom)
        mean = np.asarray(self.mean)
        return np.asarray(mean[:, np.newaxis] + deviation if mean.ndim else mean + deviation)


def normal(
    mean: npt.ArrayLike, standard_uncertainty: float, degrees_of_freedom: float = INFINITE, *, per_reading: bool = False
) -> Input:
    """Normal with a standard uncertainty; ``per_reading`` with ``mean`` (n,) draws each reading by itself."""
    return _input(mean, standard_uncertainty, "normal", degrees_of_freedom, per_reading)


def rectangular(mean: npt.ArrayLike, half_width: float, *, per_reading: bool = False) -> Input:
    """All values from mean - half_width to mean + half_width alike (JCGM 101, 6.4.2)."""
    return _input(mean, half_width / math.sqrt(3.0), "rectangular", INFINITE, per_reading)


def triangular(mean: npt.ArrayLike, half_width: float, *, per_reading: bool = False) -> Input:
    """Triangular (JCGM 101, 6.4.5)."""
    return _input(mean, half_width / math.sqrt(6.0), "triangular", INFINITE, per_reading)


def arcsine(mean: npt.ArrayLike, half_width: float, *, per_reading: bool = False) -> Input:
    """A quantity that swings as a sine, seen at a moment unknown: U-shaped (JCGM 101, 6.4.6)."""
    return _input(mean, half_width / math.sqrt(2.0), "arcsine", INFINITE, per_reading)


def student(mean: npt.ArrayLike, scale: float, degrees_of_freedom: float, *, per_reading: bool = False) -> Input:
    """Scaled and shifted t (JCGM 101, 6.4.9): ``scale`` is s / sqrt(n) of n = degrees of freedom + 1 readings.

    The first-order law uses ``scale`` as the standard uncertainty, as JCGM 100 does.
    """
    return _input(mean, scale, "student", degrees_of_freedom, per_reading)


def exact(mean: npt.ArrayLike) -> Input:
    """A value without uncertainty."""
    return _input(mean, 0.0, "normal", INFINITE, False)


def _input(mean: npt.ArrayLike, standard_uncertainty: float, distribution: str, dof: float, per_reading: bool) -> Input:
    value = np.array(mean, dtype=np.float64)
    if value.ndim > 1 or not np.isfinite(value).all():
        raise BadInput("uncertainty.bad_mean", shape=value.shape)
    if not (math.isfinite(standard_uncertainty) and standard_uncertainty >= 0.0):
        raise BadInput("uncertainty.bad_spread", value=standard_uncertainty)
    if not dof > 0.0:
        raise BadInput("uncertainty.bad_degrees", value=dof)
    if per_reading and value.ndim == 0:
        raise BadInput("uncertainty.readings_missing")
    value.flags.writeable = False
    readings = int(value.size) if per_reading else None
    return Input(value if value.ndim else float(value), float(standard_uncertainty), distribution, dof, readings)


def _share(z: FloatArray) -> FloatArray:
    """Probability below a standard normal value."""
    from scipy.special import ndtr

    return np.asarray(ndtr(z))


def _standard_normal(z: FloatArray, _: float) -> FloatArray:
    return z


def _standard_rectangular(z: FloatArray, _: float) -> FloatArray:
    return math.sqrt(3.0) * (2.0 * _share(z) - 1.0)


def _standard_triangular(z: FloatArray, _: float) -> FloatArray:
    below = _share(-np.abs(z))  # symmetric, and exact in both tails
    return math.sqrt(6.0) * np.copysign(1.0 - np.sqrt(2.0 * below), z)


def _standard_arcsine(z: FloatArray, _: float) -> FloatArray:
    return math.sqrt(2.0) * np.sin(math.pi * (_share(z) - 0.5))


def _standard_student(z: FloatArray, dof: float) -> FloatArray:
    from scipy.special import stdtrit

    return np.asarray(np.copysign(stdtrit(dof, _share(-np.abs(z))), z))


_STANDARD: dict[str, Callable[[FloatArray, float], FloatArray]] = {
    "normal": _standard_normal,
    "rectangular": _standard_rectangular,
    "triangular": _standard_triangular,
    "arcsine": _standard_arcsine,
    "student": _standard_student,
}
