"""Evaluation commands from tables: figures, sentences, JSON, drawings, faults with file, line and column."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from waywright.cli import main
from waywright.evaluate import flatness, spatial_straightness, straightness


def write(path: Path, header: str, rows: Sequence[Sequence[object]]) -> Path:
    path.write_text("\n".join([header, *(",".join(str(cell) for cell in row) for row in rows)]) + "\n")
    return path


def answered(capsys: pytest.CaptureFixture[str], *words: object, code: int = 0) -> str:
    assert main(["evaluate", *map(str, words)]) == code
    printed = capsys.readouterr()
    return " ".join((printed.out if code == 0 else printed.err).split())


def result(capsys: pytest.CaptureFixture[str], *words: object) -> dict[str, object]:
    found: dict[str, object] = json.loads(answered(capsys, *words, "--json"))["results"][0]
    return found


def words_of(drawing: Path) -> str:
    tree = ElementTree.fromstring(drawing.read_text())
    assert tree.tag.endswith("svg")
    return " ".join("".join(node.itertext()) for node in tree.iter() if node.tag.endswith(("text", "desc", "title")))


X = np.linspace(0, 4800, 17)


def passes_table(path: Path, ways: str, *, slip: bool = False, drift: float = 0.0) -> Path:
    rng, time, rows = np.random.default_rng(5), 0.0, []
    for number, way in enumerate(ways, start=1):
        for index, x in enumerate(X if way == "F" else X[::-1]):
            y = 20 * math.sin(x / 1500) + (10 + drift * x / 1000) * time / 3600 + rng.normal(0, 0.3)
            y += 6.0 * (slip and number == 2 and index > 8)
            rows.append([x, time, float(y), number, "forward" if way == "F" else "backward", 0.3])
            time += 20
    return write(path, "position_mm,time_s,EYZ_um,pass,direction,sd_EYZ_um", rows)


def test_passes_slip_and_drift(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = passes_table(tmp_path / "p.csv", "FBF", slip=True, drift=30.0)
    said = answered(capsys, "passes", table, "--drawing", tmp_path / "p.svg")
    assert "Pass 2: from a place between" in said
    assert "Something slipped and stayed" in said
    assert "shown, not removed" in said
    assert "may have been taken for drift" in said
    drawn = words_of(tmp_path / "p.svg")
    assert "slipped" in drawn
    assert "reversal" in drawn
    assert "pass 2, backward" in drawn


def test_drift_is_removed_when_asked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = passes_table(tmp_path / "p.csv", "FBF", drift=60.0)
    before, after = result(capsys, "passes", table), result(capsys, "passes", table, "--remove-drift")
    assert before["drift"]["angle_um_per_m_per_h"] == pytest.approx(60.0, abs=5)  # type: ignore[index]
    assert after["drift"]["removed"] is True  # type: ignore[index]
    assert max(map(abs, before["reversal_um"])) > 5  # type: ignore[arg-type,call-overload]
    assert max(map(abs, after["reversal_um"])) < 1.5  # type: ignore[arg-type,call-overload]
    assert before["kind"] == "passes"


def test_one_pass_each_way_is_not_removed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = passes_table(tmp_path / "p.csv", "FB", drift=60.0)
    assert "cannot be told from a reversal that grows along the axis" in answered(capsys, "passes", table)
    assert "so it is not removed" in answered(capsys, "passes", table, "--remove-drift", code=1)
    far_s = 20.0 * (len(X) - 1)
    near, far = (2 * far_s + 60) * 10 / 3600, 60 * (10 + 60 * 4.8) / 3600
    closures = write(
        tmp_path / "c.csv", "position_mm,first_s,second_s,EYZ_um,sd_EYZ_um",
        [[0, -20, 2 * far_s + 40, near, 0.3], [4800, far_s, far_s + 60, far, 0.3]],
    )  # fmt: skip
    found = result(capsys, "passes", table, "--closures", closures, "--remove-drift")
    assert found["drift"]["separable"] is True  # type: ignore[index]
    assert found["drift"]["angle_um_per_m_per_h"] == pytest.approx(60.0, abs=0.5)  # type: ignore[index]


def test_passes_without_times_still_compare(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [[x, x / 1000, p, way] for p, way in ((1, "forward"), (2, "backward")) for x in X]
    table = write(tmp_path / "p.csv", "position_mm,EYZ_um,pass,direction", rows)
    assert result(capsys, "passes", table)["drift"] is None
    assert "have no times" in answered(capsys, "passes", table, "--remove-drift", code=1)


def test_spatial_is_that_of_the_evaluation(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    y, z = 8 * np.sin(X / 700), 5 * np.cos(X / 400)
    table = write(tmp_path / "s.csv", "position_mm,EYX_um,EZX_um", list(zip(X, y, z, strict=True)))
    found = result(capsys, "spatial", table, "--drawing", tmp_path / "s.svg")
    wanted = spatial_straightness(X, y, z).diameter_um
    assert found["result"]["diameter_um"] == pytest.approx(wanted)  # type: ignore[index]
    radius = np.hypot(found["first_deviation_um"], found["second_deviation_um"])  # type: ignore[call-overload]
    assert radius.max() == pytest.approx(wanted / 2, rel=1e-6)
    assert f"{wanted:.1f}" in words_of(tmp_path / "s.svg")
    lone = write(tmp_path / "one.csv", "position_mm,EYX_um", list(zip(X, y, strict=True)))
    assert "two straightness quantities of one axis" in answered(capsys, "spatial", lone, code=1)


def test_twist_over_a_gauge(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [[x, 10 * x / 1000, 3] for x in X]
    table = write(tmp_path / "t.csv", "position_mm,ECZ_um_per_m,EAZ_um_per_m", rows)
    said = answered(capsys, "twist", table, "--gauge-mm", 500, "--drawing", tmp_path / "t.svg")
    assert "twist 48.0 µm/m in all over 4800 mm" in said
    assert "+10.00 µm/m per metre" in said
    assert "height difference of 24.0 µm" in said
    assert "twist 48.0" in words_of(tmp_path / "t.svg")


@pytest.mark.parametrize(("against", "sign"), [([], -1), (["--against"], 1)])
def test_guideway_from_pitch(against: list[str], sign: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = write(tmp_path / "g.csv", "position_mm,EAZ_um_per_m", [[x, 20 - x / 100] for x in range(0, 4001, 200)])
    found = result(capsys, "guideway", table, "--quantity", "EYZ", *against)
    height = found["shape"]["height_um"]  # type: ignore[index]
    assert height[10] == pytest.approx(sign * 20.0)
    assert found["by_reference"]["end-points"] == pytest.approx(20.0)  # type: ignore[index]
    assert "averaged over the carriage" in answered(capsys, "guideway", table, "--quantity", "EYZ")


def square(tmp_path: Path, name: str, code: str, slope: float) -> Path:
    return write(tmp_path / name, f"position_mm,{code}_um", [[x, slope * x / 1000] for x in (0, 200, 400, 600)])


def test_squareness_and_the_square_s_own_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Axes open by 9 um/m, the square by 4: once as it is, once turned over."""
    first, second = square(tmp_path, "a.csv", "EYX", -7.0), square(tmp_path, "b.csv", "EXY", 2.0)
    said = answered(capsys, "squareness", first, second, "--code", "C0Y", "--artefact-um-per-m", 4)
    assert "The angle between +X and +Y is 9.0 µm/m larger than 90°" in said
    turned = square(tmp_path, "c.csv", "EYX", -14.0), square(tmp_path, "d.csv", "EXY", 1.0)
    found = result(
        capsys, "squareness", first, second, "--code", "C0Y", "--turned-first", turned[0], "--turned-second", turned[1]
    )
    assert found["result"]["opening_um_per_m"] == pytest.approx(9.0)  # type: ignore[index]
    assert found["artefact_found_um_per_m"] == pytest.approx(4.0)
    alone = answered(capsys, "squareness", first, second, "--code", "C0Y", "--turned-first", turned[0], code=1)
    assert "give both tables" in alone


def test_squareness_needs_the_right_columns(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first = square(tmp_path, "a.csv", "EYX", 1.0)
    assert "no single quantity EXY" in answered(capsys, "squareness", first, first, "--code", "C0Y", code=1)


def test_parallelism_and_its_link(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, two = (
        write(tmp_path / name, "position_mm,EYZ_um,sd_EYZ_um", [[x, slope * x / 1000, 0.5] for x in X])
        for name, slope in (("f.csv", 3.0), ("r.csv", 8.0))
    )
    assert "rises +5.0 µm/m" in answered(capsys, "parallelism", one, two)
    bridge = write(tmp_path / "b.csv", "position_mm,difference_um,sd_um", [[0, 0, 1], [2400, 16.8, 1], [4800, 33.6, 1]])
    found = result(capsys, "parallelism", one, two, "--bridge", bridge, "--drawing", tmp_path / "p.svg")
    assert found["linked"]["value_um_per_m"] == pytest.approx(7.0)  # type: ignore[index]
    assert found["linked"]["link_share"] > 0.5  # type: ignore[index]
    assert "+7.0" in words_of(tmp_path / "p.svg")
    beam = result(capsys, "parallelism", one, two, "--link-uncertainty-um-per-m", 2.0)
    assert beam["linked"]["method"] == "beam"  # type: ignore[index]


def test_segments(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    whole = np.arange(0, 9001, 500.0)
    true = 30 * np.sin(np.pi * whole / 9000)
    parts = []
    for name, use, offset in (("1.csv", whole <= 5000, 0.0), ("2.csv", whole >= 3500, 12.0)):
        rows = [[x, float(y + offset - 0.004 * offset * x), 0.4] for x, y in zip(whole[use], true[use], strict=True)]
        parts.append(write(tmp_path / name, "position_mm,EYZ_um,sd_EYZ_um", rows))
    found = result(capsys, "segments", *parts, "--drawing", tmp_path / "s.svg")
    assert found["by_reference"]["end-points"] == pytest.approx(straightness(whole, true, "end-points").value_um)  # type: ignore[index]
    assert found["joined"]["agree"] is True  # type: ignore[index]
    assert "overlap 1–2" in words_of(tmp_path / "s.svg")
    assert "Joining makes the middle less certain" in answered(capsys, "segments", *parts)


def test_flatness_of_a_grid_and_of_a_network(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same surface from heights and from slopes along its grid lines."""
    nodes = [(x, y) for y in (0, 200, 400) for x in (0, 200, 400, 600)]
    height = {node: 5 * math.sin(node[0] / 200) + 3 * math.cos(node[1] / 150) for node in nodes}
    grid = write(tmp_path / "g.csv", "x_mm,y_mm,height_um", [[*node, height[node]] for node in nodes])
    rows: list[list[object]] = []
    for name, step in (("row", (200, 0)), ("column", (0, 200))):
        for node in nodes:
            far = (node[0] + step[0], node[1] + step[1])
            if far in height:
                number = node[1] if name == "row" else node[0]
                rows.append([f"{name} {number}", *node, *far, (height[far] - height[node]) / 0.2])
    rows.sort(key=lambda row: str(row[0]))
    net = write(tmp_path / "n.csv", "line,from_x_mm,from_y_mm,to_x_mm,to_y_mm,tilt_um_per_m", rows)
    wanted = flatness(*zip(*nodes, strict=True), list(height.values())).value_um
    for table in (grid, net):
        found = result(capsys, "flatness", table, "--drawing", tmp_path / "f.svg")
        assert found["result"]["value_um"] == pytest.approx(wanted)  # type: ignore[index]
        assert f"flatness {wanted:.1f} µm" in words_of(tmp_path / "f.svg")
    assert "7 lines adjusted" in answered(capsys, "flatness", net)
    three = result(capsys, "flatness", grid, "--reference", "three-points", "--through", 1, 4, 9)
    assert [three["result"]["deviation_um"][k] for k in (0, 3, 8)] == pytest.approx([0, 0, 0], abs=1e-9)  # type: ignore[index]


def test_a_broken_line_of_a_network_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    header = "line,from_x_mm,from_y_mm,to_x_mm,to_y_mm,tilt_um_per_m"
    gap = write(tmp_path / "n.csv", header, [["a", 0, 0, 200, 0, 1], ["a", 300, 0, 500, 0, 1]])
    assert "n.csv, line 3: this step of the line 'a' does not begin" in answered(capsys, "flatness", gap, code=1)
    still = write(tmp_path / "n.csv", header, [["a", 0, 0, 0, 0, 1]])
    assert "n.csv, line 2: both feet stand at one place" in answered(capsys, "flatness", still, code=1)


def test_level_with_zero_across_base_and_earth(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = [[k * 250, 12 + 10 - k, 12 - 10 + k, 5 + k] for k in range(20)]
    header = "position_mm,tilt_um_per_m,turned_um_per_m,across_um_per_m"
    table = write(tmp_path / "l.csv", header, rows)
    found = result(capsys, "level", table, "--base-mm", 250, "--drawing", tmp_path / "l.svg")
    assert found["zero_um_per_m"] == pytest.approx(12.0)
    assert found["tilt_um_per_m"] == pytest.approx([10 - k for k in range(20)])
    assert found["height_um"][1] == pytest.approx(2.5)  # type: ignore[index]
    assert "tilt across" in words_of(tmp_path / "l.svg")
    said = answered(capsys, "level", table, "--base-mm", 240)
    assert "Step 1 is 250 mm, the base length 240 mm" in said
    assert "a beam would show 0.5 µm more hump" in answered(capsys, "level", table, "--base-mm", 250)
    bare = result(capsys, "level", table, "--base-mm", 250, "--beam")
    lower = straightness(bare["position_mm"], bare["height_um"], "end-points").value_um  # type: ignore[arg-type]
    assert lower - found["by_reference"]["end-points"] == pytest.approx(5.0**2 / 8 / 6.371, abs=0.01)  # type: ignore[index]


def test_level_positions_go_on_in_one_direction(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = write(tmp_path / "l.csv", "position_mm,tilt_um_per_m", [[0, 1], [200, 1], [200, 1]])
    assert "l.csv, line 4: the positions of the near foot" in answered(capsys, "level", table, "--base-mm", 200, code=1)


def test_positioning_hand_checked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Made to be checked by hand: B 4, R 7, E 7, M 4, A 11 (definitions of ISO 230-2, formulas from memory)."""
    rows, number = [], 0
    for scatter in (-1, -1, 0, 1, 1):
        for way, mean, sd in (
            ("forward", (0, 2, 5, 4, 1), (0.5, 0.5, 1, 0.5, 0.5)),
            ("backward", (-2, -1, 1, 2, -2), (0.5, 0.75, 0.5, 0.5, 1)),
        ):
            number += 1
            rows += [[100 * k, mean[k] + sd[k] * scatter, number, way] for k in range(5)]
    table = write(tmp_path / "r.csv", "position_mm,EXX_um,pass,direction", rows)
    said = answered(capsys, "positioning", table, "--drawing", tmp_path / "r.svg")
    assert "reversal B 4.0 µm (mean +2.8), systematic deviation E 7.0 µm, mean deviation M 4.0 µm" in said
    assert "Accuracy A 11.0 µm, repeatability R 7.0 µm" in said
    assert "upwards" in words_of(tmp_path / "r.svg")
    few = write(tmp_path / "few.csv", "position_mm,EXX_um,pass,direction", rows[:10])
    assert "no accuracy and no repeatability can be stated" in answered(capsys, "positioning", few)
    lone = write(tmp_path / "lone.csv", "position_mm,EXX_um,pass,direction", rows[:5])
    assert "has no backward run" in answered(capsys, "positioning", lone, code=1)


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("x_mm,y_mm,height_um\n0,0,1\n300,0,x\n", "g.csv, line 3, column height_um: found 'x'"),
        ("x_mm,y_mm,height_um\n0,0,\n", "g.csv, line 2, column height_um: the cell is empty"),
        ("x_mm,y_mm,tall_um\n0,0,1\n", "g.csv, line 1: the column 'tall_um' is not known here"),
        ("x_mm,y_mm\n0,0\n", "g.csv, line 1: no column 'height_um'"),
        ("x_mm,y_mm,height\n0,0,1\n", "g.csv, line 1: the column 'height' has no unit"),
        ("x_mm,y_mm,height_mile\n0,0,1\n", "the unit 'mile' is not known"),
        ("x_mm,x_mm,height_um\n0,0,1\n", "the column 'x_mm' stands twice"),
        ("x_mm,y_mm,height_um\n", "no readings below it"),
        ("x_mm,y_mm,height_um\n0,0,1\n300,0,1\n600,0,2\n", "line"),
    ],
)
def test_faults_are_named_by_place(body: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "g.csv"
    table.write_text(body)
    assert said in answered(capsys, "flatness", table, code=1)


def test_units_and_decimal_comma(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "g.csv"
    table.write_text("x_m;y_m;height_mm\n0;0;0,001\n0,3;0;0\n0;0,3;0\n0,3;0,3;0,001\n", encoding="utf-8-sig")
    found = result(capsys, "flatness", table)
    assert found["x_mm"] == [0.0, 300.0, 0.0, 300.0]
    assert found["result"]["value_um"] == pytest.approx(1.0)  # type: ignore[index]


def test_bad_use_is_2(tmp_path: Path) -> None:
    assert main(["evaluate", "squareness", "a.csv", "b.csv"]) == 2
    assert main(["evaluate", "nonsense"]) == 2
