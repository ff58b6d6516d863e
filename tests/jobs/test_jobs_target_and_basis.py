"""A target curve from a table, and what each result says it rests on."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from waywright.cli import main

X = np.linspace(0, 4000, 9)


def table(path: Path, header: str, rows: list[list[object]], *remarks: str) -> Path:
    lines = [*(f"# {one}" for one in remarks), header, *(",".join(map(str, row)) for row in rows)]
    path.write_text("\n".join(lines) + "\n")
    return path


def answer(capsys: pytest.CaptureFixture[str], *words: object, code: int = 0) -> str:
    assert main(["evaluate", *map(str, words)]) == code
    printed = capsys.readouterr()
    return printed.out if code == 0 else printed.err


@pytest.fixture
def curve(tmp_path: Path) -> Path:
    return table(tmp_path / "t.csv", "position_mm,EYZ_um", [[0, 0], [2000, 20], [4000, 0]])


@pytest.fixture
def line(tmp_path: Path) -> Path:
    """Two passes that follow the target but for 3 um at one station; two readings were left out."""
    target = np.interp(X, [0, 2000, 4000], [0, 20, 0])
    rows: list[list[object]] = [
        [x, float(y + 5 + 3 * (x == 1000)), 1.0, number, way]
        for number, way in ((4, "forward"), (5, "backward"))
        for x, y in zip(X, target, strict=True)
    ]
    return table(
        tmp_path / "l.csv", "position_mm,EYZ_um,EXZ_um,pass,direction", rows, "up: -Y", "operator: +X",
        "functional_point: tool tip", "excluded: pass 4, 2200 mm, door open", "excluded: pass 5, 600 mm, crane",
    )  # fmt: skip


def test_deviations_from_a_target_curve(line: Path, curve: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(answer(capsys, "straightness", line, "--target", curve, "--json"))["results"]
    assert {each["code"] for each in found} == {"EYZ"}
    for each in found:
        assert each["reference"] == "target"
        assert each["by_reference"]["target"]["value_um"] == pytest.approx(3.0)
        assert each["deviation_um"] == pytest.approx([5 + 3 * (x == 1000) for x in X])
        assert each["by_reference"]["end-points"]["value_um"] > 15
    assert "3.0 µm from the target curve" in answer(capsys, "straightness", line, "--target", curve)


def test_a_target_in_millimetres_and_faults_of_a_target(
    line: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mm = table(tmp_path / "mm.csv", "position_mm,EYZ_mm", [[0, 0], [2000, 0.020], [4000, 0]])
    found = json.loads(answer(capsys, "straightness", line, "--target", mm, "--json"))["results"]
    assert found[0]["by_reference"]["target"]["value_um"] == pytest.approx(3.0)
    short = table(tmp_path / "s.csv", "position_mm,EYZ_um", [[0, 0], [2000, 20]])
    assert "reaches from 0 to 2000 mm" in answer(capsys, "straightness", line, "--target", short, code=1)
    other = table(tmp_path / "o.csv", "position_mm,EXY_um", [[0, 0], [4000, 20]])
    assert "no straightness quantity" in answer(capsys, "straightness", line, "--target", other, code=1)
    assert "EXZ" in answer(capsys, "straightness", line, "--target", short, "--quantity", "EXZ", code=1)
    bad = table(tmp_path / "b.csv", "position_mm,EYZ_um", [[0, 0], [4000, "x"]])
    assert "b.csv, line 3" in answer(capsys, "straightness", line, "--target", bad, code=1)


def test_a_result_says_what_it_rests_on(line: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(answer(capsys, "straightness", line, "--quantity", "EYZ", "--json"))["results"]
    assert [each["basis"]["passes"] for each in found] == [[4], [5], [4, 5]]
    basis = found[2]["basis"]
    assert basis["functional_point"] == "tool tip"
    assert basis["reference"] == "least-squares"
    assert basis["segments"] == [1]
    assert basis["excluded"] == 2
    assert basis["excluded_why"] == ["pass 4, 2200 mm, door open", "pass 5, 600 mm, crane"]
    assert basis["positive"] == {"EYZ": "down"}


def test_what_nobody_stated_is_not_made_up(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bare = table(tmp_path / "l.csv", "position_mm,EYZ_um", [[x, 0.0] for x in X])
    basis = json.loads(answer(capsys, "straightness", bare, "--json"))["results"][0]["basis"]
    assert basis["functional_point"] is None
    assert basis["excluded"] is None
    assert basis["positive"] == {}
