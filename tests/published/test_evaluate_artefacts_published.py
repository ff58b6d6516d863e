"""Sag, vial radius, gauge faces, a plate's grade against printed figures; each source beside its check."""

import numpy as np
import pytest

from waywright.evaluate import (
    cantilever_sag_um,
    parallelism_by_fringes_um,
    plate_limit_um,
    round_bar,
    straightedge_sag_um,
    supports_at,
    vial_radius_m,
)
from waywright.evaluate.gravity import AIRY, BESSEL, LEAST_SAG, STEEL, Material, rectangle

L = 1000.0
UNIT = 1.0 / L**4 / 1000.0  # q / EI that makes q L^4 / EI one millimetre; results in um are then in q L^4 / EI


def sag(share: float, *places: float) -> list[float]:
    """At places as shares of the length, for a spacing as a share of it, in q L^4 / (E I), up positive."""
    found = straightedge_sag_um(np.array(places) * L, L, supports_at(L, share), UNIT)
    return [float(one) for one in found]


def test_airy_points_have_parallel_end_faces() -> None:
    """s = L / sqrt 3 (engineering note on Airy points: 0.57735)."""
    assert pytest.approx(0.57735, abs=1e-5) == AIRY
    first, second = sag(AIRY, 0.0, 1e-4)
    assert (second - first) / 1e-4 == pytest.approx(0.0, abs=1e-9)
    first, second = sag(0.55, 0.0, 1e-4)
    assert abs(second - first) / 1e-4 > 1e-4


@pytest.mark.parametrize(
    ("share", "centre", "end"),
    [
        (0.577350, -0.0005163801188734162, 8.309811310704913e-05),
        (0.559400, -0.0003258624388429959, -0.00018281081992632892),
    ],
)
def test_centre_and_end_on_airy_and_bessel_points(share: float, centre: float, end: float) -> None:
    """Overhanging beam by superposition, Roark's Formulas for Stress and Strain, Table 8.1; in q L^4 / (E I)."""
    assert sag(share, 0.5, 0.0, 1.0) == pytest.approx([centre, end, end], abs=1e-8)


def test_least_sag_has_the_ends_level_with_the_centre() -> None:
    """0.554 L (university lecture slides on straightness)."""
    assert pytest.approx(0.554, abs=0.0005) == LEAST_SAG
    centre, end = sag(LEAST_SAG, 0.5, 0.0)
    assert centre == pytest.approx(end, abs=1e-12)
    places = np.linspace(0, 1, 401)
    height = {share: np.ptp(sag(share, *places)) for share in (LEAST_SAG - 0.002, LEAST_SAG, LEAST_SAG + 0.002)}
    assert min(height, key=lambda share: height[share]) == LEAST_SAG


def test_bessel_points_shorten_the_neutral_axis_least() -> None:
    """0.5594 L (public encyclopedic page): the integral of half the squared slope is least there."""
    assert pytest.approx(0.5594, abs=5e-5) == BESSEL
    places = np.linspace(0, 1, 4001)
    shares = (BESSEL - 0.002, BESSEL, BESSEL + 0.002)
    shorter = {share: float(np.mean(np.gradient(sag(share, *places), places) ** 2)) for share in shares}
    assert min(shorter, key=lambda share: shorter[share]) == BESSEL


def test_no_sag_at_the_centre() -> None:
    """0.5228 L: centre level with the supports (from memory)."""
    assert sag(0.5228, 0.5)[0] == pytest.approx(0.0, abs=5e-7)
    assert abs(sag(0.5238, 0.5)[0]) > 3e-6


def test_simple_span_and_cantilever() -> None:
    """5/384 w L^4 / EI and 1/8 w L^4 / EI, W L^3 / 3 EI (textbook)."""
    assert sag(1.0, 0.5)[0] == pytest.approx(-5 / 384, abs=1e-12)
    assert cantilever_sag_um([L], L, UNIT)[0] == pytest.approx(-1 / 8)
    assert (cantilever_sag_um([L], L, UNIT, L) - cantilever_sag_um([L], L, UNIT))[0] == pytest.approx(-1 / 3)


def test_sections() -> None:
    """I = b h^3 / 12 and pi (D^4 - d^4) / 64 (textbook), worked with b, D, d in metres."""
    rho_g, e = 7850.0 * 9.80665, 206e9
    flat = rho_g * 0.03 * 0.05 / (e * 0.03 * 0.05**3 / 12)
    assert rectangle(50.0, STEEL) == pytest.approx(flat * 1e-9)
    tube = rho_g * (0.04**2 - 0.02**2) / 4 / (e * (0.04**4 - 0.02**4) / 64)
    assert round_bar(40.0, STEEL, 20.0) == pytest.approx(tube * 1e-9)
    assert rectangle(50.0, Material(103.0, 7850.0)) == pytest.approx(2 * rectangle(50.0, STEEL))


def test_vial_radius() -> None:
    """10 arcsec a division of 2.5 mm: 51.5 m, multiple-choice question set on engineering metrology (truncated)."""
    assert vial_radius_m(2.5, 10.0) == pytest.approx(51.5, abs=0.1)
    assert vial_radius_m(2.5, 10.0) == pytest.approx(51.566, abs=0.0005)  # recomputed


def test_slip_gauge_parallelism() -> None:
    """10 and, turned by 180 degrees, 14 fringes at 0.5086 um: GATE examination, Production and Industrial, 2011.

    The four options were read (0.2543, 1.172, 0.5086, 0.800 um); that 0.5086 is the keyed one is from memory.
    """
    assert parallelism_by_fringes_um(10, 14, 0.5086) == pytest.approx(0.5086)


def test_a_plate_grade_as_an_example_rule() -> None:
    """40 + D^2 / 25 microinch, D in inch, and 1 + 1.6e-6 D^2 um, D in mm; the coarser grades are twice and four times.

    Federal Specification GGG-P-463c as quoted in a national-laboratory conference paper on large surface plates: an
    example of such a rule. Both printed forms agree within their rounding; the rows are our evaluation of the formula.
    """
    inch_um = 25.4 / 1000
    for length_in, width_in, recomputed_uin in ((18, 12, 58.72), (24, 36, 114.88), (48, 72, 339.52)):
        from_inches = (40 + (length_in**2 + width_in**2) / 25) * inch_um
        assert from_inches / inch_um == pytest.approx(recomputed_uin)
        found = plate_limit_um(length_in * 25.4, width_in * 25.4, 1.0, 1.6)
        assert found == pytest.approx(from_inches, rel=0.02)
    assert plate_limit_um(600, 900, 1.0, 1.6) == pytest.approx(2.872, abs=0.0005)
    assert (40 * inch_um, inch_um / 25 / 0.0254**2) == pytest.approx((1.016, 1.5748), abs=0.0001)
