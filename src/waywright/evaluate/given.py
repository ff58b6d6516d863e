"""Straightness against a curve that is wanted, and whether the choice of the reference line matters.

A way that is ground convex, or a compensation that is to be followed, has a target other than a straight line: what
counts is the largest minus the smallest difference from it. For the other lines the value differs from line to line;
where it differs by more than a stated share, or lies on both sides of a limit, that is said.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import PerDraw, positions, values
from waywright.evaluate.passes import Between
from waywright.evaluate.results import Reason, ReferenceLine, Straightness
from waywright.evaluate.straightness import straightness

TARGET = "target"
FLIP_SHARE = 0.15
_OUTSIDE = 1e-9  # of the length of the curve: closer than this to its end is its end


@dataclass(frozen=True, slots=True, eq=False)
class ReferenceFlip:
    """Whether the value depends on the reference line by more than ``share`` of the smallest value.

    ``smallest`` and ``largest`` name the lines of those values (for many draws: of the mean of the draws);
    ``difference_share`` is (largest - smallest) / smallest, a float or (draws,). ``crosses_limit`` says whether
    ``limit_um`` lies between them, None without a limit. ``reason`` is None where the choice does not matter.
    """

    smallest: str
    smallest_um: PerDraw
    largest: str
    largest_um: PerDraw
    difference_share: PerDraw
    share: float
    limit_um: float | None
    crosses_limit: PerDraw | None
    reason: Reason | None


def straightness_to_target(
    position_mm: npt.ArrayLike,
    deviation_um: npt.ArrayLike,
    target_mm: npt.ArrayLike,
    target_um: npt.ArrayLike,
) -> Straightness:
    """Deviations from a target curve, joined by straight lines between its points (``target_mm``, ``target_um``).

    ``deviation_um`` (n,) or (n, draws). The value is largest minus smallest; the height of the curve does not matter,
    its slope does. Raises BadInput like ``straightness``, and where the curve does not reach over all stations.
    """
    x = positions(position_mm)
    y = values(deviation_um, x)
    at = positions(target_mm, fewest=2)
    curve = values(target_um, at, name="target")
    order = np.argsort(at, kind="stable")
    at, curve = at[order], curve[order]
    repeated = np.flatnonzero(np.diff(at) == 0.0)
    if repeated.size:
        raise BadInput("evaluate.position_repeated", position_mm=float(at[repeated[0]]))
    slack = _OUTSIDE * float(at[-1] - at[0])
    beyond = np.flatnonzero((x < at[0] - slack) | (x > at[-1] + slack))
    if beyond.size:
        facts = {"from_mm": float(at[0]), "to_mm": float(at[-1]), "position_mm": float(x[beyond[0]])}
        raise BadInput("angles.target_too_short", **facts)
    wanted = Between.of(x, at).linear(curve).reshape(-1, *[1] * (y.ndim - 1))
    return replace(straightness(x, y - wanted, line=ReferenceLine(0.0, 0.0)), reference=TARGET)


def reference_flip(
    by_reference: Mapping[str, Straightness], *, share: float = FLIP_SHARE, limit_um: float | None = None
) -> ReferenceFlip:
    """Compare one profile's values about several lines.

    The lines disagree where the largest value exceeds the smallest by more than ``share``, or where ``limit_um`` lies
    between the two, whatever the share. Raises BadInput for fewer than two lines.
    """
    if len(by_reference) < 2:
        raise BadInput("angles.one_reference", lines=", ".join(by_reference) or "-")
    ranked = sorted(by_reference.items(), key=lambda item: float(np.mean(item[1].value_um)))
    (low, first), (high, last) = ranked[0], ranked[-1]
    every = np.stack([np.asarray(found.value_um) for found in by_reference.values()])
    smallest, largest = every.min(axis=0), every.max(axis=0)
    floor = np.maximum(smallest, 1e-9)  # below a femtometre nothing differs
    difference = (largest - smallest) / floor
    crosses = None if limit_um is None else ((smallest <= limit_um) & (largest > limit_um))[()]
    facts = {
        "smallest": low, "largest": high, "smallest_um": float(np.mean(first.value_um)),
        "largest_um": float(np.mean(last.value_um)), "share": float(np.mean(difference)), "limit_um": limit_um,
    }  # fmt: skip
    reason = None
    if crosses is not None and bool(np.any(crosses)):
        reason = Reason("angles.line_decides", facts)
    elif bool(np.mean(difference) > share):
        reason = Reason("angles.lines_differ", facts)
    return ReferenceFlip(low, smallest[()], high, largest[()], difference[()], share, limit_um, crosses, reason)
