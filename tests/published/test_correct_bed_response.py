"""The beam on its supports against published values.

Each check names its source. Values marked "from memory" were not read in the source itself.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from waywright.correct.response import BedModel, Stiffness, bed_model
from waywright.correct.seen import Stations
from waywright.machine import Bed, Support

GRAVITY = 9.80665
RIGID = 1e9  # N/um: seats so hard that the bed bends only
BENDING = 4.0e7  # N m2


def straightedge(spacing: float, *, length_m: float = 2.0) -> tuple[BedModel, Stiffness, float]:
    """A bar on two supports ``spacing`` (of its length) apart; the model, its stiffness, and q L^4/(EI) in um."""
    half = spacing / 2
    bed = Bed(
        length_m * 1e3,
        tuple(Support(str(i), (0.5 + sign * half) * length_m * 1e3, "middle") for i, sign in enumerate((-1, 1))),
        mass_kg=300.0,
        bending_n_m2=BENDING,
    )
    weight = 300.0 * GRAVITY / length_m
    return bed_model(bed), Stiffness(BENDING, 1.0, np.full(2, RIGID)), weight * length_m**4 / BENDING * 1e6


def heights(spacing: float, places: list[float]) -> list[float]:
    """Heights at places (of the length) over the supports, in q L^4/(EI)."""
    model, stiffness, unit = straightedge(spacing)
    shape = model.rest(stiffness, np.zeros(2)).shape
    at = np.array([*places, 0.5 - spacing / 2]) * model.bed.length_mm
    out = model.height(stiffness, shape, Stations(at, np.zeros(at.size))) / unit
    return [float(value - out[-1]) for value in out[:-1]]


def end_slope(spacing: float) -> float:
    model, stiffness, _ = straightedge(spacing)
    shape = model.rest(stiffness, np.zeros(2)).shape
    return float((model.structure.slope_rows(np.array([0.0])) @ shape)[0])


def shortening(spacing: float) -> float:
    """Integral of the squared slope: how much the neutral axis shortens."""
    model, stiffness, _ = straightedge(spacing)
    shape = model.rest(stiffness, np.zeros(2)).shape
    x = np.linspace(0.0, 2000.0, 4001)
    h = model.height(stiffness, shape, Stations(x, np.zeros(x.size)))
    return float(np.sum(np.diff(h) ** 2))


def crossing(function: object, low: float, high: float) -> float:
    from scipy.optimize import brentq

    return float(brentq(function, low, high, xtol=1e-8))


def test_airy_points_leave_the_end_faces_parallel() -> None:
    # Airy points, s = L/sqrt(3): G. B. Airy, Monthly Notices RAS 6 (1845) 143; read in an engineering note.
    assert crossing(end_slope, 0.5, 0.65) == pytest.approx(1 / math.sqrt(3), abs=1e-5)


def test_bessel_points_shorten_the_neutral_axis_least() -> None:
    # Bessel points 0.5594 L: read in a public encyclopedic page.
    from scipy.optimize import minimize_scalar

    found = minimize_scalar(shortening, bounds=(0.5, 0.62), method="bounded", options={"xatol": 1e-7})
    assert found.x == pytest.approx(0.5594, abs=5e-5)


def test_least_sag_spacing_has_ends_level_with_the_centre() -> None:
    # 0.554 L: read in university lecture slides on straightness.
    def difference(spacing: float) -> float:
        end, centre = heights(spacing, [0.0, 0.5])
        return end - centre

    assert crossing(difference, 0.5, 0.6) == pytest.approx(0.554, abs=5e-4)


def test_spacing_without_sag_at_the_centre() -> None:
    # 0.5228 L: from memory, and own closed form.
    assert crossing(lambda s: heights(s, [0.5])[0], 0.48, 0.56) == pytest.approx(0.5228, abs=5e-5)


@pytest.mark.parametrize(
    ("spacing", "centre", "end"),
    [
        # Overhanging beam, Roark's Formulas for Stress and Strain, table 8.1 by superposition.
        (0.57735, -0.0005163801188734162, 8.309811310704913e-05),
        (0.5594, -0.0003258624388429959, -0.00018281081992632892),
    ],
)
def test_sag_at_centre_and_end(spacing: float, centre: float, end: float) -> None:
    assert heights(spacing, [0.5, 0.0]) == pytest.approx([centre, end], abs=1e-8)


def spans(count: int, *, anchored: bool = True) -> tuple[BedModel, Stiffness]:
    bed = Bed(
        count * 1e3,
        tuple(Support(str(i), i * 1e3, "middle", anchored=anchored) for i in range(count + 1)),
        mass_kg=1000.0,
        bending_n_m2=BENDING,
    )
    return bed_model(bed), Stiffness(BENDING, 1.0, np.full(count + 1, RIGID))


@pytest.mark.parametrize(
    ("count", "reactions"),
    [
        (2, [0.375, 1.25, 0.375]),  # two equal spans, uniform load: public beam tables (AISC/AWC type)
        (3, [0.4, 1.1, 1.1, 0.4]),  # three equal spans: same tables
    ],
)
def test_reactions_of_equal_spans(count: int, reactions: list[float]) -> None:
    model, stiffness = spans(count)
    force = model.rest(stiffness, np.zeros(count + 1)).force_n
    assert force / (1000.0 * GRAVITY / count) == pytest.approx(reactions, abs=1e-5)


@pytest.mark.parametrize(
    ("count", "depth", "place", "tolerance"),
    [
        (1, 0.013020833333333334, 0.5, 1e-7),  # 5/384, textbook
        (2, 0.00541, 0.4215, 1e-5),  # public beam tables (AISC/AWC type)
        (3, 0.0069, 0.446, 5e-5),
    ],
)
def test_largest_deflection_of_equal_spans(count: int, depth: float, place: float, tolerance: float) -> None:
    model, stiffness = spans(count)
    shape = model.rest(stiffness, np.zeros(count + 1)).shape
    x = np.linspace(0.0, 1000.0, 1001)
    h = model.height(stiffness, shape, Stations(x, np.zeros(x.size)))
    unit = 1000.0 * GRAVITY / count / BENDING * 1e6
    assert -h.min() / unit == pytest.approx(depth, abs=tolerance)
    assert x[h.argmin()] / 1e3 == pytest.approx(place, abs=0.004)


@pytest.mark.parametrize(
    ("count", "moved", "reactions"),
    [
        # Three-moment equation (Clapeyron) with support settlement, in EI delta/L^3; own exact rationals.
        (2, 1, [3.0, -6.0, 3.0]),
        (2, 0, [-1.5, 3.0, -1.5]),
        (3, 0, [-1.6, 3.6, -2.4, 0.4]),
        (3, 1, [3.6, -9.6, 8.4, -2.4]),
    ],
)
def test_reactions_to_a_settled_support(count: int, moved: int, reactions: list[float]) -> None:
    model, stiffness = spans(count)
    setting = np.zeros(count + 1)
    setting[moved] = -1.0
    change = model.rest(stiffness, setting).force_n - model.rest(stiffness, np.zeros(count + 1)).force_n
    assert change / (BENDING * 1e-6) == pytest.approx(reactions, abs=2e-5)


def test_lift_off_of_three_spans_with_two_loaded() -> None:
    # Three spans, two adjacent loaded: reactions 0.383, 1.20, 0.450, -0.033 w L (public beam tables, AISC/AWC type).
    # The end pulls down, so a bed that only rests lifts off there: it becomes the two-span case of the same tables.
    model, stiffness = spans(3)
    q = 1000.0
    load = np.zeros(model.structure.dofs)
    for e in (0, 1):
        np.add.at(load, model.structure._bend_dofs(e), -q * np.array([0.5, 1 / 12, 0.5, -1 / 12]))
    springs = model.on_springs(stiffness)
    assert springs.rest(np.zeros(4), load).force_n / q == pytest.approx([0.383, 1.2, 0.45, -0.033], abs=6e-4)
    resting, _ = spans(3, anchored=False)
    free = resting.on_springs(stiffness).rest(np.zeros(4), load)
    assert free.carrying.tolist() == [True, True, True, False]
    assert free.force_n / q == pytest.approx([0.375, 1.25, 0.375, 0.0], abs=1e-5)


def test_closely_spaced_springs_are_a_rail_on_an_elastic_foundation() -> None:
    # Boresi and Schmidt, Advanced Mechanics of Materials, example 10.1: E = 200 GPa, I = 36.9e6 mm4, k = 14 N/mm2,
    # wheel of 170 kN: y = 5.04 mm, M = 51.21 kN m; three wheels 1.7 m apart: y = 7.86 mm (worked solution text).
    pitch, length = 0.05, 40.0
    places = np.arange(0.0, length + pitch / 2, pitch)
    bed = Bed(
        length * 1e3, tuple(Support(str(i), float(p) * 1e3, "middle", anchored=True) for i, p in enumerate(places))
    )
    model = bed_model(bed)
    stiffness = Stiffness(200e9 * 36.9e-6, 1.0, np.full(places.size, 14e6 * pitch * 1e-6))

    def sunk(wheels: list[float]) -> float:
        load = -170e3 * model.structure.height_rows(np.array(wheels)).sum(axis=0)
        shape = model.on_springs(stiffness).rest(np.zeros(places.size), load).shape
        return float(-(model.structure.height_rows(np.array([20.0])) @ shape)[0]) * 1e-3

    assert sunk([20.0]) == pytest.approx(5.04, abs=0.005)
    assert sunk([18.3, 20.0, 21.7]) == pytest.approx(7.86, abs=0.005)
