"""Angles, three squares, given line, flip record, long axes, sag: figures, words, drawings, files and lines."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest

from waywright.cli import main

X = np.linspace(0, 3000, 13)


def table(path: Path, header: str, rows: list[list[object]], *remarks: str) -> Path:
    lines = [*(f"# {one}" for one in remarks), header, *(",".join(map(str, row)) for row in rows)]
    path.write_text("\n".join(lines) + "\n")
    return path


def answered(capsys: pytest.CaptureFixture[str], *words: object, code: int = 0) -> str:
    assert main(["evaluate", *map(str, words)]) == code
    printed = capsys.readouterr()
    return " ".join((printed.out if code == 0 else printed.err).split())


def results(capsys: pytest.CaptureFixture[str], *words: object) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(answered(capsys, *words, "--json"))["results"]
    return found


def words_of(drawing: Path) -> str:
    tree = ElementTree.fromstring(drawing.read_text())
    return " ".join("".join(node.itertext()) for node in tree.iter() if node.tag.endswith(("text", "desc", "title")))


def angles_table(path: Path, *remarks: str) -> Path:
    """Pitch that rises by 8 um/m and comes back 1 um/m higher; yaw; no roll."""
    rows: list[list[object]] = [
        [x, 8 * x / 3000 + (number == 2), 3.0 * np.sin(x / 500), number, way]
        for number, way in ((1, "forward"), (2, "backward"))
        for x in X
    ]
    return table(path, "position_mm,EAZ_um_per_m,EBZ_um_per_m,pass,direction", rows, *remarks)


def test_pitch_and_yaw_have_code_name_extremes_and_direction(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = angles_table(tmp_path / "a.csv", "up: -Y", "operator: +X", "functional_point: tool tip")
    pitch, yaw = results(capsys, "angles", file, "--drawing", tmp_path / "a.svg")
    assert (pitch["kind"], pitch["code"], pitch["name"]["key"]) == ("angles", "EAZ", "quantities.pitch")
    assert (yaw["code"], yaw["name"]["key"]) == ("EBZ", "quantities.yaw")
    found = pitch["result"]
    assert found["value_um_per_m"] == pytest.approx(8.0)
    assert (found["largest_um_per_m"], found["largest_at_mm"]) == (pytest.approx(8.5), 3000.0)
    assert (found["smallest_um_per_m"], found["smallest_at_mm"]) == (pytest.approx(0.5), 0.0)
    assert pitch["largest_reversal_um_per_m"] == pytest.approx(-1.0)
    assert pitch["basis"]["passes"] == [1, 2]
    assert pitch["basis"]["positive"] == {"EAZ": "right-side-up"}
    said = answered(capsys, "angles", file)
    assert "EAZ (pitch): 8.0 µm/m, largest minus smallest; largest +8.5 at 3000 mm, smallest +0.5 at 0 mm" in said
    assert "EBZ (yaw)" in said
    assert "Figures are positive clockwise seen from above." in said
    assert "pitch (EAZ)" in words_of(tmp_path / "a.svg")
    assert "yaw (EBZ)" in words_of(tmp_path / "a-2.svg")


def test_without_axes_only_a_roll_has_a_plain_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows: list[list[object]] = [[x, 1.0, 2.0] for x in X]
    file = table(tmp_path / "a.csv", "position_mm,EAX_um_per_m,ECX_um_per_m", rows)
    said = answered(capsys, "angles", file)
    assert "EAX (roll)" in said
    assert "ECX (rotation)" in said
    assert "Not stated: functional point, readings left out, how the axes lie." in said
    straight = table(tmp_path / "s.csv", "position_mm,EYX_um", [[x, 1.0] for x in X])
    assert "no rotation to use (it has: EYX)" in answered(capsys, "angles", straight, code=1)


def test_three_squares_from_tables(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, two, three = 6.0, -2.0, 9.0
    pairs = {"12": one + two, "23": two + three, "31": three + one}
    files = [
        table(
            tmp_path / f"{name}.csv", "position_mm,gap_um,sd_um", [[h, 20 - total * h / 1000, 0.3] for h in X[1:] / 10]
        )
        for name, total in pairs.items()
    ]
    (found,) = results(capsys, "squares", *files, "--drawing", tmp_path / "s.svg")
    assert found["result"]["error_um_per_m"] == pytest.approx([one, two, three])
    assert found["result"]["uncertainty_um_per_m"] > 0.1
    said = answered(capsys, "squares", *files)
    assert "square 1 +6.0, square 2 −2.0, square 3 +9.0 µm/m" in said
    assert "Rests on 12.csv. Rests on 23.csv. Rests on 31.csv." in said
    assert "squares 1 and 2" in words_of(tmp_path / "s.svg")
    bad = table(tmp_path / "bad.csv", "position_mm,gap_um", [[0, 1], [1, "x"]])
    assert "bad.csv, line 3" in answered(capsys, "squares", bad, *files[:2], code=1)


def test_a_given_line_stands_beside_the_three(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A straight line of 10 um/m, judged about one that is level at 5 um: from -5 to +25 um over 3000 mm."""
    file = table(tmp_path / "g.csv", "position_mm,EYZ_um", [[x, x / 100] for x in X])
    (found,) = results(capsys, "straightness", file, "--given", 5, 0)
    assert found["reference"] == "given"
    assert set(found["by_reference"]) == {"end-points", "least-squares", "minimum-zone", "given"}
    given = found["by_reference"]["given"]
    assert (given["value_um"], given["smallest_um"], given["largest_um"]) == pytest.approx((30.0, -5.0, 25.0))
    assert found["by_reference"]["minimum-zone"]["value_um"] == pytest.approx(0.0, abs=1e-9)
    said = answered(capsys, "straightness", file, "--given", 5, 0, "--drawing", tmp_path / "g.svg")
    assert "given line" in said
    assert "30.0 µm from the given line" in said
    assert "about the given line" in words_of(tmp_path / "g.svg")


def test_the_flip_is_recorded_and_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An S: the line through its ends sees both humps in full, the minimum zone leans with it."""
    y = 10 * np.sin(2 * np.pi * X / 3000)
    file = table(tmp_path / "f.csv", "position_mm,EYZ_um", [[x, v] for x, v in zip(X, y, strict=True)])
    (found,) = results(capsys, "straightness", file)
    flip = found["flip"]
    assert (flip["smallest"], flip["share"]) == ("minimum-zone", 0.15)
    assert flip["difference_share"] > 0.15
    assert flip["reason"]["key"] == "angles.lines_differ"
    assert "Agree with the customer which one counts" in answered(capsys, "straightness", file)
    (calm,) = results(capsys, "straightness", file, "--flip-share", 2.0)
    assert calm["flip"]["reason"] is None
    assert "Agree with" not in answered(capsys, "straightness", file, "--flip-share", 2.0)


def test_a_reflector_carriage_knows_no_level_and_no_earth(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows: list[list[object]] = [[x, 500.0 + tilt] for x, tilt in ((0, 4), (100, 2), (200, 0), (300, -2), (400, -4))]
    file = table(tmp_path / "r.csv", "position_mm,tilt_um_per_m", rows)
    (level,), (reflector,) = (
        results(capsys, "level", file, "--base-mm", 100, *more) for more in ((), ("--reflector",))
    )
    assert reflector["height_um"] == level["height_um"]
    assert reflector["by_reference"]["end-points"] == pytest.approx(0.6)  # 0, 0.4, 0.6, 0.6, 0.4, 0
    said = answered(capsys, "level", file, "--base-mm", 100, "--reflector")
    assert "Angles of a reflector carriage" in said
    assert "mm/m" not in said
    assert "leave --beam out" in answered(capsys, "level", file, "--base-mm", 100, "--reflector", "--beam", code=1)


def test_the_mean_of_passes_is_shown_with_the_drift_in_and_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two passes forward of a straight way; the angle of the beam drifts by 90 um/m an hour and bends both alike."""
    rows: list[list[object]] = []
    for number, way in ((1, "forward"), (2, "forward")):
        for k, x in enumerate(X):
            time_s = 400 * (number - 1) + 20 * k
            rows.append([x, time_s, 90 * time_s / 3600 * x / 1000, number, way])
    file = table(tmp_path / "d.csv", "position_mm,time_s,EYZ_um,pass,direction", rows)
    (found,) = results(capsys, "passes", file)
    bow_um = 90 * (20 * 12 / 3600) * 3.0 / 4  # theta L / 4
    assert found["by_reference"]["end-points"] == pytest.approx(bow_um, rel=0.02)
    assert found["by_reference_without_drift"]["minimum-zone"] == pytest.approx(0.0, abs=1e-6)
    said = answered(capsys, "passes", file)
    assert "Mean of the passes as read" in said
    assert "With the drift of the beam taken out: 0.0, 0.0 and 0.0 µm" in said


def test_a_table_without_pass_or_direction_claims_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = table(tmp_path / "p.csv", "position_mm,EYZ_um", [[x, 0.0] for x in X])
    (found,) = results(capsys, "straightness", file)
    assert found["direction"] is None
    assert "forward" not in answered(capsys, "straightness", file)


def test_a_long_axis_has_no_repeatability(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows: list[list[object]] = [
        [x, 0.5 * (number % 3), number, way]
        for number, way in enumerate(("forward", "backward") * 2, start=1)
        for x in (X if way == "forward" else X[::-1])
    ]
    file = table(tmp_path / "l.csv", "position_mm,EZZ_um,pass,direction", rows)
    (found,) = results(capsys, "positioning", file)
    assert found["result"]["accuracy_um"] is None
    assert "Over 3000 mm ISO 230-2 takes one run each way and evaluates no repeatability" in answered(
        capsys, "positioning", file
    )
    short: list[list[object]] = [[float(row[0]) / 2, *row[1:]] for row in rows]  # type: ignore[arg-type]
    (found,) = results(capsys, "positioning", table(tmp_path / "s.csv", "position_mm,EZZ_um,pass,direction", short))
    assert found["result"]["accuracy_um"] is not None
    assert found["not_judged"]["key"] == "evaluate.fewer_runs"


def test_the_uncertainty_of_a_sag_can_be_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows: list[list[object]] = [[x, 1.0, -1.0, 0.001, 0.001] for x in (0, 250, 500, 750, 1000)]
    file = table(tmp_path / "e.csv", "position_mm,normal_um,turned_um,sd_normal_um,sd_turned_um", rows)
    words = ("straightedge", file, "--supports-mm", 0, 1000, "--length-mm", 1000, "--height-mm", 40)
    (tenth,), (half,) = results(capsys, *words), results(capsys, *words, "--sag-uncertainty", 0.5)
    ratio = np.array(half["result"]["machine_noise_um"][1:4]) / np.array(tenth["result"]["machine_noise_um"][1:4])
    assert ratio == pytest.approx(5.0, rel=1e-3)
    assert "standard uncertainty of 50% of it" in answered(capsys, *words, "--sag-uncertainty", 0.5)
    assert "-0.1 cannot be" in answered(capsys, *words, "--sag-uncertainty=-0.1", code=1)
