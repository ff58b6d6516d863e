"""Overlapping Allan deviation of a standstill recording, with confidence limits.

For readings y evenly spaced by ``spacing_s`` and averages over m of them,

    s^2(m) = sum over j of (mean(y[j+m .. j+2m-1]) - mean(y[j .. j+m-1]))^2 / (2 (N - 2m + 1)).

It is the scatter of an averaged reading against the next one: drift slower than the average hardly enters.
Source: W. J. Riley, Handbook of Frequency Stability Analysis, NIST SP 1065 (2008): 5.2.4 the overlapping deviation,
5.3 confidence limits by chi-squared, Table 5 the equivalent degrees of freedom, 5.5.6 the kind of noise from the
lag-1 autocorrelation. There readings are called fractional frequency.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray

FEWEST_SAMPLES = 16
_FEWEST_AVERAGES = 30  # below, the kind of noise is taken from the next shorter averages (SP 1065, 5.5.6)
_WHITE = 0


@dataclass(frozen=True, slots=True, eq=False)
class AllanDeviation:
    """Scatter of averages over ``averaging_s``, all arrays (k,); deviations in the unit of the readings.

    ``lower`` and ``upper`` are two-sided limits at ``confidence``; ``noise`` is the exponent of the power law of the
    readings' spectrum (2 to -2; 0 is white, -1 flicker, -2 random walk) that the limits rest on.
    """

    averaging_s: FloatArray
    deviation: FloatArray
    lower: FloatArray
    upper: FloatArray
    degrees_of_freedom: FloatArray
    noise: npt.NDArray[np.int64]
    confidence: float


def overlapping_deviation(reading: npt.ArrayLike, factor: int) -> float:
    """The deviation of averages over ``factor`` readings (n,); NaN readings are left out with all averages they enter.

    NaN where no two neighbouring averages are left. Raises BadInput for a factor that is not between 1 and n / 2.
    """
    y = np.asarray(reading, dtype=np.float64)
    if not 1 <= factor <= y.size // 2:
        raise BadInput("guard.averages_too_long", factor=factor, samples=y.size)
    change = _changes(y, factor)
    seen = change[np.isfinite(change)]
    return float(np.sqrt(np.mean(seen**2) / 2.0)) if seen.size else float("nan")


def scatter_of_averages(reading: npt.ArrayLike, factor: int) -> float:
    """Standard deviation about zero of averages over ``factor`` readings (n,) at every start; NaN readings as above.

    Meant for what a drift line leaves over: it also holds for stations that are read far apart in time, where the Allan
    deviation of short averages knows nothing of slow air.
    """
    y = np.asarray(reading, dtype=np.float64)
    present = np.isfinite(y)
    total = np.concatenate([[0.0], np.cumsum(np.where(present, y, 0.0))])
    count = np.concatenate([[0], np.cumsum(present)])
    whole = count[factor:] - count[:-factor] == factor
    means = (total[factor:] - total[:-factor])[whole] / factor
    return float(np.sqrt(np.mean(means**2))) if means.size else float("nan")


def allan_deviation(reading: npt.ArrayLike, spacing_s: float, confidence: float = 0.9) -> AllanDeviation:
    """The deviation for averaging times in quarter octaves, as long as eight averages fit into the recording.

    Raises BadInput for fewer than 16 readings, a spacing that is not positive, or a share that is none.
    """
    from scipy.stats import chi2

    y = np.asarray(reading, dtype=np.float64)
    _check(y, spacing_s, confidence)
    quarters = np.arange(4 * np.log2(y.size // 8) + 1e-9)
    factors = np.unique(np.rint(2.0 ** (quarters / 4.0)).astype(np.int64))
    deviation = np.array([overlapping_deviation(y, int(m)) for m in factors])
    noise = _kinds_of_noise(y, factors)
    points = int(np.isfinite(y).sum()) + 1
    freedom = np.array([equivalent_freedom(points, int(m), int(a)) for m, a in zip(factors, noise, strict=True)])
    tail = (1.0 - confidence) / 2.0
    return AllanDeviation(
        averaging_s=np.asarray(factors * spacing_s, dtype=np.float64),
        deviation=deviation,
        lower=deviation * np.sqrt(freedom / chi2.isf(tail, freedom)),
        upper=deviation * np.sqrt(freedom / chi2.ppf(tail, freedom)),
        degrees_of_freedom=freedom,
        noise=noise,
        confidence=confidence,
    )


def equivalent_freedom(points: int, factor: int, noise: int) -> float:
    """Equivalent degrees of freedom of the overlapping variance (NIST SP 1065, Table 5), at least 1.

    ``points`` are the sums of readings, one more than readings; ``noise`` is the exponent, 2 to -2.
    """
    n, m = float(points), float(factor)
    if noise >= 2:
        value = (n + 1) * (n - 2 * m) / (2 * (n - m))
    elif noise == 1:
        value = float(np.exp(np.sqrt(np.log((n - 1) / (2 * m)) * np.log((2 * m + 1) * (n - 1) / 4))))
    elif noise == 0:
        value = (3 * (n - 1) / (2 * m) - 2 * (n - 2) / n) * 4 * m**2 / (4 * m**2 + 5)
    elif noise == -1:
        # Howe, Allan, Barnes (1981); the exponent 2 in the first is missing in some printings: 0.87 for 257 points
        value = 2 * (n - 2) ** 2 / (2.3 * n - 4.9) if m == 1 else 5 * n**2 / (4 * m * (n + 3 * m))
    else:
        value = (n - 2) / m * ((n - 1) ** 2 - 3 * m * (n - 1) + 4 * m**2) / (n - 3) ** 2
    return max(1.0, float(value))


def noise_exponent(reading: npt.ArrayLike) -> int:
    """Exponent of the power law of the readings' spectrum from their lag-1 autocorrelation, 2 to -2."""
    z = np.asarray(reading, dtype=np.float64)
    z = z[np.isfinite(z)]
    for differenced in range(3):
        centred = z - z.mean()
        square = float(centred @ centred)
        r = float(centred[1:] @ centred[:-1]) / square if square > 0.0 else 0.0
        fractal = r / (1.0 + r)
        if fractal < 0.25 or differenced == 2:
            break
        z = np.diff(z)
    return int(np.clip(-round(2.0 * (fractal + differenced)), -2, 2))


def _kinds_of_noise(y: FloatArray, factors: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    found: list[int] = []
    for m in factors:
        count = y.size // int(m)
        if count >= _FEWEST_AVERAGES or not found:
            with np.errstate(invalid="ignore"):
                means = y[: count * m].reshape(count, int(m)).mean(axis=1)
            found.append(noise_exponent(means) if np.isfinite(means).sum() >= FEWEST_SAMPLES else _WHITE)
        else:
            found.append(found[-1])
    return np.array(found, dtype=np.int64)


def _changes(y: FloatArray, m: int) -> FloatArray:
    """Each average over m readings less the one before it, at every start; NaN where a reading is missing."""
    present = np.isfinite(y)
    centred = np.where(present, y - np.nanmean(y), 0.0)
    total = np.concatenate([[0.0], np.cumsum(centred)])
    change = (total[2 * m :] - 2.0 * total[m:-m] + total[: -2 * m]) / m
    if present.all():
        return np.asarray(change)
    gaps = np.concatenate([[0], np.cumsum(~present)])
    return np.where(gaps[2 * m :] == gaps[: -2 * m], change, np.nan)


def _check(y: FloatArray, spacing_s: float, confidence: float) -> None:
    if y.ndim != 1 or int(np.isfinite(y).sum()) < FEWEST_SAMPLES:
        raise BadInput("guard.recording_too_short", samples=int(np.isfinite(y).sum()), needed=FEWEST_SAMPLES)
    if not spacing_s > 0.0:
        raise BadInput("guard.not_positive", name="spacing_s", value=spacing_s)
    if not 0.0 < confidence < 1.0:
        raise BadInput("guard.not_a_share", value=confidence)
