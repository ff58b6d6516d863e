"""Minimum zone planes of many sets of heights over the same points at once.

The dual of the linear programme (largest half width that four points force) solved by the simplex method, all draws
side by side: four points and their signs are a basis, the point farthest off the plane they give comes in (Stiefel's
exchange, Numerische Mathematik 1 (1959) 1). Points of a grid lie on common lines, where a basis has no inverse;
therefore the places are moved by a billionth first.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray, IntArray

_MOVED = 1e-9
_ENOUGH = 1e-11
_ROUNDS = 200


def minimum_zone_planes(place: FloatArray, off: FloatArray) -> tuple[FloatArray, npt.NDArray[np.bool_]]:
    """Coefficients (3, draws) of the middle planes of ``off`` (n, draws), n >= 4, and which were found (draws,).

    ``place`` (n, 3) are ones and two coordinates of size one. A draw is not found where rounding stops the exchange.
    """
    count, draws = off.shape
    scale = np.ptp(off, axis=0)
    z = off / np.where(scale > 0.0, scale, 1.0)
    moved = place.copy()
    moved[:, 1:] += _MOVED * np.random.default_rng(1).uniform(-1.0, 1.0, (count, 2))
    chosen, sign = _start(moved, draws)
    plane, found = np.zeros((3, draws)), np.zeros(draws, dtype=bool)
    left = np.arange(draws)
    for _ in range(_ROUNDS):
        at, s = chosen[left], sign[left]
        basis = np.concatenate([s[:, :, np.newaxis] * moved[at], np.ones((left.size, 4, 1))], axis=2)
        answer = np.linalg.solve(basis, (s * z[at, left[:, np.newaxis]])[:, :, np.newaxis])[:, :, 0]
        rest = z[:, left] - moved @ answer[:, :3].T
        worst = np.abs(rest).argmax(axis=0)
        far = rest[worst, np.arange(left.size)]
        plane[:, left] = answer[:, :3].T
        done = np.abs(far) <= answer[:, 3] + _ENOUGH
        found[left[done]] = True
        going = ~done
        if not going.any():
            break
        left, entering = left[going], worst[going]
        _exchange(chosen, sign, left, entering, np.sign(far[going]), basis[going], moved)
    return plane * scale, found


def _start(place: FloatArray, draws: int) -> tuple[IntArray, FloatArray]:
    """Four points far apart, with the signs that make them a basis."""
    corners = [int((place[:, 1] * a + place[:, 2] * b).argmax()) for a, b in ((1, 1), (-1, -1), (1, -1), (-1, 1))]
    four = list(dict.fromkeys([*corners, *range(place.shape[0])]))[:4]
    weights = np.linalg.svd(place[four].T)[2][-1]
    return np.tile(np.array(four), (draws, 1)), np.tile(np.where(weights < 0.0, -1.0, 1.0), (draws, 1))


def _exchange(
    chosen: IntArray, sign: FloatArray, left: IntArray, entering: IntArray, side: FloatArray, basis: FloatArray,
    place: FloatArray,
) -> None:  # fmt: skip
    """The entering point takes the place of the one whose weight reaches zero first."""
    column = np.concatenate([side[:, np.newaxis] * place[entering], np.ones((left.size, 1))], axis=1)
    right = np.zeros((left.size, 4, 2))
    right[:, 3, 0], right[:, :, 1] = 1.0, column
    weight, change = np.moveaxis(np.linalg.solve(np.swapaxes(basis, 1, 2), right), 2, 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where(change > 1e-13, weight / change, np.inf)
    out = ratio.argmin(axis=1)
    chosen[left, out], sign[left, out] = entering, side
