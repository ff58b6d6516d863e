"""The bed on its supports against a general structural library (Pynite) on random beds."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.correct.response import GRAVITY_M_PER_S2, Stiffness, bed_model
from waywright.correct.seen import Stations
from waywright.machine import Bed, Joint, Support

pynite = pytest.importorskip("Pynite")

HARD = 1e3  # how much stiffer the arms of the library's model are than the bed


def random_bed(seed: int, *, rows: int, anchored: bool) -> tuple[Bed, Stiffness, np.ndarray]:
    rng = np.random.default_rng(seed)
    length = rng.uniform(3e3, 9e3)
    per_row = int(rng.integers(4, 8))
    along = np.linspace(0.03, 0.97, per_row) * length + rng.uniform(-0.02, 0.02, per_row) * length
    names = ("front", "rear") if rows == 2 else ("middle",)
    supports = tuple(
        Support(f"{row}{i}", float(x), row, anchored=anchored) for row in names for i, x in enumerate(along)
    )
    pitch = length / per_row * 1e-3
    bending = 10 ** rng.uniform(7, 9)
    seat = 10 ** rng.uniform(-0.5, 1.5) * bending / pitch**3 * 1e-6
    seats = seat * np.exp(rng.normal(0.0, 0.4, len(supports)))
    bed = Bed(length, supports, gauge_mm=600.0, mass_kg=seat * len(supports) * 30.0 / GRAVITY_M_PER_S2)
    stiffness = Stiffness(bending, bending * rng.uniform(0.1, 0.5), seats)
    return bed, stiffness, rng.normal(0.0, 40.0, len(supports))


def by_library(bed: Bed, stiffness: Stiffness, setting_um: np.ndarray, places_m: np.ndarray) -> np.ndarray:
    """Heights in um at places along the centre line; Pynite works in N and m here, deflections scaled to um."""
    model = pynite.FEModel3D()
    scale = 1e-6  # 1 "m" of the library's deflection stands for 1 um, so that its tolerances see figures near one
    model.add_material("iron", 1.0, 1.0, 0.25, 0.0)
    torsion = stiffness.torsion_n_m2 * scale
    bending = stiffness.bending_n_m2 * scale
    model.add_section("bed", bending * 1e3, bending, bending, torsion)
    model.add_section("arm", bending * HARD, bending * HARD, bending * HARD, bending * HARD)
    along = np.unique(np.concatenate(([0.0, bed.length_mm * 1e-3], places_m, [s.bed_mm * 1e-3 for s in bed.supports])))
    for i, x in enumerate(along):
        model.add_node(f"N{i}", float(x), 0.0, 0.0)
    weight = bed.mass_kg * GRAVITY_M_PER_S2 / (bed.length_mm * 1e-3)  # type: ignore[operator]
    for i in range(along.size - 1):
        model.add_member(f"M{i}", f"N{i}", f"N{i + 1}", "iron", "bed")
        model.add_member_dist_load(f"M{i}", "FY", -weight, -weight)
    twisting = len({s.row for s in bed.supports}) > 1
    model.def_support("N0", True, False, True, not twisting, True, False)
    for s, seat, setting in zip(bed.supports, stiffness.seat_n_per_um, setting_um, strict=True):
        over = int(np.abs(along - s.bed_mm * 1e-3).argmin())
        across = bed.support_across_mm(s) * 1e-3
        name = f"N{over}"
        if across:
            name = f"S{s.name}"
            model.add_node(name, float(along[over]), 0.0, float(-across))
            model.add_member(f"A{s.name}", f"N{over}", name, "iron", "arm")
        model.def_support_spring(name, "DY", float(seat), None if s.anchored else "-")
        model.add_node_load(name, "FY", float(seat * setting) if s.anchored else 0.0)
        if not s.anchored:
            assert setting == 0.0
    model.analyze(sparse=False, check_statics=False, max_iter=100)
    at = [int(np.abs(along - x).argmin()) for x in places_m]
    return np.array([model.nodes[f"N{i}"].DY["Combo 1"] for i in at])


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("rows", [1, 2])
def test_anchored_beds_with_supports_turned(seed: int, rows: int) -> None:
    bed, stiffness, setting = random_bed(seed, rows=rows, anchored=True)
    places = np.linspace(0.0, bed.length_mm, 9)
    model = bed_model(bed)
    shape = model.rest(stiffness, setting).shape
    ours = model.height(stiffness, shape, Stations(places, np.zeros(9)))
    theirs = by_library(bed, stiffness, setting, places * 1e-3)
    assert ours == pytest.approx(theirs, abs=2e-3 * np.ptp(theirs))
    assert np.ptp(theirs) > 8.0


@pytest.mark.parametrize("seed", range(6))
def test_resting_beds_that_lift_off_somewhere(seed: int) -> None:
    bed, stiffness, _ = random_bed(seed, rows=1, anchored=False)
    rng = np.random.default_rng(seed)
    # Unequal seats, the left half nearly gone, so the bed tips and lifts off on the right.
    seats = stiffness.seat_n_per_um * np.where(np.arange(len(bed.supports)) * 2 < len(bed.supports), 1e-3, 1.0)
    seats *= np.exp(rng.normal(0.0, 1.0, seats.size))
    soft = Stiffness(stiffness.bending_n_m2 * 10, stiffness.torsion_n_m2, seats)
    places = np.linspace(0.0, bed.length_mm, 9)
    model = bed_model(bed)
    rest = model.rest(soft, np.zeros(seats.size))
    assert not rest.carrying.all()
    ours = model.height(soft, rest.shape, Stations(places, np.zeros(9)))
    theirs = by_library(bed, soft, np.zeros(seats.size), places * 1e-3)
    assert ours == pytest.approx(theirs, abs=1e-6 * np.abs(theirs).max())


def test_a_joint_is_as_soft_as_a_stretch_of_bed() -> None:
    # A hinge of stiffness EI / extra turns by M extra / EI: the same angle as a bed longer by `extra` under an even M.
    extra = 0.4
    plain = Bed(4000.0, tuple(Support(str(i), x, "middle", anchored=True) for i, x in enumerate((0.0, 2000.0, 4000.0))))
    jointed = Bed(4000.0, plain.supports, joints=(Joint(2000.0, extra * 1e3),))
    stiffness = Stiffness(1e7, 1.0, np.full(3, 1e6))
    setting = np.array([0.0, 100.0, 0.0])
    reaction = {}
    for name, bed in (("plain", plain), ("jointed", jointed)):
        model = bed_model(bed)
        reaction[name] = model.on_springs(stiffness).rest(setting, model.load() * 0.0).force_n[1]
    # Centre load on a simply supported beam with a hinge of angle M extra/EI at midspan:
    # delta = F L^3/48EI + F L^2 extra/16EI, so the force falls by 1/(1 + 3 extra/L).
    assert reaction["jointed"] / reaction["plain"] == pytest.approx(1.0 / (1.0 + 3 * extra / 4.0), rel=1e-4)
