"""``waywright sheet`` from the example to the report, as somebody uses it."""

from __future__ import annotations

import builtins
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from waywright.cli import main


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Lines that somebody will type; when there are none left, the input ends."""
    lines: list[str] = []
    left: Iterator[str] = iter(())

    def answer(_: str = "") -> str:
        nonlocal left
        if lines:
            left, lines[:] = iter(list(lines)), []
        try:
            return next(left)
        except StopIteration:
            raise EOFError from None

    monkeypatch.setattr(builtins, "input", answer)
    return lines


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(list(words)) == 0
    return capsys.readouterr().out


def test_from_the_example_to_the_report(tmp_path: Path, typed: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    archive, file = str(tmp_path / "a.sqlite"), tmp_path / "mine.toml"
    assert "Lathe, ordinary sheet (14)" in said(capsys, "sheet", "examples")
    said(capsys, "sheet", "new", "taper", str(file))
    assert main(["sheet", "new", "taper", str(file)]) == 1
    assert "exists already" in capsys.readouterr().err
    assert "7 rows" in said(capsys, "sheet", "check", str(file))
    # a lathe that turns 60 um over 300 mm: the tailstock stands 100 um towards the operator over 1000 mm
    typed += ["g 2", "0", "60", "g 5", "0", "100", "5", "u", "e"]
    told = said(
        capsys, "sheet", "fill", str(file), "--machine", "HR-6", "--technician", "R. Holl", "--archive", archive
    )
    assert "Headstock to tailstock, side: 100.0 µm" in told
    assert "taken back" in told
    said(capsys, "sheet", "limit", "5", "0.02", "--archive", archive)
    told = said(capsys, "sheet", "show", "--archive", archive)
    assert "does not conform" in told
    assert "tailstock set over sideways (explains 100 % of it)" in " ".join(told.split())
    found = json.loads(said(capsys, "sheet", "show", "--archive", archive, "--json"))
    assert (found["machine"], found["technician"], found["example"]) == ("HR-6", "R. Holl", True)
    assert found["rows"][4]["value"] == pytest.approx(100.0)
    assert found["taper"][0]["causes"][0]["name"] == "tailstock-side"
    listed = json.loads(said(capsys, "sheet", "list", "--archive", archive, "--json"))["sheets"]
    assert [(each["title"], each["filled"]) for each in listed] == [("Lathe turns taper", 4)]
    folder = tmp_path / "out"
    written = json.loads(said(capsys, "sheet", "report", "--archive", archive, "--folder", str(folder), "--json"))
    assert sorted(Path(name).suffix for name in written["files"]) == [".json", ".pdf", ".xlsx"]
    assert all(Path(name).stat().st_size > 1000 for name in written["files"])


def test_a_doubt_is_answered_in_the_terminal(
    tmp_path: Path, typed: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "one.toml"
    rows = "".join(
        f'[[row]]\nnumber = "{k}"\nwhat = "slip {k}"\nkind = "axial-slip"\ntolerance = "0.01"\n' for k in (1, 2)
    )
    file.write_text(f'format = 1\ntitle = "one"\n{rows}', encoding="utf-8")
    archive = str(tmp_path / "a.sqlite")
    typed += ["400", "4", "500", ""]  # the first is replaced, the second was meant
    said(capsys, "sheet", "fill", str(file), "--archive", archive)
    found = json.loads(said(capsys, "sheet", "show", "--archive", archive, "--json"))
    assert [row["value"] for row in found["rows"]] == [4.0, 500.0]
    assert [row["verdict"] for row in found["rows"]] == ["conforms", "does not conform"]


def test_blank_paper_schema_kinds_and_budgets(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    paper = tmp_path / "blank.pdf"
    said(capsys, "sheet", "print", "lathe", str(paper), "--machine", "HR-6")
    assert paper.read_bytes().startswith(b"%PDF")
    assert json.loads(said(capsys, "sheet", "schema"))["$defs"]["SheetRow"]
    assert "joint-step" in json.loads(said(capsys, "sheet", "kinds", "--json"))
    assert 'method = "mandrel"' in said(capsys, "sheet", "budget", "mandrel")


def test_bad_use_says_what_is_wrong(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    archive = str(tmp_path / "a.sqlite")
    assert main(["sheet", "fill", "guess", "--archive", archive]) == 1
    assert "guess" in capsys.readouterr().err
    assert main(["sheet", "budget", "guess"]) == 1
    assert "no ready budget" in capsys.readouterr().err
