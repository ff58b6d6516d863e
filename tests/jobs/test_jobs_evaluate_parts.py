"""Functional point, ram, roll, joint, ways, spindle, straightedge from tables: figures, words, drawings."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest

from waywright.cli import main
from waywright.evaluate import cantilever_sag_um, rectangle, round_bar, straightedge_sag_um
from waywright.evaluate.gravity import STEEL

X = np.linspace(0, 4000, 17)


def write(path: Path, header: str, rows: Sequence[Sequence[object]], *remarks: str) -> Path:
    lines = [*(f"# {one}" for one in remarks), header, *(",".join(map(str, row)) for row in rows)]
    path.write_text("\n".join(lines) + "\n")
    return path


def answered(capsys: pytest.CaptureFixture[str], *words: object, code: int = 0) -> str:
    assert main(["evaluate", *map(str, words)]) == code
    printed = capsys.readouterr()
    return " ".join((printed.out if code == 0 else printed.err).split())


def result(capsys: pytest.CaptureFixture[str], *words: object) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(answered(capsys, *words, "--json"))["results"][0]
    return found


def words_of(drawing: Path) -> str:
    tree = ElementTree.fromstring(drawing.read_text())
    return " ".join("".join(node.itertext()) for node in tree.iter() if node.tag.endswith(("text", "desc", "title")))


def test_functional_point_in_machine_axes_and_as_seen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A roll that grows, a tool 300 mm towards the operator: on a front-tool lathe +X, so EYZ gets +ECZ times 0.3."""
    header = "position_mm,EYZ_um,EAZ_um_per_m,EBZ_um_per_m,ECZ_um_per_m"
    rows = [[x, 2.0, 4.0, 1.0, 0.01 * x] for x in X]
    table = write(tmp_path / "t.csv", header, rows, "up: -Y", "operator: +X", "functional_point: tool tip")
    found = result(capsys, "functional-point", table, "--offset-mm", 300, 0, 0, "--drawing", tmp_path / "t.svg")
    assert found["kind"] == "functional-point"
    assert found["result"]["deviation_um"] == pytest.approx(2.0 + 0.003 * X)
    seen = result(capsys, "functional-point", table, "--offset-mm", 0, 0, 300, "--as-seen")
    assert seen["result"]["deviation_um"] == pytest.approx(found["result"]["deviation_um"])
    assert seen["basis"]["functional_point"] == "tool tip"
    assert seen["basis"]["positive"]["EYZ"] == "down"
    # +ECZ on this lathe turns +X towards +Y: the operator's side goes down; +EAZ turns +Y to +Z: the right goes up
    assert found["level"]["across_mm_per_m"] == pytest.approx(-0.01 * X / 1000)
    assert np.abs(found["level"]["along_mm_per_m"]) == pytest.approx(0.004)
    said = answered(capsys, "functional-point", table, "--offset-mm", 300, 0, 0)
    assert "ECZ brings up to 12.0 µm" in said
    assert "EYZ is positive down" in said
    assert "Functional point: tool tip" in said
    assert "at the functional point" in words_of(tmp_path / "t.svg")


def test_functional_point_without_a_rotation_or_axes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = write(tmp_path / "t.csv", "position_mm,EYZ_um,ECZ_um_per_m", [[x, 0.0, 5.0] for x in X])
    assert "EAZ was not measured" in answered(capsys, "functional-point", table, "--offset-mm", 0, 0, 200)
    said = answered(capsys, "functional-point", table, "--offset-mm", 0, 0, 200, "--as-seen", code=1)
    assert "does not say how the axes lie" in said


def test_ram(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [[e, 3 - 60 * (e / 800) ** 2, 3 - 60 * (e / 800) ** 2 + 0.05 * e] for e in (0, 200, 400, 600, 800)]
    table = write(tmp_path / "r.csv", "extension_mm,off_um,on_um", rows)
    found = result(capsys, "ram", table, "--drawing", tmp_path / "r.svg")
    assert found["result"]["difference_slope_um_per_m"] == pytest.approx(50.0)
    said = answered(capsys, "ram", table)
    assert "droops to −60.0 µm without weight compensation" in said
    assert "lifts the end by +40.0 µm (+50.0 µm/m)" in said
    assert "compensation off" in words_of(tmp_path / "r.svg")


def test_roll_of_a_vertical_axis(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    roll = 12 * np.sin(X / 700)
    base = 5 * np.cos(X / 900)
    one = write(tmp_path / "1.csv", "position_mm,EXZ_um,sd_EXZ_um", [[x, y, 0.3] for x, y in zip(X, base, strict=True)])
    rows = [[x, y - r * 0.5, 0.4] for x, y, r in zip(X, base, roll, strict=True)]
    two = write(tmp_path / "2.csv", "position_mm,EXZ_um,sd_EXZ_um", rows)
    words = ("roll", one, two, "--quantity", "EXZ", "--arm-mm", 500, "--drawing", tmp_path / "r.svg")
    found = result(capsys, *words, "--same-reference")
    assert found["code"] == "ECZ"
    assert found["result"]["roll_um_per_m"] == pytest.approx(roll - roll.mean())
    assert found["result"]["noise_um_per_m"] == pytest.approx(1.0)
    assert "a roll that grows evenly" in answered(capsys, *words)
    assert "ECZ" in words_of(tmp_path / "r.svg")


def test_joint_and_too_few_stations(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rng = np.random.default_rng(2)
    y = 20 * (X / 4000) * (1 - X / 4000) + 5.0 * (X > 1900) + rng.normal(0, 0.2, X.size)
    table = write(tmp_path / "j.csv", "position_mm,EYZ_um", list(zip(X, y, strict=True)))
    words = ("joint", table, "--at-mm", 1900, "--quantity", "EYZ")
    found = result(capsys, *words, "--drawing", tmp_path / "j.svg")
    assert found["result"]["step_um"] == pytest.approx(5.0, abs=0.6)
    assert found["result"]["before"] == 8
    assert "The step stands out of the noise" in answered(capsys, *words)
    assert "joint" in words_of(tmp_path / "j.svg")
    few = answered(capsys, *words, "--within-mm", 600)
    assert "not judged. There are 2 stations before it and 3 behind it; 4 are needed" in few
    assert result(capsys, *words, "--within-mm", 600)["result"]["reason"]["key"] == "geometry.joint_not_judged"


def test_ways_with_a_bridge_and_the_gauge(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The second line is read against another reference: 40 um lower and turned by 6 um/m; the bridge finds both."""
    first = 10 * np.sin(X / 800)
    second = first + 8 + 0.004 * X
    header = "position_mm,EYZ_um,EXZ_um"
    one = write(tmp_path / "1.csv", header, [[x, y, 0] for x, y in zip(X, first, strict=True)])
    rows = [[x, y - 40 - 0.006 * x, 0.002 * x] for x, y in zip(X, second, strict=True)]
    two = write(tmp_path / "2.csv", header, rows)
    bridge = write(
        tmp_path / "b.csv", "position_mm,difference_um,sd_um", [[x, 8 + 0.004 * x, 1] for x in (500, 2000, 3500)]
    )
    words = ("ways", one, two, "--gauge-mm", -800, "--height", "EYZ", "--side", "EXZ", "--bridge", bridge)
    found = result(capsys, *words, "--drawing", tmp_path / "w.svg")
    assert found["result"]["height_difference_um"] == pytest.approx(8 + 0.004 * X)
    assert found["result"]["cross_level_mm_per_m"] == pytest.approx((8 + 0.004 * X) / 800)
    assert found["result"]["gauge_angle_um_per_m"] == pytest.approx(-2.0)
    assert found["link_um_per_m"] == pytest.approx(6.0)
    said = answered(capsys, *words)
    assert "At 0 mm: cross-level +0.0100 mm/m" in said
    assert "Both as one surface" in said
    assert "gauge" in words_of(tmp_path / "w.svg")
    assert "no single quantity EZX" in answered(capsys, "ways", one, two, "--gauge-mm", 1, "--height", "EZX", code=1)


def test_spindle_with_the_sag_of_its_mandrel(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    x = np.array([20.0, 170.0, 320.0])
    sag = cantilever_sag_um(x, 350.0, round_bar(40.0, STEEL))
    rows = [[p, 0.03 * p + 4 + s, 0.03 * p - 4 + s] for p, s in zip(x, sag, strict=True)]
    table = write(tmp_path / "s.csv", "position_mm,at_0_um,at_180_um", rows)
    words = ("spindle", table, "--mandrel-mm", 350, 40, "--noise-um", 0.5)
    found = result(capsys, *words, "--drawing", tmp_path / "s.svg")
    assert found["result"]["angle_um_per_m"] == pytest.approx(30.0)
    assert found["result"]["over_length_um"] == pytest.approx(9.0)
    said = answered(capsys, *words)
    assert "leans +30.0 µm/m against the axis of motion, +9.0 µm over 300 mm" in said
    assert "run-out up to 8.0 µm" in said
    assert "Sag would have added" in said
    assert "spindle's axis" in words_of(tmp_path / "s.svg")
    given = write(tmp_path / "g.csv", "position_mm,at_0_um,at_180_um,mandrel_sag_um", [[*row, 0] for row in rows])
    assert "Leave one of them out" in answered(capsys, "spindle", given, "--mandrel-mm", 350, 40, code=1)


def test_straightedge_in_the_vertical_plane(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    x = np.linspace(100, 1100, 11)
    machine, own = 3 * np.sin(x / 150), 4 * np.cos(x / 200)
    sag = straightedge_sag_um(x - 100, 1000.0, (220.0, 780.0), rectangle(40.0, STEEL))
    rows = [[p, m + o + s, m - o + s, 0.2, 0.2] for p, m, o, s in zip(x, machine, own, sag, strict=True)]
    table = write(tmp_path / "e.csv", "position_mm,normal_um,turned_um,sd_normal_um,sd_turned_um", rows)
    words = (
        "straightedge",
        table,
        "--supports-mm",
        220,
        780,
        "--length-mm",
        1000,
        "--height-mm",
        40,
        "--start-mm",
        100,
    )
    found = result(capsys, *words, "--drawing", tmp_path / "e.svg")
    assert found["result"]["machine_um"] == pytest.approx(machine)
    assert found["result"]["straightedge_um"] == pytest.approx(own)
    noise = np.hypot(0.2 / np.sqrt(2), 0.1 * np.abs(sag))
    assert found["result"]["machine_noise_um"] == pytest.approx(noise)
    assert "is taken out" in answered(capsys, *words)
    assert "give the supports" in answered(capsys, "straightedge", table)
    assert "--length-mm" in answered(capsys, "straightedge", table, "--supports-mm", 220, 780, code=1)
    assert "straightedge" in words_of(tmp_path / "e.svg")


def test_level_at_each_place_in_mm_per_m(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = write(
        tmp_path / "l.csv", "position_mm,tilt_um_per_m,across_um_per_m", [[k * 200, 40 - k, k] for k in range(5)]
    )
    found = result(capsys, "level", table, "--base-mm", 200)
    assert found["middle_mm"] == pytest.approx([100, 300, 500, 700, 900])
    assert found["along_mm_per_m"] == pytest.approx([0.040, 0.039, 0.038, 0.037, 0.036])
    assert found["across_mm_per_m"] == pytest.approx([0, 0.001, 0.002, 0.003, 0.004])
    assert "At 300 mm: along +0.0390 mm/m, across +0.0010 mm/m" in answered(capsys, "level", table, "--base-mm", 200)


def test_every_result_carries_its_basis(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [[x, 0.01 * x, number] for number in (1, 2) for x in X]
    table = write(
        tmp_path / "t.csv", "position_mm,ECZ_um_per_m,pass", rows, "up: -Y", "operator: +X", "excluded: one, crane"
    )
    basis = result(capsys, "twist", table)["basis"]
    assert basis["files"] == ["t.csv"]
    assert basis["passes"] == [1, 2]
    assert basis["positive"] == {"ECZ": "operator-side-down"}
    assert basis["excluded_why"] == ["one, crane"]
    assert "Readings left out: 1 (one, crane)" in answered(capsys, "twist", table)


def test_the_height_of_ways_is_up_whatever_the_iso_sign(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """+Y points down on a front-tool lathe: a larger EYZ is a lower way."""
    one, two = (
        write(tmp_path / name, "position_mm,EYZ_um", [[x, rise * x] for x in X], "up: -Y", "operator: +X")
        for name, rise in (("1.csv", 0.0), ("2.csv", 0.002))
    )
    found = result(capsys, "ways", one, two, "--gauge-mm", 500, "--height", "EYZ")
    assert found["result"]["cross_level_mm_per_m"] == pytest.approx(-0.002 * X / 500)
    assert found["positive"] == "up"


def test_parallelism_says_what_its_lines_are(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, two = (
        write(tmp_path / name, "position_mm,EYZ_um", [[x, rise * x] for x in X])
        for name, rise in (("1.csv", 0.0), ("2.csv", 0.002))
    )
    words = ("parallelism", one, two, "--first-is", "guideway", "--second-is", "axis")
    found = result(capsys, *words)
    assert (found["first_subject"], found["second_subject"]) == ("guideway", "axis")
    assert found["result"]["angle_um_per_m"] == pytest.approx(2.0)
    assert "First is a guideway, second the motion of an axis" in answered(capsys, *words)
