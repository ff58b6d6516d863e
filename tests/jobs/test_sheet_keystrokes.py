"""A lathe sheet of fourteen rows: keys pressed here and in a spreadsheet that somebody has prepared well.

The spreadsheet is the best there can be: one cell a value in one column, formulas and verdicts ready, the cursor in
the first cell, Enter moves down; between rows one cell with the result is passed over (one key). Once with formulas in
mm, as sheets are printed: 12 um is typed 0.012, divisions are multiplied in the head; and once with formulas that take
every figure just as it is read, which is the least that a spreadsheet can need.

Times by the keystroke-level model: 0.28 s a key (average non-secretary typist), 1.35 s for each mental step (Card,
Moran, Newell, CACM 23/7 (1980) 396; from memory).
"""

from __future__ import annotations

import builtins
from collections.abc import Iterator
from pathlib import Path

import pytest

from waywright.archive import open_archive
from waywright.cli import main
from waywright.evaluate.sheet_rows import entries_of
from waywright.files.sheet_file import template
from waywright.jobs.sheet_fill import unit_of
from waywright.jobs.sheet_keep import find_sheet, values_of

KEY_S, MENTAL_S = 0.28, 1.35
READ = {
    "1": ("1", "-1", "1.5", "-1.5", "2", "-2", "2.5", "-2.5"),
    "2": ("1", "0.5", "0", "0", "-0.5", "-1"),
    "3": ("0", "2", "3", "2", "0"),
    "4": ("4",), "5": ("9",), "6": ("5",), "7": ("3",), "8": ("12",),
    "9": ("0", "9", "2", "10"), "10": ("0", "3", "1", "3"), "11": ("0", "4"), "12": ("0", "15"), "13": ("0", "-6"),
    "14": ("0", "5", "1", "4"),
}  # fmt: skip


class Keys:
    """Somebody at the terminal: answers each question with the next line and counts the keys, Enter included."""

    def __init__(self, lines: list[str]) -> None:
        self._lines: Iterator[str] = iter(lines)
        self.pressed = 0
        self.asked: list[str] = []

    def __call__(self, prompt: str = "") -> str:
        self.asked.append(prompt)
        try:
            line = next(self._lines)
        except StopIteration:
            raise EOFError from None
        self.pressed += len(line) + 1
        return line


def least_keys() -> int:
    """Keys of a spreadsheet that takes every figure as it is read."""
    return sum(sum(len(said) + 1 for said in READ[row.number]) + 1 for row in template("lathe").row)


def spreadsheet_keys() -> tuple[int, int]:
    """Keys and mental steps of a spreadsheet in mm."""
    keys, mental = 0, 0
    for row in template("lathe").row:
        for said in READ[row.number]:
            in_mm = float(said) * unit_of(row).inside_per_unit / 1000.0
            keys += len(f"{in_mm:g}") + 1
            mental += row.unit == "div"
        keys += 1
    return keys, mental


def test_a_lathe_sheet_needs_no_more_keys_than_a_spreadsheet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = [said for row in template("lathe").row for said in READ[row.number]]
    assert len(lines) == sum(len(entries_of(row)) for row in template("lathe").row)
    keys = Keys(lines)
    monkeypatch.setattr(builtins, "input", keys)
    archive = tmp_path / "a.sqlite"
    assert main(["sheet", "fill", "lathe", "--archive", str(archive)]) == 0
    with open_archive(archive) as opened:
        assert len(values_of(opened, find_sheet(opened, None))) == len(lines)
    theirs, mental = spreadsheet_keys()
    ours_s, theirs_s = keys.pressed * KEY_S, theirs * KEY_S + mental * MENTAL_S
    with capsys.disabled():
        print(f"\n14-row lathe sheet, {len(lines)} values: {keys.pressed} keys ({ours_s:.0f} s), "
              f"spreadsheet in mm {theirs} keys and {mental} steps in the head ({theirs_s:.0f} s), "
              f"spreadsheet of figures as read {least_keys()} keys ({least_keys() * KEY_S:.0f} s)")  # fmt: skip
    assert keys.pressed <= least_keys() <= theirs
    assert ours_s <= theirs_s
    # not one key more than the numbers themselves and an Enter each
    assert keys.pressed == sum(len(line) + 1 for line in lines)


def test_the_first_value_needs_one_command_and_no_machine_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing is asked before the first place: one command, then the number."""
    keys = Keys(["1.5", "e"])
    monkeypatch.setattr(builtins, "input", keys)
    archive = tmp_path / "a.sqlite"
    assert main(["sheet", "fill", "lathe", "--archive", str(archive)]) == 0
    assert "foot 1" in keys.asked[0]
    with open_archive(archive) as opened:
        (held,) = values_of(opened, find_sheet(opened, None)).values()
    assert held.values[0].mean == pytest.approx(30.0)
    typed = len("waywright sheet fill lathe\n") + len("1.5\n")
    with capsys.disabled():
        print(f"\nfirst value: {typed} keys from the shell, {typed * KEY_S:.0f} s of typing")
    assert typed * KEY_S < 120.0
