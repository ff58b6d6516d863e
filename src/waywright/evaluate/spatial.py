"""Straightness in space: the smallest cylinder that holds the two-plane profile (ISO 1101, cylindrical zone).

With slopes of um/m the distance of a point from the axis is, to parts in 1e10, the length of its two deviations. The
smallest radius is then a convex problem with one cone for each station, solved by a primal-dual interior-point
method (Boyd and Vandenberghe, Convex Optimization, 11.7) to some ten digits.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import fit
from waywright.evaluate.results import ReferenceLine

_GAP = 1e-13
_ROUNDS = 120


@dataclass(frozen=True, slots=True, eq=False)
class SpatialStraightness:
    """Diameter of the smallest cylinder and its axis, floats or (draws,)."""

    diameter_um: PerDraw
    horizontal: ReferenceLine
    vertical: ReferenceLine
    stations: int


def spatial_straightness(
    position_mm: npt.ArrayLike, horizontal_um: npt.ArrayLike, vertical_um: npt.ArrayLike
) -> SpatialStraightness:
    """Smallest cylinder around deviations in two planes at right angles, each (n,) or (n, draws), at the same stations.

    Equals the minimum-zone straightness where one plane is straight. Raises BadInput like ``straightness``.
    """
    x = positions(position_mm)
    h = values(horizontal_um, x, name="horizontal")
    v = values(vertical_um, x, name="vertical")
    h, v = np.broadcast_arrays(h, v) if h.ndim == v.ndim else _same_draws(h, v)
    middle, half = float(x.min() / 2 + x.max() / 2), float(np.ptp(x)) / 2
    u = (x - middle) / half
    if h.ndim == 1:
        radius, axis = _smallest(u, h, v)
        solutions = np.array([radius, *axis.ravel()])
    else:
        found = [_smallest(u, h[:, k], v[:, k]) for k in range(h.shape[1])]
        solutions = np.stack([np.array([radius, *axis.ravel()]) for radius, axis in found], axis=1)
    radius_um, level_h, level_v, rise_h, rise_v = solutions.tolist() if h.ndim == 1 else solutions
    lines = [
        ReferenceLine(level - rise * (middle / half), rise / half * 1000.0)
        for level, rise in ((level_h, rise_h), (level_v, rise_v))
    ]
    return SpatialStraightness(2.0 * radius_um, lines[0], lines[1], x.size)


def _same_draws(h: FloatArray, v: FloatArray) -> tuple[FloatArray, ...]:
    return tuple(np.broadcast_arrays(h if h.ndim == 2 else h[:, None], v if v.ndim == 2 else v[:, None]))


def _smallest(u: FloatArray, h: FloatArray, v: FloatArray) -> tuple[float, FloatArray]:
    """Radius, and the axis as [[level h, level v], [rise h, rise v]] at u = 0 and per unit of u."""
    basis = np.column_stack([np.ones_like(u), u])
    measured = np.column_stack([h, v])
    start = fit(basis, measured).coefficient
    off = measured - basis @ start
    size = float(np.sqrt((off**2).sum(axis=1).max()))
    if size <= 1e-13 * float(np.abs(measured).max() + 1e-300):
        return size, start
    working = np.unique([*np.argsort((off**2).sum(axis=1))[-8:], u.argmin(), u.argmax()])
    axis = np.zeros((2, 2))
    for _ in range(u.size):
        axis = _interior_point(basis[working], off[working] / size)
        squared = ((off / size - basis @ axis) ** 2).sum(axis=1)
        worst = int(squared.argmax())
        if worst in working or squared[worst] <= squared[working].max() * (1.0 + 1e-12):
            break
        working = np.append(working, worst)
    return size * float(np.sqrt(squared.max())), start + axis * size


def _interior_point(basis: FloatArray, point: FloatArray) -> FloatArray:
    """Axis c (2, 2) that makes t least with |point - basis c|^2 <= t for every row."""
    axis = np.zeros((2, 2))
    off = point - basis @ axis
    t = 1.5 * float((off**2).sum(axis=1).max())
    slack = t - (off**2).sum(axis=1)
    weight = 1.0 / (slack * (1.0 / slack).sum())
    for _ in range(_ROUNDS):
        gap = float(weight @ slack)
        if gap <= _GAP * t:
            break
        towards = 0.1 * gap / len(basis)
        step, t_step, weight_step = _newton(basis, off, slack, weight, towards)
        share = _longest(basis, off, slack, weight, (step, t_step, weight_step))
        axis, t, weight = axis + share * step, t + share * t_step, weight + share * weight_step
        off = point - basis @ axis
        slack = t - (off**2).sum(axis=1)
    return axis


def _newton(
    basis: FloatArray, off: FloatArray, slack: FloatArray, weight: FloatArray, towards: float
) -> tuple[FloatArray, float, FloatArray]:
    """Newton step of the relaxed optimality conditions: weight_i slack_i = towards, gradients in balance."""
    rows = len(basis)
    # gradient of |off|^2 - t over (level h, level v, rise h, rise v, t)
    gradient = np.column_stack([(-2.0 * basis[:, :, None] * off[:, None, :]).reshape(rows, 4), -np.ones(rows)])
    curve = np.zeros((5, 5))
    curve[:4, :4] = np.kron(2.0 * (basis.T * weight) @ basis, np.eye(2))
    matrix = curve + (gradient.T * (weight / slack)) @ gradient
    target = np.array([0.0, 0.0, 0.0, 0.0, 1.0])
    right = -(target + gradient.T @ (towards / slack))
    move = np.linalg.lstsq(matrix, right, rcond=None)[0]
    weight_step = towards / slack - weight + weight / slack * (gradient @ move)
    axis_step: FloatArray = np.asarray(move[:4], dtype=np.float64).reshape(2, 2)
    return axis_step, float(move[4]), weight_step


def _longest(
    basis: FloatArray,
    off: FloatArray,
    slack: FloatArray,
    weight: FloatArray,
    step: tuple[FloatArray, float, FloatArray],
) -> float:
    """The longest share of a step that keeps all weights and slacks positive."""
    axis_step, t_step, weight_step = step
    falling = weight_step < 0.0
    share = min(1.0, float((-0.99 * weight[falling] / weight_step[falling]).min(initial=1.0)))
    moved = basis @ axis_step
    for _ in range(60):
        left = slack + share * t_step + 2.0 * share * (off * moved).sum(axis=1) - share**2 * (moved**2).sum(axis=1)
        if (left > 0.005 * slack).all():
            break
        share *= 0.7
    return share
