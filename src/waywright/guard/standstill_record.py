"""What one recording at standstill says: scatter, drift, memory of the air, disturbances."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.least_squares import fit
from waywright.guard.allan import FEWEST_SAMPLES, AllanDeviation, allan_deviation, scatter_of_averages

SECONDS_PER_MINUTE = 60.0
_BLOCKS = 10
_FAR = 8.0  # robust standard deviations: not air, a disturbance
_MEDIAN_QUANTILE = 0.6745


@dataclass(frozen=True, slots=True, eq=False)
class Standstill:
    """A recording while nothing moves: ``reading_um`` (n,) evenly spaced by ``spacing_s``, NaN where the beam was lost.

    ``distance_m`` is how far the detector stood from the source.
    """

    distance_m: float
    spacing_s: float
    reading_um: npt.ArrayLike

    @property
    def duration_s(self) -> float:
        """How long was recorded."""
        return float(np.asarray(self.reading_um).size * self.spacing_s)


@dataclass(frozen=True, slots=True, eq=False)
class StandstillFigures:
    """``scatter_um`` about the drift line (one sample), drift with its standard error, memory of the air.

    An average over t seconds scatters by scatter_um * sqrt(2 correlation_s / t). ``disturbed_samples`` were lost or
    more than eight standard deviations away, and are left out of everything here. ``averages_um`` (k,) is the scatter
    of averages over the times of ``allan`` about the drift line.
    """

    distance_m: float
    duration_s: float
    scatter_um: float
    drift_um_per_min: float
    drift_error_um_per_min: float
    correlation_s: float
    disturbed_samples: int
    samples: int
    allan: AllanDeviation
    averages_um: FloatArray

    def shortest_s(self, wished_um: float) -> float | None:
        """Shortest averaging time for which both the upper limit of the Allan deviation and the scatter of averages
        about the drift line are at most ``wished_um``; None where no time of the recording does.
        """
        reached = np.flatnonzero((self.allan.upper <= wished_um) & (self.averages_um <= wished_um))
        return float(self.allan.averaging_s[reached[0]]) if reached.size else None


def standstill_figures(record: Standstill) -> StandstillFigures:
    """Everything that one recording says. Raises BadInput for fewer than 16 samples, or a spacing not above zero."""
    y = np.array(record.reading_um, dtype=np.float64)
    if y.ndim != 1 or y.size < FEWEST_SAMPLES:
        raise BadInput("guard.recording_too_short", samples=y.size, needed=FEWEST_SAMPLES)
    if not record.spacing_s > 0.0:
        raise BadInput("guard.not_positive", name="spacing_s", value=record.spacing_s)
    y[disturbed(y)] = np.nan
    allan = allan_deviation(y, record.spacing_s)
    seen = np.isfinite(y)
    minutes = np.arange(y.size, dtype=np.float64) * (record.spacing_s / SECONDS_PER_MINUTE)
    line = fit(np.column_stack([np.ones(int(seen.sum())), minutes[seen]]), y[seen])
    rest = np.full(y.size, np.nan)
    rest[seen] = line.residual
    correlation_s = correlation_time_s(rest, record.spacing_s)
    return StandstillFigures(
        distance_m=record.distance_m,
        duration_s=record.duration_s,
        scatter_um=float(np.nanstd(rest, ddof=2)),
        drift_um_per_min=float(line.coefficient[1]),
        drift_error_um_per_min=_drift_error(y, rest, minutes, float(line.standard_error[1]), correlation_s, record),
        correlation_s=correlation_s,
        disturbed_samples=int((~seen).sum()),
        samples=y.size,
        allan=allan,
        averages_um=np.array([scatter_of_averages(rest, int(m)) for m in _factors(allan, record)]),
    )


def _factors(allan: AllanDeviation, record: Standstill) -> FloatArray:
    return np.asarray(np.rint(allan.averaging_s / record.spacing_s))


def disturbed(reading: FloatArray) -> npt.NDArray[np.bool_]:
    """Samples (n,) that are lost, or farther than eight robust standard deviations from the median about them.

    The medians are taken in ten blocks, so that drift is not taken for a disturbance.
    """
    far = ~np.isfinite(reading)
    for rows in np.array_split(np.arange(reading.size), _BLOCKS):
        block = reading[rows]
        good = block[np.isfinite(block)]
        if good.size:
            distance = np.abs(block - np.median(good))
            spread = np.median(np.abs(good - np.median(good))) / _MEDIAN_QUANTILE
            far[rows] |= distance > _FAR * max(float(spread), _half_step(good))
    return far


def correlation_time_s(reading: npt.ArrayLike, spacing_s: float) -> float:
    """Integrated correlation time, spacing * (1/2 + sum of autocorrelations): spacing / 2 for independent readings.

    The sum goes on while the sums of neighbouring pairs stay positive (initial positive sequence: C. J. Geyer,
    Practical Markov chain Monte Carlo, Statistical Science 7 (1992) 473, 3.3), so that a short noise on top of a weak
    long memory does not end it.
    NaN readings count as the mean. Trends must be taken off before.
    """
    y = np.asarray(reading, dtype=np.float64)
    centred = np.where(np.isfinite(y), y - np.nanmean(y), 0.0)
    size = 1 << int(2 * y.size - 1).bit_length()
    power = np.abs(np.fft.rfft(centred, size)) ** 2
    sums = np.fft.irfft(power, size)[: y.size]
    if not sums[0] > 0.0:
        return spacing_s / 2.0
    share = sums / sums[0]
    pairs = share[: y.size - y.size % 2].reshape(-1, 2).sum(axis=1)
    ended = np.flatnonzero(pairs <= 0.0)
    kept = pairs[: int(ended[0])] if ended.size else pairs
    return float(spacing_s * max(0.5, kept.sum() - 0.5))


def _drift_error(
    y: FloatArray, rest: FloatArray, minutes: FloatArray, plain: float, correlation_s: float, record: Standstill
) -> float:
    """Standard error of the drift: the larger of what the memory of the air and the means of ten blocks say."""
    by_memory = plain * np.sqrt(2.0 * correlation_s / record.spacing_s)
    blocks = [rows for rows in np.array_split(np.arange(y.size), _BLOCKS) if np.isfinite(rest[rows]).any()]
    if len(blocks) < 4:
        return float(by_memory)
    means = np.array([np.nanmean(y[rows]) for rows in blocks])
    centres = np.array([minutes[rows].mean() for rows in blocks])
    by_blocks = fit(np.column_stack([np.ones(len(blocks)), centres]), means).standard_error[1]
    return float(max(by_memory, by_blocks))


def _half_step(reading: FloatArray) -> float:
    """Half the resolution of a coarse source: one that rests on a single value is not free of noise."""
    steps = np.abs(np.diff(reading))
    real = steps[steps > 1e-9 * max(1.0, float(np.abs(reading).max()))]
    return 0.5 * float(real.min()) if real.size else 1e-9
