"""Filling a sheet: number, Enter, next; asked about, never refused; nothing lost, nothing changed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from made_sheet import CLOCK, enter, filling
from waywright.archive import open_archive
from waywright.errors import BadInput
from waywright.jobs.sheet_fill import Kept, SheetFill
from waywright.jobs.sheet_keep import change_rows, find_sheet, values_of
from waywright.jobs.typing_in import Doubt
from waywright.readings import Reading
from waywright.visit.sheet import SheetRow

ROWS = (
    SheetRow("1", "twist", "twist", ("foot 1", "foot 2"), (0.0, 1000.0), turned=True, unit="div", division=0.02,
             division_unit="mm/m"),
    SheetRow("2", "slip", "axial-slip", tolerance="0.01"),
    SheetRow("3", "spindle", "spindle", at_mm=(20.0, 320.0), unit="mm"),
)  # fmt: skip


def test_places_come_one_after_the_other_by_their_names(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (_, _, fill):
        asked = []
        while fill.here is not None:
            asked.append((fill.here.row.number, fill.here.place, fill.here.state))
            enter(fill, 0.001)
        assert asked == [
            ("1", "foot 1", ""), ("1", "foot 1", "turned"), ("1", "foot 2", ""), ("1", "foot 2", "turned"),
            ("2", "needle", ""), ("3", "near", "at-0"), ("3", "far", "at-0"), ("3", "near", "at-180"),
            ("3", "far", "at-180"),
        ]  # fmt: skip
        with pytest.raises(BadInput, match="All 9 places"):
            fill.enter("1")


@pytest.mark.parametrize(
    ("unit", "kind", "said", "inside"),
    [
        ("um", "value", "12", 12.0), ("mm", "value", "0,012", 12.0), ("inch", "value", "0.001", 25.4),
        ("mm/m", "angle", "0.02", 20.0), ("arcsec", "angle", "10", 48.481368), ("um/m", "angle", "-3", -3.0),
    ],
)  # fmt: skip
def test_units_as_people_read_them(tmp_path: Path, unit: str, kind: str, said: str, inside: float) -> None:
    with filling(tmp_path, SheetRow("1", "t", kind, unit=unit)) as (_, _, fill):
        kept = fill.enter(said)
        assert isinstance(kept, Kept)
        assert kept.value == pytest.approx(inside)


def test_divisions(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (_, _, fill):
        kept = fill.enter("2.5")
        assert isinstance(kept, Kept)
        assert kept.value == pytest.approx(50.0)


def test_every_value_is_in_the_archive_at_once_and_sealed(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (archive, sheet, fill):
        enter(fill, 1.0, -1.0)
        with open_archive(tmp_path / "a.sqlite") as other:
            assert len(values_of(other, find_sheet(other, None))) == 2
        (taken,) = archive.passes(sheet.id)
        assert [reading.number for reading in archive.readings(taken.id)] == [0, 1]
        assert archive.check().good


def test_a_sheet_is_gone_on_with_where_it_stood(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (archive, sheet, fill):
        enter(fill, 1.0, -1.0, 2.0)
        again = SheetFill(archive, sheet, CLOCK)  # type: ignore[arg-type]
        assert again.here is not None
        assert (again.here.place, again.here.state) == ("foot 2", "turned")
        assert again.filled == 3


def test_taking_back_is_a_record_and_the_earlier_value_holds_again(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (archive, sheet, fill):
        enter(fill, 1.0)
        fill.go_to("1", "foot 1")
        enter(fill, 3.0)
        first = fill.entries[0]
        assert fill.value(first) == pytest.approx(60.0)
        assert fill.undo() == first
        assert fill.value(first) == pytest.approx(20.0)
        assert fill.undo() == first
        assert fill.value(first) is None
        assert fill.here == first
        assert fill.undo() is None
        (taken,) = archive.passes(sheet.id)
        assert len(archive.readings(taken.id)) == 2
        assert [item.reason for item in archive.exclusions(taken.id)] == ["taken back while typing"] * 2


def test_how_a_value_was_confirmed_stays_with_it(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (archive, sheet, fill):
        for by in ("typed", "foot-switch", "spoken"):
            fill.enter("1", sure=True, by=by)
        held: dict[str, Reading] = values_of(archive, sheet)
        assert sorted(reading.taken_by for reading in held.values()) == ["foot-switch", "spoken", "typed"]
        with pytest.raises(BadInput, match="confirmed by"):
            fill.enter("1", by="guess")


def test_a_value_over_ten_times_the_limit_is_asked_about_and_may_be_meant(tmp_path: Path) -> None:
    with filling(tmp_path, SheetRow("1", "slip", "axial-slip", tolerance="0.01")) as (_, _, fill):
        asked = fill.enter("400")
        assert isinstance(asked, Doubt)
        assert asked.likely == "ten-times"
        assert fill.filled == 0
        assert isinstance(fill.enter("400", sure=True), Kept)


def test_the_turned_level_is_asked_about_when_its_zero_has_jumped(tmp_path: Path) -> None:
    row = SheetRow("1", "twist", "twist", ("a", "b", "c"), turned=True, unit="um/m")
    with filling(tmp_path, row) as (_, _, fill):
        enter(fill, 32.0, -28.0, 52.0, -48.0, 12.0)
        asked = fill.enter("8")  # the sign was forgotten: -8 fits the zero of 2
        assert isinstance(asked, Doubt)
        assert asked.expected == pytest.approx(-8.0)
        assert asked.likely == "sign"
        assert isinstance(fill.enter("-8"), Kept)


def test_a_value_that_does_not_fit_its_neighbours_is_asked_about(tmp_path: Path) -> None:
    row = SheetRow("1", "way", "straightness", at_mm=(0.0, 200.0, 400.0, 600.0, 800.0, 1000.0))
    with filling(tmp_path, row) as (_, _, fill):
        for value in ("0", "2", "4", "5", "7"):
            assert isinstance(fill.enter(value), Kept)
        asked = fill.enter("90")
        assert isinstance(asked, Doubt)
        assert asked.likely == "ten-times"


def test_something_of_an_absurd_size_is_asked_about_even_alone(tmp_path: Path) -> None:
    with filling(tmp_path, SheetRow("1", "t", "value")) as (_, _, fill):
        asked = fill.enter("9000")
        assert isinstance(asked, Doubt)
        assert asked.likely is None


def test_no_number_is_no_value(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (_, _, fill), pytest.raises(BadInput, match="is no number"):
        fill.enter("twelve")


def test_a_column_goes_in_whole_or_not_at_all(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (_, _, fill):
        with pytest.raises(BadInput, match="Row 3"):
            fill.paste("1\n-1\nx")
        assert fill.filled == 0
        assert len(fill.paste("1 -1 2 -2")) == 4
        with pytest.raises(BadInput, match="only 5 places"):
            fill.paste("1 2 3 4 5 6")


def test_rows_may_be_left_and_gone_to(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (_, _, fill):
        enter(fill, 1.0)
        here = fill.pass_over()
        assert here is not None
        assert here.row.number == "2"
        fill.go_to("3")
        enter(fill, 0.001)
        fill.go_to("1")
        assert fill.here is not None
        assert (fill.here.place, fill.here.state) == ("foot 1", "turned")
        with pytest.raises(BadInput, match="no place"):
            fill.go_to("9")


def test_a_row_that_is_changed_keeps_the_values_of_places_that_still_exist(tmp_path: Path) -> None:
    with filling(tmp_path, *ROWS) as (archive, sheet, fill):
        enter(fill, 1.0, -1.0)
        renamed = replace(sheet.rows[1], tolerance="0.005")
        changed = change_rows(archive, sheet, (sheet.rows[0], renamed, sheet.rows[2]), "agreed")
        assert len(archive.history(sheet.id)) == 2
        assert SheetFill(archive, changed, CLOCK).filled == 2  # type: ignore[arg-type]
