"""What noise alone makes of a perfectly straight axis: the noise floor of a straightness value.

Largest minus smallest deviation is never negative, so reading noise does not average out in it: a perfect axis
read with noise of one micrometre shows some micrometres. The floor is simulated at the actual stations.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.compiled import kernel
from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions
from waywright.evaluate.minimum_zone import width_by_cuts
from waywright.uncertainty.draws import BLOCK, in_blocks, normal, stream_start

_KINDS = {"end-points": 0, "least-squares": 1, "minimum-zone": 2}


@dataclass(frozen=True, slots=True)
class NoiseFloor:
    """Straightness values that reading noise alone produces, in um.

    ``upper_95_um``: 95 % of perfect axes show less. ``sd_um`` is the spread of the value from one measurement to the
    next.
    """

    reference: str
    stations: int
    sigma_um: float
    mean_um: float
    sd_um: float
    upper_95_um: float
    draws: int
    seed: int


@kernel("float64(vector, vector, int64)")
def _range_about(x: FloatArray, y: FloatArray, kind: int) -> float:
    """Largest minus smallest deviation from the end points' line (0) or the least-squares line (1); x centred."""
    n = x.size
    if kind == 0:
        slope = (y[n - 1] - y[0]) / (x[n - 1] - x[0])
    else:
        above = below = 0.0
        for i in range(n):
            above += x[i] * y[i]
            below += x[i] * x[i]
        slope = above / below
    high = low = y[0] - slope * x[0]
    for i in range(1, n):
        deviation = y[i] - slope * x[i]
        high = max(high, deviation)
        low = min(low, deviation)
    return float(high - low)


@kernel("void(vector, int64, uint64, int64, float64[::1])")
def _noise_values(x: FloatArray, kind: int, start: np.uint64, first: int, out: FloatArray) -> None:
    """Values of profiles of standard normal noise; profile k takes the draws k n to k n + n - 1 of the stream."""
    n = x.size
    y = np.empty(n)
    for k in range(out.size):
        begin = (first + k) * n
        for i in range(n):
            y[i] = normal(start, np.uint64(begin + i))
        if kind == 2:
            out[k] = width_by_cuts(x, y)
        else:
            out[k] = _range_about(x, y, kind)


def noise_values(
    position_mm: npt.ArrayLike, reference: str, draws: int, seed: int, threads: int | None = None
) -> FloatArray:
    """Straightness values of ``draws`` profiles of standard normal noise, shape (draws,), in units of the noise.

    ``position_mm`` (n,), n >= 3, increasing. The same seed gives the same bits for any number of threads.
    """
    x = positions(position_mm)
    if reference not in _KINDS:
        raise BadInput("evaluate.unknown_reference", reference=reference, known=", ".join(_KINDS))
    if not (x[1:] > x[:-1]).all():
        station = int(np.flatnonzero(x[1:] <= x[:-1])[0]) + 1
        raise BadInput("evaluate.not_increasing", station=station + 1, position_mm=float(x[station]))
    if draws < 1:
        raise BadInput("uncertainty.too_few_draws", draws=draws, needed=1)
    centred = x - x.mean()
    out, start, kind = np.empty(draws), stream_start(seed), _KINDS[reference]
    run = _noise_values.choose(draws * x.size)
    block = max(1, BLOCK // x.size)
    in_blocks(draws, block, threads, lambda a, b: run(centred, kind, start, a, out[a:b]))
    return out


def noise_floor_um(
    position_mm: npt.ArrayLike,
    sigma_um: float,
    reference: str = "least-squares",
    draws: int = 20_000,
    seed: int = 1,
    threads: int | None = None,
) -> NoiseFloor:
    """The straightness value of a perfect axis read with noise of standard deviation ``sigma_um`` at each station.

    ``position_mm`` (n,) increasing; ``reference`` one of "end-points", "least-squares", "minimum-zone".
    Raises BadInput for an unknown reference, a noise that is not positive or fewer than three stations.
    """
    if not 0.0 < sigma_um < np.inf:
        raise BadInput("uncertainty.sigma_not_positive", sigma_um=sigma_um)
    value = noise_values(position_mm, reference, draws, seed, threads) * sigma_um
    return NoiseFloor(
        reference=reference,
        stations=int(np.size(position_mm)),
        sigma_um=float(sigma_um),
        mean_um=float(value.mean()),
        sd_um=float(value.std(ddof=1)) if draws > 1 else 0.0,
        upper_95_um=float(np.quantile(value, 0.95)),
        draws=draws,
        seed=seed,
    )
