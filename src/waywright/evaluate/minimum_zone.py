"""Minimum zone of a profile: the two parallel lines closest together that hold all its points.

Measured along the deviation. Between the upper and the lower convex hull of the points, both functions of
position, the gap is concave; its largest value *is* the width of the minimum zone (the two are dual linear
programmes), and where it stands one hull has a vertex and the other the edge that gives the direction. Points
sorted by position give both hulls in one pass each (Andrew's monotone chain, Information Processing Letters 9
(1979) 216), and a pair of supports rotating from the left finds the place: O(n), exact.

Definition: ISO 1101 and ISO 230-1, minimum zone reference straight line.
"""

from __future__ import annotations

import numpy as np

from waywright.compiled import kernel
from waywright.evaluate.arrays import FloatArray, IntArray

_BLOCK = 256


@kernel("int64(vector, vector, float64, int64[::1], int64)")
def _outline(x: FloatArray, y: FloatArray, side: float, chain: IntArray, count: int) -> int:
    """Keep of the first ``count`` indices in ``chain`` those of the hull's vertices; their number.

    ``side`` +1 is the upper hull, -1 the lower.
    """
    last = 0
    for k in range(1, count):
        i = chain[k]
        if x[i] == x[chain[last]]:  # of several readings at one position the outermost counts
            if side * (y[i] - y[chain[last]]) <= 0.0:
                continue
            last -= 1
        while last > 0:
            a, b = chain[last - 1], chain[last]
            turn = (x[b] - x[a]) * (y[i] - y[a]) - (y[b] - y[a]) * (x[i] - x[a])
            if side * turn < 0.0:
                break
            last -= 1
        last += 1
        chain[last] = i
    return last + 1


@kernel("int64(vector, vector, float64, int64[::1])")
def _rough(x: FloatArray, y: FloatArray, side: float, chain: IntArray) -> int:
    """Hull of the two ends and the outermost point of each block: inside the true one and near it."""
    chain[0], count = 0, 1
    for begin in range(1, x.size - 1, _BLOCK):
        top = begin
        for i in range(begin + 1, min(begin + _BLOCK, x.size - 1)):
            if side * (y[i] - y[top]) > 0.0:
                top = i
        chain[count] = top
        count += 1
    chain[count] = x.size - 1
    return _outline(x, y, side, chain, count + 1)


@kernel("int64(vector, vector, float64, int64[::1])")
def _hull(x: FloatArray, y: FloatArray, side: float, hull: IntArray) -> int:
    """Indices of the hull's vertices from left to right; their number.

    Only points outside the rough hull are candidates. Of noise that leaves few, and they are picked without a branch
    that noise could make unpredictable.
    """
    rough = np.empty(2 + (x.size + _BLOCK) // _BLOCK, np.int64)
    edges = _rough(x, y, side, rough) - 1
    hull[0], count = 0, 1
    for edge in range(edges):
        a, b = rough[edge], rough[edge + 1]
        dx, dy = x[b] - x[a], side * (y[b] - y[a])
        for i in range(a + 1, b):
            hull[count] = i
            count += side * (y[i] - y[a]) * dx >= dy * (x[i] - x[a])
        hull[count] = b
        count += 1
    return _outline(x, y, side, hull, count)


@kernel("UniTuple(float64, 2)(vector, vector, int64[::1], int64[::1])")
def zone(x: FloatArray, y: FloatArray, upper: IntArray, lower: IntArray) -> tuple[float, float]:
    """Direction and width of the minimum zone of points sorted by position (at least two different positions).

    ``upper`` and ``lower`` are room for n indices each.
    """
    last_up = _hull(x, y, 1.0, upper) - 1
    last_low = _hull(x, y, -1.0, lower) - 1
    up, low = 0, 0
    left_of_low = -np.inf
    slope_up = (y[upper[1]] - y[upper[0]]) / (x[upper[1]] - x[upper[0]])
    slope_low = (y[lower[1]] - y[lower[0]]) / (x[lower[1]] - x[lower[0]])
    while slope_up > slope_low:  # the gap still grows to the right
        next_up, next_low = x[upper[up + 1]], x[lower[low + 1]]
        left_of_low = slope_low
        if next_up <= next_low:
            up += 1
            slope_up = -np.inf
            if up < last_up:
                a, b = upper[up], upper[up + 1]
                slope_up = (y[b] - y[a]) / (x[b] - x[a])
        if next_low <= next_up:
            low += 1
            slope_low = np.inf
            if low < last_low:
                a, b = lower[low], lower[low + 1]
                slope_low = (y[b] - y[a]) / (x[b] - x[a])
    # Any direction both supports allow will do where both have a vertex; an edge leaves only its own.
    slope = max(slope_up, left_of_low)
    a, b = upper[up], lower[low]
    return slope, (y[a] - y[b]) - slope * (x[a] - x[b])


@kernel("UniTuple(float64, 3)(vector, vector, float64)")
def zone_and_extremes(x: FloatArray, y: FloatArray, pivot: float) -> tuple[float, float, float]:
    """Direction of the minimum zone, and the largest and smallest of ``y - slope * (x - pivot)``."""
    slope, _ = zone(x, y, np.empty(x.size, np.int64), np.empty(x.size, np.int64))
    high = low = y[0] - (x[0] - pivot) * slope
    for i in range(1, x.size):
        off = y[i] - (x[i] - pivot) * slope
        high = max(high, off)
        low = min(low, off)
    return slope, high, low


@kernel("float64(vector, vector)")
def width_by_cuts(x: FloatArray, y: FloatArray) -> float:
    """Width of the minimum zone alone, for very many short profiles; points sorted by position.

    The spread of the points across a direction is a convex function of the direction, and any pair of points bounds
    it from below by a straight line. Where the two best bounds meet, the spread is measured; unless it agrees
    with the bounds, its outermost pair is the next bound (Kelley 1960; four or five rounds are usual). No branch
    depends on the noise, which makes it faster than the hulls on 30 stations.
    """
    return width_from_pairs(x, y, x.size - 1, 0, 0, x.size - 1)


@kernel("float64(vector, vector, int64, int64, int64, int64)")
def width_from_pairs(x: FloatArray, y: FloatArray, left: int, below_left: int, right: int, below_right: int) -> float:
    """The same beginning with two pairs of points, upper and lower: the upper one further right, and further left.

    Pairs that are outermost for a similar profile save rounds.
    """
    last = x.size - 1
    value = np.inf
    slide_left, slide_right = x[left] - x[below_left], x[right] - x[below_right]
    bound_left, bound_right = y[left] - y[below_left], y[right] - y[below_right]
    for _ in range(64):
        slope = (bound_left - bound_right) / (slide_left - slide_right)
        bound = bound_left - slope * slide_left
        top = y[0] - slope * x[0]
        low, at_top, at_low = top, x[0], x[0]
        for i in range(1, last + 1):
            place = x[i]
            off = y[i] - slope * place
            above, below = off > top, off < low
            top = off if above else top
            at_top = place if above else at_top
            low = off if below else low
            at_low = place if below else at_low
        value = min(value, top - low)
        slide = at_top - at_low
        if slide == 0.0 or value <= bound * (1.0 + 1e-14):
            break
        if slide > 0.0:
            slide_left, bound_left = slide, (top - low) + slide * slope
        else:
            slide_right, bound_right = slide, (top - low) + slide * slope
    return value
