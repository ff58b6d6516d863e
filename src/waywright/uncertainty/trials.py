"""Monte Carlo of a profile's straightness in one compiled pass: draws, errors, reference line, value.

The same model as ``monte_carlo`` with the evaluation functions, for the common case that errors are normal and linear
in their draws: each reading has its own scatter, each systematic part a column over the stations and one draw per
trial. Trial k takes its draws from fixed places of the stream, so any number of threads gives the same bits.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from waywright.compiled import kernel
from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, IntArray, positions, values
from waywright.evaluate.minimum_zone import width_from_pairs, zone
from waywright.uncertainty.draws import BLOCK, in_blocks, normal, stream_start
from waywright.uncertainty.profiles import _KINDS, _range_about


@kernel("void(vector, vector, vector, table, int64, Array(int64, 1, 'C', readonly=True), uint64, int64, float64[::1])")
def _trial_values(
    x: FloatArray,
    reading: FloatArray,
    scatter: FloatArray,
    columns: FloatArray,
    kind: int,
    pairs: IntArray,
    start: np.uint64,
    first: int,
    out: FloatArray,
) -> None:
    """Trial k takes draws k (n + m) and on: first the m systematic ones, then one for each station; x centred."""
    n, m = x.size, columns.shape[0]
    y = np.empty(n)
    for k in range(out.size):
        begin = (first + k) * (n + m)
        for i in range(n):
            y[i] = reading[i] + scatter[i] * normal(start, np.uint64(begin + m + i))
        for j in range(m):
            z = normal(start, np.uint64(begin + j))
            for i in range(n):
                y[i] += z * columns[j, i]
        if kind == 2:
            out[k] = width_from_pairs(x, y, pairs[0], pairs[1], pairs[2], pairs[3])
        else:
            out[k] = _range_about(x, y, kind)


def trial_values(
    position_mm: npt.ArrayLike,
    reading: npt.ArrayLike,
    scatter: npt.ArrayLike,
    columns: npt.ArrayLike = (),
    reference: str = "least-squares",
    draws: int = 100_000,
    seed: int = 1,
    threads: int | None = None,
) -> FloatArray:
    """Straightness values (draws,) of readings (n,) disturbed by their errors; all in the readings' unit.

    ``position_mm`` (n,) increasing; ``scatter`` (n,) or one number: standard deviation of each reading; ``columns``
    (m, n): what one standard deviation of each systematic part does to the readings. Raises BadInput for shapes that
    do not fit and an unknown reference.
    """
    x = positions(position_mm)
    y = values(reading, x, name="reading")
    if reference not in _KINDS:
        raise BadInput("evaluate.unknown_reference", reference=reference, known=", ".join(_KINDS))
    if not (x[1:] > x[:-1]).all():
        station = int(np.flatnonzero(x[1:] <= x[:-1])[0]) + 1
        raise BadInput("evaluate.not_increasing", station=station + 1, position_mm=float(x[station]))
    if draws < 1:
        raise BadInput("uncertainty.too_few_draws", draws=draws, needed=1)
    sd = values(np.broadcast_to(np.asarray(scatter, dtype=np.float64), x.shape), x, name="scatter")
    parts = np.array([values(column, x, name="column") for column in np.asarray(columns, dtype=np.float64)])
    parts = parts.reshape(-1, x.size)
    centred = x - x.mean()
    out, start, kind = np.empty(draws), stream_start(seed), _KINDS[reference]
    run, pairs = _trial_values.choose(draws * x.size), _outermost_pairs(centred, y)
    in_blocks(
        draws,
        max(1, BLOCK // x.size),
        threads,
        lambda a, b: run(centred, y, sd, parts, kind, pairs, start, a, out[a:b]),
    )
    return out


def _outermost_pairs(x: FloatArray, y: FloatArray) -> IntArray:
    """The points that touch the minimum zone of the readings, as two pairs (upper, lower); else the two ends."""
    room = np.empty((2, x.size), np.int64)
    slope, width = zone(x, y, room[0], room[1])
    off = y - slope * x
    near = 1e-9 * width
    upper, lower = np.flatnonzero(off >= off.max() - near), np.flatnonzero(off <= off.min() + near)
    pairs = np.array([upper[-1], lower[0], upper[0], lower[-1]])
    if width > 0.0 and x[pairs[0]] > x[pairs[1]] and x[pairs[2]] < x[pairs[3]]:
        return pairs
    return np.array([x.size - 1, 0, 0, x.size - 1])
