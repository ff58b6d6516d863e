"""Heights of a surface from slopes measured along lines that cross: least-squares adjustment with closures.

Every line is stepped with a bridge of known base, so that each tilt is a height difference of two points. Lines meet
in common points; there are more differences than heights, and the lines do not close. The adjustment spreads the
misclosures by least squares; what each line missed by is shown.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw
from waywright.evaluate.least_squares import fit

_SAME_POINT = 0.05  # of the base: nodes of two lines closer than this are one point


@dataclass(frozen=True, slots=True, eq=False)
class SlopeLine:
    """Tilts (steps,) or (steps, draws) in um/m along a line from ``start_mm`` (x, y) towards ``towards_mm`` (x, y).

    A tilt is positive when the surface rises in the direction of the line. ``base_mm`` is the bridge's base on
    this line where it differs from that of the others (on a diagonal).
    """

    start_mm: tuple[float, float]
    towards_mm: tuple[float, float]
    tilt_um_per_m: npt.ArrayLike
    base_mm: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class NetworkHeights:
    """Adjusted heights (points,) or (points, draws) at ``x_mm``, ``y_mm``, with their standard errors.

    ``closure_um`` (lines,) or (lines, draws): measured rise of each whole line minus its adjusted rise.
    ``residual_sd_um`` is the standard deviation of one height step as the closures show it (NaN without any check).
    """

    x_mm: FloatArray
    y_mm: FloatArray
    height_um: FloatArray
    standard_error_um: FloatArray
    closure_um: FloatArray
    residual_sd_um: PerDraw
    degrees_of_freedom: int


def heights_from_network(lines: Sequence[SlopeLine], base_mm: float, own_zero: bool = False) -> NetworkHeights:
    """Heights from slope lines that cross.

    With ``own_zero`` False the tilts of all lines have one zero (a level): the first point has height 0. With True
    each line has its own (an autocollimator set up anew for each): heights are 0 at three corners, since the general
    tilt of the surface is then unknown. Raises BadInput for no lines, a base or direction that is not usable, NaN,
    different numbers of draws, or lines that do not hang together.
    """
    if not lines:
        raise BadInput("evaluate.network_empty")
    rises = [_rise(line, number, base_mm) for number, line in enumerate(lines, 1)]
    points, chains = _points(
        [_nodes(line, len(rise), base_mm) for line, rise in zip(lines, rises, strict=True)], base_mm
    )
    _check_joined(chains, len(points))
    held = _corners(points) if own_zero else [0]
    design = _design(chains, lines, len(points), base_mm, own_zero)
    free = [k for k in range(design.shape[1]) if k not in held]
    adjusted = fit(design[:, free], np.concatenate(rises))
    height = np.zeros((len(points), *adjusted.coefficient.shape[1:]))
    error = np.zeros_like(height)
    unheld = [k for k in free if k < len(points)]
    height[unheld], error[unheld] = adjusted.coefficient[: len(unheld)], adjusted.standard_error[: len(unheld)]
    starts = np.cumsum([0, *(len(rise) for rise in rises[:-1])])
    closure = np.add.reduceat(adjusted.residual, starts, axis=0)
    x, y = points[:, 0], points[:, 1]
    return NetworkHeights(x, y, height, error, closure, adjusted.residual_sd, adjusted.degrees_of_freedom)


def _base(line: SlopeLine, base_mm: float) -> float:
    return base_mm if line.base_mm is None else line.base_mm


def _rise(line: SlopeLine, number: int, base_mm: float) -> FloatArray:
    """Height steps of a line in um, checked."""
    tilt, base = np.asarray(line.tilt_um_per_m, dtype=np.float64), _base(line, base_mm)
    if not 0.0 < base < math.inf:
        raise BadInput("evaluate.network_base", line=number, base_mm=base)
    if tilt.ndim not in (1, 2) or tilt.shape[0] == 0:
        raise BadInput("evaluate.values_shape", name="tilt", shape=tilt.shape)
    if not np.isfinite(tilt).all():
        raise BadInput("evaluate.network_tilt", line=number, step=int(np.argwhere(~np.isfinite(tilt))[0][0]) + 1)
    if line.start_mm == line.towards_mm:
        raise BadInput("evaluate.network_direction", line=number)
    return tilt * (base / 1000.0)


def _nodes(line: SlopeLine, steps: int, base_mm: float) -> FloatArray:
    start, towards = np.array(line.start_mm), np.array(line.towards_mm)
    along = (towards - start) / np.linalg.norm(towards - start)
    nodes: FloatArray = start + np.multiply.outer(np.arange(steps + 1) * _base(line, base_mm), along)
    return nodes


def _points(nodes: list[FloatArray], base_mm: float) -> tuple[FloatArray, list[list[int]]]:
    """All different points, and each line as indices into them."""
    points: list[FloatArray] = []
    chains = []
    for line in nodes:
        chain = []
        for node in line:
            away = np.linalg.norm(np.array(points) - node, axis=1) if points else np.array([math.inf])
            nearest = int(away.argmin())
            if away[nearest] > _SAME_POINT * base_mm:
                nearest = len(points)
                points.append(node)
            chain.append(nearest)
        chains.append(chain)
    return np.array(points), chains


def _check_joined(chains: list[list[int]], points: int) -> None:
    group = list(range(points))
    for _ in chains:  # as many sweeps as there are lines join any chain of lines
        for chain in chains:
            lowest = min(group[node] for node in chain)
            for node in chain:
                group[node] = lowest
    for number, chain in enumerate(chains, 1):
        if group[chain[0]] != group[chains[0][0]]:
            raise BadInput("evaluate.network_not_joined", line=number)


def _design(
    chains: list[list[int]], lines: Sequence[SlopeLine], points: int, base_mm: float, own_zero: bool
) -> FloatArray:
    """One row a step: +1 at its far point, -1 at its near point, and its length in m for the zero of its line."""
    rows = sum(len(chain) - 1 for chain in chains)
    design = np.zeros((rows, points + (len(chains) if own_zero else 0)))
    row = 0
    for k, chain in enumerate(chains):
        for near, far in pairwise(chain):
            design[row, near], design[row, far] = -1.0, 1.0
            if own_zero:
                design[row, points + k] = _base(lines[k], base_mm) / 1000.0
            row += 1
    return design


def _corners(points: FloatArray) -> list[int]:
    """Three points that span the surface: the first, the one furthest from it, the one furthest from their line."""
    away = points - points[0]
    far = int(np.linalg.norm(away, axis=1).argmax())
    off = np.abs(away[:, 0] * away[far, 1] - away[:, 1] * away[far, 0])
    return [0, far, int(off.argmax())]
