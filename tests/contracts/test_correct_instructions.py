"""Instructions, stages, live targets, and the other remedies."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from waywright.correct import (
    Found,
    Plan,
    Source,
    compensation_table,
    instructions,
    live_target,
    one_rail,
    plan_correction,
    rough_supports,
    scraping_map,
    second_rail_heights,
    shim_pack,
    sign_of_table,
    stages,
    tightening,
    to_go,
)
from waywright.correct.notes import Note
from waywright.correct.turning import eighths, turn_for
from waywright.errors import BadInput
from waywright.machine import Bed, Joint, Support
from waywright.wording import catalogue, text

PLACES = np.linspace(200.0, 5600.0, 28)


def bed() -> Bed:
    supports = tuple(
        Support(
            str(i + 1), 200.0 + 900.0 * i, "middle", kind="wedge-shoe", lift_um_per_turn=160.0, anchored=True,
            seat_n_per_um=300.0, smallest_step_um=10.0, raise_turn="anticlockwise" if i == 3 else "clockwise",
        )
        for i in range(7)
    )  # fmt: skip
    return Bed(5800.0, supports, mass_kg=9000.0, bending_n_m2=8e7, headstock_mm=(0.0, 300.0))


def made(heights: np.ndarray | None = None, of: Bed | None = None) -> Plan:
    low_middle = -60.0 * np.exp(-(((PLACES - 2900.0) / 500.0) ** 2)) if heights is None else heights
    return plan_correction(of or bed(), PLACES, low_middle, quantity="guideway", noise_um=1.0, goal_um=15.0)


def said(notes: tuple[Note, ...]) -> list[str]:
    return [text(item.key, **item.facts) for item in notes]


def test_an_instruction_says_support_amount_turn_direction_and_reading() -> None:
    plan = made()
    sheet = instructions(plan)
    first = next(item for item in sheet.instructions if item.support == "4")
    assert first.move_um > 20.0
    assert first.turn is not None
    assert first.turn.direction == "anticlockwise"  # this shoe is mirrored
    assert first.turn.degrees == pytest.approx(first.move_um / 160.0 * 360.0)
    assert first.expected_um > 0.3 * first.move_um
    words = said(first.steps)
    assert "Slacken the anchor of support 4" in words[0]
    assert f"Support 4: raise {first.move_um:.0f} µm" in words[1]
    assert "anticlockwise" in words[1]
    assert "should rise by about" in words[2]
    assert "Tighten" in words[3]
    assert sum("Wait 10 minutes" in words for words in said(sheet.afterwards)) == 1


def test_the_expected_readings_add_up_to_the_whole_change() -> None:
    plan = made()
    for source in (None, Source(150.0)):
        sheet = instructions(plan, source)
        assert sorted(item.support for item in sheet.instructions) == sorted(
            name for name, move in zip(plan.supports, plan.moves_um, strict=True) if move
        )
        assert [item.order for item in sheet.instructions] == list(range(1, len(sheet.instructions) + 1))
    at_source = made(np.where(PLACES < 700.0, -80.0, 0.0))
    floor = {item.support: item.expected_um for item in instructions(at_source).instructions}
    bound = {item.support: item.expected_um for item in instructions(at_source, Source(200.0)).instructions}
    assert floor["1"] > 30.0
    assert abs(bound["1"]) < 0.25 * floor["1"]  # the source rises with the bed it is clamped to


def test_lowering_ends_upwards() -> None:
    plan = made(60.0 * np.exp(-(((PLACES - 2900.0) / 500.0) ** 2)))
    lowered = [item for item in instructions(plan).instructions if item.move_um < 0.0]
    assert lowered
    for item in lowered:
        assert any("come back up" in line for line in said(item.steps))


def test_raising_comes_first_on_a_bed_that_rests() -> None:
    resting = replace(bed(), supports=tuple(replace(s, anchored=False) for s in bed().supports))
    plan = made(50.0 * np.sin(PLACES / 700.0), resting)
    moves = [item.move_um for item in instructions(plan).instructions]
    assert min(moves) < 0.0 < max(moves)
    assert moves[0] > 0.0


def test_each_confirmation_stands_alone() -> None:
    jacks = replace(bed(), supports=tuple(replace(s, kind="jack-screw") for s in bed().supports))
    keys = [item.key for item in instructions(made(of=jacks)).confirm]
    assert keys == [
        "correct.confirm_axis_locked",
        "correct.confirm_vertical_supported",
        "correct.confirm_cribbed",
        "correct.confirm_makers_limit",
    ]


def test_headstock_joint_and_what_cannot_be_corrected_are_said() -> None:
    jointed = replace(bed(), joints=(Joint(3000.0, 500.0),))
    plan = made(np.where(PLACES < 500.0, -80.0, 0.0) + 14.0 * np.cos(PLACES / 40.0), jointed)
    keys = {item.key for item in instructions(plan).warnings}
    assert {"correct.under_headstock", "correct.check_joint", "correct.not_by_supports"} <= keys
    assert all(said(instructions(plan).warnings))


@pytest.mark.parametrize(
    ("turns", "words"), [(0.375, "3/8"), (0.38, "3/8"), (1.5, "1 1/2"), (2.0, "2"), (0.31, None), (0.01, None)]
)
def test_turns_are_said_in_eighths(turns: float, words: str | None) -> None:
    assert eighths(turns) == words


def test_sixty_um_is_three_eighths_of_a_turn_clockwise() -> None:
    shoe = Support("8", 100.0, lift_um_per_turn=160.0)
    turn = turn_for(shoe, 60.0)
    assert turn is not None
    assert (turn.words, turn.direction, turn.degrees) == ("3/8", "clockwise", 135.0)
    back = turn_for(shoe, -60.0)
    assert back is not None
    assert back.direction == "anticlockwise"
    assert turn_for(replace(shoe, lift_um_per_turn=None), 60.0) is None


def test_every_note_has_its_sentence() -> None:
    sentences = catalogue("correct", "en")
    for way, amount in itertools.product(("raise", "lower", "push", "ease"), ("turns", "degrees")):
        for direction in ("clockwise", "anticlockwise"):
            assert f"correct.step_{way}_{amount}_{direction}" in sentences


def test_a_live_target_is_reached_when_the_bed_is_where_it_should_be() -> None:
    plan = made()
    source = Source(150.0)
    target = live_target(plan, "4", 2900.0, 12.0, source)
    assert target.target_um > 12.0
    start, there = to_go(plan, target, 12.0), to_go(plan, target, target.target_um)
    assert start.lift_um == pytest.approx(target.move_um)
    assert start.turn is not None
    assert start.turn.direction == "anticlockwise"
    assert there.turn is None
    assert there.done_part == pytest.approx(1.0)
    beyond = to_go(plan, target, target.target_um + 20.0)
    assert beyond.turn is not None
    assert beyond.turn.direction == "clockwise"
    assert target.neighbours_um["3"] != 0.0
    with pytest.raises(BadInput, match="hardly answers"):
        live_target(plan, "4", 5600.0, 0.0, None)
    with pytest.raises(BadInput, match="no support 12"):
        live_target(plan, "12", 2900.0, 0.0, None)


def test_tightening_stops_when_it_has_sunk() -> None:
    assert not tightening(30.0, 22.0, 12.0).stop
    assert tightening(30.0, 22.0, 12.0).sunk_um == 8.0
    assert tightening(30.0, 18.0, 12.0).stop


def test_stages_are_skipped_when_done() -> None:
    loose = replace(
        bed(), supports=tuple(replace(s, load_felt="no" if s.name == "5" else "yes") for s in bed().supports)
    )

    def states(of: Bed, found: Found) -> dict[str, str]:
        return {stage.name: stage.state for stage in stages(of, found)}

    first = states(loose, Found(1500.0, 20.0, 80.0, 20.0))
    assert first == {"rough": "now", "contact": "later", "twist": "later", "height": "later", "bolts": "later"}
    second = states(loose, Found(120.0, 20.0, 80.0, 20.0))
    assert (second["rough"], second["contact"], second["twist"]) == ("done", "now", "later")
    third = states(bed(), Found(120.0, 20.0, 80.0, 20.0))
    assert (third["twist"], third["height"], third["bolts"]) == ("now", "now", "later")  # planned together
    fourth = states(bed(), Found(12.0, 20.0, 8.0, 20.0, 60.0, 20.0))
    assert (fourth["height"], fourth["side"], fourth["bolts"]) == ("done", "now", "later")
    assert set(states(bed(), Found(12.0, 20.0, bolts_final=True)).values()) == {"done"}


def test_rough_levelling_uses_the_supports_nearest_the_bessel_points() -> None:
    assert rough_supports(bed()) == ("2", "6")


def test_the_second_rail_follows_by_cross_level() -> None:
    rear = second_rail_heights([0.0, 10.0], [100.0, -50.0], 2000.0)
    # operator's side up by 100 um/m over 2 m: the rear lies 200 um lower
    assert rear.tolist() == [-200.0, 110.0]
    rails = Bed(5000.0, tuple(Support(f"{r}{i}", i * 1000.0, r) for r in ("front", "rear") for i in range(5)), rails=2)
    alone = one_rail(rails, "rear")
    assert [s.name for s in alone.supports] == [f"rear{i}" for i in range(5)]
    assert {alone.support_across_mm(s) for s in alone.supports} == {0.0}


def test_a_shim_pack_has_the_fewest_foils() -> None:
    stock = [(10, 3), (25, 2), (50, 1), (100, 1)]
    pack = shim_pack(160.0, stock, within_um=0.0)
    sizes = [foil for foil, number in stock for _ in range(number)]
    fewest = min(
        len(chosen)
        for count in range(1, len(sizes) + 1)
        for chosen in itertools.combinations(sizes, count)
        if sum(chosen) == 160
    )
    assert sum(pack.foils_um) == 160
    assert len(pack.foils_um) == fewest
    assert shim_pack(37.0, stock, within_um=5.0).off_um == pytest.approx(-2.0)
    with pytest.raises(BadInput, match="stock makes no pack"):
        shim_pack(900.0, stock)


def test_scraping_only_removes_and_reaches_the_goal() -> None:
    x = np.linspace(0.0, 1000.0, 21)
    h = np.where(np.abs(x - 500.0) < 120.0, 12.0, 0.0) + 0.02 * x
    found = scraping_map(x, h, 5.0, 60.0, joints_mm=[600.0])
    left = h - found.remove_um
    fit = np.polyfit(x, left, 1)
    assert (found.remove_um >= -1e-9).all()
    assert np.ptp(left - 0.02 * x) <= 5.0 + 1e-6
    assert np.flatnonzero(found.remove_um > 1e-6).tolist() == np.flatnonzero(np.abs(x - 500.0) < 120.0).tolist()
    # 7 um over five stations 50 mm apart and 60 mm wide
    assert found.volume_mm3 == pytest.approx(7e-3 * 5 * 50.0 * 60.0)
    assert fit[0] == pytest.approx(0.02, abs=1e-3)
    assert "correct.scrape_not_at_joint" in {item.key for item in found.notes}
    deep = scraping_map(x, 20 * h, 5.0, 60.0)
    assert "correct.scrape_too_deep" in {item.key for item in deep.notes}


def test_a_compensation_table_takes_the_repeatable_part_away() -> None:
    x = np.linspace(0.0, 1000.0, 11)
    mean = 8.0 * np.sin(x / 300.0)
    table = compensation_table("EYX", x, np.column_stack([mean + 0.4, mean - 0.4]), 100.0)
    assert table.position_mm == pytest.approx(x)
    assert mean + table.correction_um == pytest.approx(np.zeros(11), abs=1e-9)
    lines = table.text().splitlines()
    assert lines[4] == "position_mm,correction_EYX_um"
    assert lines[5].startswith("0.000,")
    assert "sign" in table.text()
    wild = compensation_table("EYX", x, np.column_stack([mean + 9.0, mean - 9.0]), 100.0)
    assert "correct.table_not_repeatable" in {item.key for item in wild.notes}
    assert all(said(wild.notes))
    with pytest.raises(BadInput, match="two passes"):
        compensation_table("EYX", x, mean[:, None], 100.0)


def test_the_sign_test_is_compulsory_and_clear() -> None:
    assert sign_of_table(9.2, 0.5) == 1
    assert sign_of_table(-10.4, 0.5) == -1
    with pytest.raises(BadInput, match="neither"):
        sign_of_table(1.0, 0.5)
