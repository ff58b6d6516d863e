"""Earth curvature against printed figures.

Difference between a level surface and its tangent plane: 0.03 mm at 20 m, 0.20 mm at 50 m, 0.78 mm at 100 m; earth
curvature table in the alignment chapters of two accelerator design reports (SLS; LCLS, chapter 7), read at second hand,
so to half the last printed digit only.
L^2 / 8R is elementary geometry with the IUGG mean radius of 6371 km.
"""

from __future__ import annotations

import numpy as np
import pytest

from waywright.evaluate.angles import without_earth_curvature


@pytest.mark.parametrize(("length_m", "printed_mm"), [(20, 0.03), (50, 0.20), (100, 0.78)])
def test_level_surface_and_tangent_plane(length_m: float, printed_mm: float) -> None:
    fall_um = -without_earth_curvature([0.0, length_m * 1000.0], [0.0, 0.0])[1]
    assert fall_um / 1000 == pytest.approx(printed_mm, abs=0.005 + 1e-9)


def test_a_symmetric_line_falls_the_same_both_ways() -> None:
    x = np.linspace(0, 20_000, 5)
    there, back = without_earth_curvature(x, x * 0), without_earth_curvature(x[::-1], x * 0)
    assert there == pytest.approx(back)
