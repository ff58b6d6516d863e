"""Typed values: units, undo, doubts, a pasted column, and what stands in the archive."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waywright.archive import open_archive
from waywright.cli import main
from waywright.errors import BadInput
from waywright.jobs.type_line import planned_places
from waywright.jobs.typing_in import Doubt, Typed, TypedColumn, number_typed, typed_unit
from waywright.quantities import Kind
from waywright.readings import standing

MACHINE = """\
format = 1
name = "HR-6"
kind = "roll lathe"
axes = { up = "-Y", operator = "+X" }
"""


def column(places: int = 10, unit: str = "um") -> TypedColumn:
    return TypedColumn([400.0 * at for at in range(places)], typed_unit(unit, Kind.DISPLACEMENT))


def test_what_a_number_is_worth() -> None:
    angle, length = Kind.ANGLE, Kind.DISPLACEMENT
    # 1 arcsec = pi / 648000 rad; an inch is 25.4 mm; a vial of 0.02 mm/m a division
    assert typed_unit("arcsec", angle).inside_per_unit == pytest.approx(np.pi / 648_000 * 1e6)
    assert typed_unit("inch", length).inside_per_unit == 25_400.0
    assert typed_unit("mm/m", angle).inside_per_unit == 1000.0
    assert typed_unit("div", angle, 0.02, "mm/m").inside_per_unit == pytest.approx(20.0)
    for wrong in (("furlong", length), ("um", angle), ("div", angle)):
        with pytest.raises(BadInput):
            typed_unit(*wrong)


@pytest.mark.parametrize(("said", "number"), [("12.5", 12.5), (" -3,2 ", -3.2), ("+.5", 0.5), ("−4", -4.0)])
def test_a_number_as_people_type_it(said: str, number: float) -> None:
    assert number_typed(said) == number


@pytest.mark.parametrize("said", ["", "1.2.3", "1e3", "nan", "twelve", "1 2", "--1"])
def test_no_number(said: str) -> None:
    with pytest.raises(BadInput):
        number_typed(said)


def test_place_after_place_and_one_back() -> None:
    typing = column(3)
    assert typing.next_mm == 0.0
    assert isinstance(typing.enter("1"), Typed)
    typing.enter("2")
    assert typing.undo() == Typed(400.0, "2", 2.0)
    assert typing.next_mm == 400.0
    typing.enter("3")
    typing.enter("4")
    assert [item.value for item in typing.typed] == [1.0, 3.0, 4.0]
    assert typing.next_mm is None
    with pytest.raises(BadInput, match="All 3 places"):
        typing.enter("5")
    assert column().undo() is None


CURVE = ["0", "4", "9", "12", "13", "15"]


@pytest.mark.parametrize(("said", "likely"), [("-17", "sign"), ("170", "ten-times"), ("1.7", "tenth"), ("60", None)])
def test_a_slip_is_asked_about_and_named(said: str, likely: str | None) -> None:
    typing = column()
    for value in CURVE:
        assert isinstance(typing.enter(value), Typed)
    doubt = typing.enter(said)
    assert isinstance(doubt, Doubt)
    assert doubt.likely == likely
    assert doubt.expected == pytest.approx(17.0)
    assert len(typing.typed) == len(CURVE)
    assert isinstance(typing.enter(said, sure=True), Typed)


@given(st.integers(0, 2**32 - 1))
def test_an_honest_curve_is_hardly_ever_doubted(seed: int) -> None:
    drawn = np.random.default_rng(seed)
    typing = column(25)
    along = np.linspace(0.0, 2.0 * np.pi, 25)
    values = 30.0 * np.sin(along + drawn.uniform(0, 6)) + drawn.normal(0.0, 2.0, 25)
    doubts = 0
    for value in values:
        if isinstance(typing.enter(f"{value:.1f}"), Doubt):
            doubts += 1
            typing.enter(f"{value:.1f}", sure=True)
    assert doubts <= 4


def test_a_pasted_column_is_taken_whole_or_not_at_all() -> None:
    typing = column(5)
    typing.enter("1")
    assert [item.value for item in typing.paste("2,5\n3\t4;")] == [2.5, 3.0, 4.0]
    with pytest.raises(BadInput, match="Row 1"):
        column(5).paste("x 2")
    with pytest.raises(BadInput, match="2 numbers"):
        typing.paste("1 2")
    assert len(typing.typed) == 4


def test_places_reach_the_end() -> None:
    assert planned_places(0.0, 1000.0, 400.0) == [0.0, 400.0, 800.0, 1000.0]
    assert planned_places(0.0, 1.2, 0.4) == pytest.approx([0.0, 0.4, 0.8, 1.2])
    for wrong in ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 1.0)):
        with pytest.raises(BadInput):
            planned_places(*wrong)


def type_lines(folder: Path, monkeypatch: pytest.MonkeyPatch, text: str, *options: str) -> int:
    (folder / "hr6.toml").write_text(MACHINE)
    monkeypatch.setattr("sys.stdin", io.StringIO(text))
    where = ["--archive", str(folder / "a.sqlite")]
    return main(["type", str(folder / "hr6.toml"), "--to-mm", "2000", "--step-mm", "400", *where, *options])


def test_what_was_typed_is_in_the_archive(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    text = "1\n2\nu\n3\noops\n-1 -2\n4\n"
    options = ["--quantity", "roll", "--unit", "div", "--division", "0.02", "--division-unit", "mm/m"]
    assert type_lines(tmp_path, monkeypatch, text, *options) == 0
    shown = capsys.readouterr().out
    assert "'oops' is no number" in shown
    assert "5 of 6 places" in shown
    with open_archive(tmp_path / "a.sqlite", create=False) as archive:
        (line,) = [line for visit in archive.visits() for line in archive.lines(visit.id)]
        (taken,) = archive.passes(line.id)
        readings = archive.readings(taken.id)
        stands = standing(readings)
    assert taken.outcome == "finished"
    assert [reading.position_mm for reading in stands] == [0.0, 400.0, 800.0, 1200.0, 1600.0]
    assert [reading.values[0].mean for reading in stands] == pytest.approx([20.0, 60.0, -20.0, -40.0, 80.0])
    # The value taken back is still there, superseded.
    assert len(readings) == 6
    assert {reading.taken_by for reading in readings} == {"typed"}


def test_a_value_taken_back_and_not_typed_again_is_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert type_lines(tmp_path, monkeypatch, "1\n2\nu\ne\n") == 0
    with open_archive(tmp_path / "a.sqlite", create=False) as archive:
        (line,) = [line for visit in archive.visits() for line in archive.lines(visit.id)]
        (taken,) = archive.passes(line.id)
        (exclusion,) = archive.exclusions(taken.id)
        readings = archive.readings(taken.id)
    assert exclusion.reading_id == readings[1].id


def test_a_bad_order_keeps_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    assert type_lines(tmp_path, monkeypatch, "1\n", "--quantity", "colour") == 1
    assert "height, side, roll" in capsys.readouterr().err
    assert type_lines(tmp_path, monkeypatch, "1\n", "--unit", "div") == 1
    assert "--division" in capsys.readouterr().err
