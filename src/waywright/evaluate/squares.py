"""Three squares compared with each other, pair by pair on one plate: each one's own error, without a master.

Two squares stand face to face; the gap between their faces is read along the height. It opens or closes by the sum of
both errors, so three pairs give three sums of three unknowns. The plate and the errors of the faces do not come in as
long as the slope is that of the reference line of each face.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw
from waywright.evaluate.links import slope_of_line
from waywright.evaluate.orientation import three_squares

FACES = {"outer": -1.0, "inner": 1.0}
"""Sign of both errors in the slope of the gap: outer faces lean towards each other where the angle is too large."""


@dataclass(frozen=True, slots=True, eq=False)
class ComparedSquares:
    """Errors of three squares in um/m, angle minus 90 degrees, floats or (draws,).

    ``sum_um_per_m``: first and second, second and third, third and first. ``uncertainty_um_per_m``: standard
    uncertainty of one error, the same for all three, from the scatter of the gaps.
    """

    error_um_per_m: tuple[PerDraw, PerDraw, PerDraw]
    sum_um_per_m: tuple[PerDraw, PerDraw, PerDraw]
    uncertainty_um_per_m: float
    faces: str


def compare_squares(
    gaps: Sequence[tuple[npt.ArrayLike, npt.ArrayLike]],
    faces: str = "outer",
    variance_um2: Sequence[float | None] = (None, None, None),
) -> ComparedSquares:
    """Three squares from three gaps: (first, second), (second, third), (third, first).

    Each gap is heights (n,) in mm and gap widths (n,) or (n, draws) in um, wider positive, at least three heights.
    ``faces``: "outer" (blocks and blades back to back, faces towards each other) or "inner". ``variance_um2`` of one
    reading of each gap; None takes the scatter about the line. Raises BadInput for other than three gaps, other faces,
    and like ``straightness``.
    """
    if len(gaps) != 3 or len(variance_um2) != 3:
        raise BadInput("geometry.three_gaps", gaps=len(gaps))
    if faces not in FACES:
        raise BadInput("geometry.which_faces", faces=faces, known=", ".join(FACES))
    slopes = [slope_of_line(x, gap, known) for (x, gap), known in zip(gaps, variance_um2, strict=True)]
    one, two, three = (FACES[faces] * each.value_um_per_m for each in slopes)
    spread: FloatArray = np.array([each.standard_uncertainty_um_per_m for each in slopes])
    return ComparedSquares(
        three_squares(one, two, three), (one, two, three), float(np.linalg.norm(spread)) / 2.0, faces
    )
