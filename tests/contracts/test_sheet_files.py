"""The sheet file: examples without limits, round trip, published schema, refusals that name the row."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from waywright.errors import BadInput
from waywright.evaluate.sheet_rows import entries_of
from waywright.evaluate.sheet_work import KINDS
from waywright.files.row_budget import READY, ROW_METHODS, row_budget, row_budget_text
from waywright.files.sheet_file import (
    TEMPLATES,
    check_row,
    read_sheet_file,
    sheet_schema,
    sheet_text,
    template,
    template_text,
)

SCHEMA = Path(__file__).parents[2] / "docs" / "reference" / "sheet-file.schema.json"


@pytest.mark.parametrize("name", TEMPLATES)
def test_examples_are_in_order_marked_and_hold_no_limit(name: str, tmp_path: Path) -> None:
    sheet = template(name)
    assert sheet.example
    assert "No limit in it comes from a standard" in sheet.note
    for row in sheet.row:
        check_row(row)
        assert row.tolerance is None
    assert not [line for line in template_text(name).splitlines() if line.strip().startswith("tolerance")]
    path = tmp_path / "sheet.toml"
    path.write_text(sheet_text(sheet), encoding="utf-8")
    assert read_sheet_file(path) == sheet


def test_the_lathe_sheet_has_fourteen_rows() -> None:
    sheet = template("lathe")
    assert [row.number for row in sheet.row] == [str(number) for number in range(1, 15)]
    kinds = {row.kind for row in sheet.row}
    assert {"twist", "axial-slip", "face", "run-out", "spindle", "head-to-tail", "square-disc"} <= kinds


def test_the_published_schema_is_that_of_the_records() -> None:
    assert json.loads(SCHEMA.read_text(encoding="utf-8")) == json.loads(json.dumps(sheet_schema()))


def test_every_kind_has_a_ready_budget() -> None:
    for kind in KINDS.values():
        assert kind.budget in READY
    for method in ROW_METHODS:
        assert row_budget(method).method == method
        assert row_budget_text(method).startswith("#")
    with pytest.raises(BadInput, match="no ready budget"):
        row_budget("guess")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ('kind = "guess"', "Row 1: there is no kind 'guess'"),
        ('kind = "spindle"', "Row 1 is a 'spindle': it also needs at_mm"),
        ('kind = "level"\nplaces = ["a", "a"]', "the place 'a' is named twice"),
        ('kind = "level"\nplaces = ["a"]\nunit = "div"', "state division and division_unit"),
        ('kind = "level"\nplaces = ["a"]\nunit = "mm"', "mm"),
        ('kind = "run-out"\ntolerance = "0,02"', "0.02"),
        ('kind = "run-out"\nbudget = "guess"', "no ready budget"),
        ('kind = "run-out"\nplace = ["a"]', "row.1.place"),
        ('kind = "parallel"\nplaces = ["a", "b"]\nat_mm = [1, 2, 3]', "at_mm holds 3 positions for 2 places"),
    ],
)
def test_what_cannot_be_filled_or_judged_is_refused_by_row(change: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "sheet.toml"
    path.write_text(f'format = 1\ntitle = "t"\n[[row]]\nnumber = "1"\nwhat = "w"\n{change}\n', encoding="utf-8")
    with pytest.raises(BadInput) as refused:
        read_sheet_file(path)
    assert said in str(refused.value)


def test_numbers_are_unique_and_an_empty_sheet_is_none(tmp_path: Path) -> None:
    path = tmp_path / "sheet.toml"
    row = '[[row]]\nnumber = "1"\nwhat = "w"\nkind = "run-out"\n'
    path.write_text(f'format = 1\ntitle = "t"\n{row}{row}', encoding="utf-8")
    with pytest.raises(BadInput, match="stands on two rows"):
        read_sheet_file(path)
    path.write_text('format = 1\ntitle = "t"\nrow = []\n', encoding="utf-8")
    with pytest.raises(BadInput, match="has no row"):
        read_sheet_file(path)


def test_own_sheets_may_use_every_kind(tmp_path: Path) -> None:
    """One row of each kind, as somebody would build a sheet of their own."""
    given = {
        "at_mm": "at_mm = [0, 100, 200, 300, 400, 500]", "across_mm": "across_mm = [0, 0, 0, 9, 9, 9]",
        "diameter_mm": "diameter_mm = 300", "arm_mm": "arm_mm = 200", "quantity": 'quantity = "EYZ"',
        "joint_mm": "joint_mm = 250", "base_mm": "base_mm = 100", "of": 'of = "straightness"',
    }  # fmt: skip
    text = ['format = 1\ntitle = "every kind"']
    for number, kind in enumerate(KINDS.values()):
        text.append(f'[[row]]\nnumber = "{number}"\nwhat = "{kind.name}"\nkind = "{kind.name}"')
        text += [given[name] for name in kind.needs]
        if not kind.layout.usual and "at_mm" not in kind.needs:
            text.append('places = ["a", "b", "c"]')
    path = tmp_path / "own.toml"
    path.write_text("\n".join(text), encoding="utf-8")
    sheet = read_sheet_file(path)
    assert len(sheet.row) == len(KINDS)
    assert all(entries_of(row) for row in sheet.row if row.kind != "result")
