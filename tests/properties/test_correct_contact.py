"""Contact, frames and what is seen: properties that hold for every bed."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waywright.correct.response import BedModel, Stiffness, bed_model
from waywright.correct.seen import Source, Stations, stations
from waywright.errors import BadInput
from waywright.machine import Bed, Carriage, Support

SEEDS = st.integers(0, 10_000)


def resting(seed: int, rows: int = 1) -> tuple[BedModel, Stiffness, np.ndarray]:
    rng = np.random.default_rng(seed)
    per_row = int(rng.integers(3, 6)) if rows == 2 else int(rng.integers(3, 8))
    names = ("front", "rear") if rows == 2 else ("middle",)
    places = np.linspace(200.0, 5800.0, per_row)
    supports = tuple(Support(f"{r}{i}", float(x), r) for r in names for i, x in enumerate(places))
    bed = Bed(6000.0, supports, gauge_mm=700.0, mass_kg=4000.0, carriage=Carriage(600.0, 800.0))
    pitch = 5.6 / (per_row - 1)
    seats = 200.0 * np.exp(rng.normal(0, 0.4, len(supports)))
    bending = 200e6 * pitch**3 / 10 ** rng.uniform(-1, 2)
    return bed_model(bed), Stiffness(bending, 0.3 * bending, seats), rng.normal(0.0, 80.0, len(supports))


@settings(max_examples=60, deadline=None)
@given(SEEDS, st.sampled_from([1, 2]))
def test_rest_is_equilibrium_without_pull(seed: int, rows: int) -> None:
    model, stiffness, setting = resting(seed, rows)
    rest = model.rest(stiffness, setting, carriage_mm=2500.0)
    load = model.load(2500.0)
    free = model.on_springs(stiffness).stiffness
    assert (rest.force_n >= 0.0).all()
    assert free @ rest.shape == pytest.approx(load + rest.force_n @ model.at, abs=1e-4 * np.abs(load).max())
    above = model.at @ rest.shape - setting
    assert (above[~rest.carrying] >= -1e-6).all()
    assert rest.force_n.sum() == pytest.approx((4000.0 + 800.0) * 9.80665, rel=1e-6)


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_contact_is_the_one_found_by_trying_them_all(seed: int) -> None:
    model, stiffness, setting = resting(seed)
    rest = model.rest(stiffness, setting)
    springs, load = model.on_springs(stiffness), model.load()
    fitting = []
    for pattern in itertools.product((False, True), repeat=setting.size):
        carrying = np.array(pattern)
        if carrying.sum() < 2:
            continue
        push = load + (stiffness.seat_n_per_um * setting * carrying) @ model.at
        shape = np.linalg.solve(springs.stiffness_with(carrying), push)
        press = setting - model.at @ shape
        if (press[carrying] >= 0.0).all() and (press[~carrying] <= 0.0).all():
            fitting.append(carrying)
    assert len(fitting) == 1
    assert (rest.carrying == fitting[0]).all()


def test_turning_the_support_under_the_source_moves_every_reading() -> None:
    # Toy model: source clamped to the left end, support 1 raised by 1 um. The bed at 5 m hardly moves, the reading
    # there moves by several um, because the source tilts. The sign: the beam tips down ahead, so readings rise.
    supports = tuple(Support(str(i + 1), i * 1000.0, "middle", anchored=True) for i in range(7))
    bed = Bed(6000.0, supports, mass_kg=3000.0)
    model = bed_model(bed)
    seen = Stations(np.array([1000.0, 3000.0, 5000.0]), np.zeros(3))
    for stiffness_ratio in (3.0, 10.0, 100.0):
        stiffness = Stiffness(1e8, 1.0, np.full(7, stiffness_ratio * 1e8 * 1e-6))
        floor = model.influence(stiffness, model.rows(seen))
        framed = model.influence(stiffness, model.rows(seen, Source(bed_mm=100.0)))
        assert abs(floor[2, 0]) < 0.15
        assert 2.0 <= framed[2, 0] <= 7.0
        # A support far from the source is read as it moves.
        assert framed[2, 5] == pytest.approx(floor[2, 5], abs=0.1)


def test_the_reading_of_a_bed_moved_as_a_whole_does_not_change() -> None:
    model, stiffness, _ = resting(4, 2)
    seen = stations(model.bed, np.linspace(500.0, 5500.0, 11), "front", "carriage")
    rows = model.rows(seen, Source(5800.0, across_mm=200.0))
    place = np.array([s.bed_mm for s in model.supports])
    # lifted and pitched along the bed: source and carriage go together
    change = model.influence(stiffness, rows) @ (30.0 + 0.01 * place)
    assert change == pytest.approx(np.zeros(11), abs=1e-6)


def test_a_carriage_averages_over_its_pads() -> None:
    bed = Bed(
        6000.0, tuple(Support(str(i), i * 1000.0, "middle", anchored=True) for i in range(7)), carriage=Carriage(1000.0)
    )
    model = bed_model(bed)
    stiffness = Stiffness(1e7, 1.0, np.full(7, 1e4))
    here, either = np.array([3000.0]), np.array([2500.0, 3500.0])
    carriage = model.influence(stiffness, model.rows(stations(bed, here, None, "carriage")))[0, 3]
    pads = model.influence(stiffness, model.rows(stations(bed, either, None, "guideway")))[:, 3]
    guideway = model.influence(stiffness, model.rows(stations(bed, here, None, "guideway")))[0, 3]
    assert carriage == pytest.approx(pads.mean(), abs=1e-9)
    assert carriage < 0.8 * guideway


def test_raising_a_row_twists_nothing_and_rolls_the_bed() -> None:
    model, stiffness, _ = resting(1, 2)
    front = np.array([s.row == "front" for s in model.supports], dtype=float)
    seen = stations(model.bed, np.linspace(500.0, 5500.0, 6), None, "guideway")
    roll = model.influence(stiffness, model.roll_rows(seen)) @ (100.0 * front)
    # operator's side up by 100 um over 0.7 m
    assert roll == pytest.approx(np.full(6, 100.0 / 0.7), rel=1e-9)
    height = model.influence(stiffness, model.rows(seen)) @ (100.0 * front)
    assert height == pytest.approx(np.full(6, 50.0), rel=1e-6)


def test_one_row_of_supports_cannot_change_twist() -> None:
    model, stiffness, _ = resting(1)
    seen = stations(model.bed, np.array([1000.0, 4000.0]), None, "guideway")
    assert not model.influence(stiffness, model.roll_rows(seen)).any()


def test_a_stocky_bed_on_three_feet_only_tilts() -> None:
    feet = (Support("1", 100.0, "front"), Support("2", 1100.0, "front"), Support("3", 600.0, "rear"))
    bed = Bed(1200.0, feet, gauge_mm=500.0, height_mm=600.0, mass_kg=900.0)
    model = bed_model(bed)
    stiffness = Stiffness(1e9, 1e9, np.full(3, 300.0))
    seen = stations(bed, np.linspace(100.0, 1100.0, 5), "front", "guideway")
    change = model.influence(stiffness, model.rows(seen))[:, 0]
    line = np.polyfit(np.linspace(100.0, 1100.0, 5), change, 1)
    assert change == pytest.approx(np.polyval(line, np.linspace(100.0, 1100.0, 5)), abs=1e-9)
    assert change[0] == pytest.approx(1.0)
    assert change[-1] == pytest.approx(0.0, abs=1e-9)


def test_a_stocky_bed_on_four_feet_twists_with_its_own_stiffness() -> None:
    feet = tuple(Support(f"{row}{x}", x, row, anchored=True) for row in ("front", "rear") for x in (100.0, 1100.0))
    bed = Bed(1200.0, feet, gauge_mm=500.0, height_mm=600.0, mass_kg=900.0)
    model = bed_model(bed)
    seat, torsion = 300.0, 2e7
    stiffness = Stiffness(1e9, torsion, np.full(4, seat))
    seen = stations(bed, np.array([100.0, 1100.0]), None, "guideway")
    roll = model.influence(stiffness, model.roll_rows(seen)) @ np.array([1.0, -1.0, -1.0, 1.0])
    # Each end: the couple of two seats 2 k (1 - t b/2) b/2 twists the bed between the feet by GJ 2t/l.
    b, length = 0.5, 1.0
    t = 2 * seat * (b / 2) / (2 * seat * (b / 2) ** 2 + torsion * 1e-6 * 2 / length)
    assert roll == pytest.approx([t, -t], rel=1e-9)


@pytest.mark.parametrize(
    ("supports", "key"),
    [
        ((Support("1", 100.0),), "correct.not_held"),
        (tuple(Support(str(i), 100.0 * i, across_mm=50.0 * i) for i in range(3)), "correct.not_held"),
    ],
)
def test_a_bed_that_nothing_holds_is_refused(supports: tuple[Support, ...], key: str) -> None:
    with pytest.raises(BadInput) as caught:
        bed_model(Bed(1000.0, supports))
    assert caught.value.key == key
    assert "supports cannot hold" in str(caught.value)


def test_a_station_off_the_bed_is_refused() -> None:
    bed = Bed(1000.0, (Support("1", 0.0), Support("2", 900.0)))
    with pytest.raises(BadInput, match="1200 mm lies off the bed"):
        stations(bed, np.array([100.0, 1200.0]), None, "guideway")
    with pytest.raises(BadInput, match="pad spacing"):
        stations(bed, np.array([100.0]), None, "carriage")
