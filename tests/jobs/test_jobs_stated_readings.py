"""``evaluate`` with an uncertainty for what is no line: flatness, positioning, joints, squares; angles and roll."""

from pathlib import Path
from typing import Any

import msgspec
import numpy as np
import pytest
from made_stated import stated

from waywright.cli import main
from waywright.evaluate import flatness
from waywright.files import ReadingsTable, write_table
from waywright.jobs.judge_surfaces import FlatnessResult
from waywright.jobs.stated_more import stated_of
from waywright.jobs.uncertain import StatedOrder

X = np.linspace(0.0, 3000.0, 21)
RNG = np.random.default_rng(17)
PLACES = [(float(x), float(y)) for y in range(0, 601, 150) for x in range(0, 901, 150)]
HEAD = 'format = 1\nmethod = "own"\n'


def lines(path: Path, head: str, rows: Any) -> str:
    path.write_text("\n".join([head, *(",".join(str(cell) for cell in row) for row in rows)]) + "\n", encoding="utf-8")
    return str(path)


def budget(path: Path, *rows: tuple[str, float, str]) -> str:
    text = HEAD + "".join(
        f'[[contribution]]\nname = "{acts}"\nacts = "{acts}"\nvalue = {value}\nunit = "{unit}"\n'
        for acts, value, unit in rows
    )
    path.write_text(text, encoding="utf-8")
    return str(path)


def bowl(x: float, y: float, depth: float = 8.0) -> float:
    return depth * (((x - 450.0) / 450.0) ** 2 + ((y - 300.0) / 300.0) ** 2) / 2.0


def test_flatness_of_heights_has_u_floor_and_verdict(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    grid = lines(
        tmp_path / "g.csv", "x_mm,y_mm,height_um", ((x, y, bowl(x, y) + RNG.normal(0.0, 0.4)) for x, y in PLACES)
    )
    file = budget(tmp_path / "b.toml", ("reading", 0.4, "um"), ("bow", 1.0, "um"))
    [found] = stated(capsys, "flatness", grid, "--uncertainty", file, "--tolerance", "0.012")
    low, high = found["interval"]
    assert low < 8.0 < high < 12.0
    assert found["best"] < found["value"], "noise makes it larger"
    # A bow of 1 um bends the middle off the corners by 1 um, whatever the readings are.
    assert {row["name"]: row["contribution"] for row in found["rows"]}["bow"] == pytest.approx(1.0, abs=0.01)
    # Largest minus smallest of 35 normal draws, three of them spent on the plane: 4.0 to 4.3 sigma (order statistics).
    assert 3.2 < found["noise_floor"] / 0.4 < 4.3
    assert found["noise_floor"] < found["noise_floor_95"]
    assert (found["limit"], found["decision"]["verdict"]) == (12.0, "conforms")


def test_flatness_of_slope_lines_is_as_uncertain_as_their_tilts(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    rows: list[tuple[object, ...]] = []
    for y in (0, 300, 600):
        for x in range(0, 900, 150):
            tilt = (bowl(x + 150, y) - bowl(x, y)) / 0.15
            rows.append((f"r{y}", x, y, x + 150, y, tilt))
    for x in (0, 450, 900):
        for y in range(0, 600, 150):
            tilt = (bowl(x, y + 150) - bowl(x, y)) / 0.15
            rows.append((f"c{x}", x, y, x, y + 150, tilt))
    net = lines(tmp_path / "n.csv", "line,from_x_mm,from_y_mm,to_x_mm,to_y_mm,tilt_um_per_m", rows)
    scaled, both = (tmp_path / "scale.toml", ("scale", 0.1, "1")), ("step-angle", 2.0, "um/m")
    [only_scale] = stated(capsys, "flatness", net, "--uncertainty", budget(*scaled))
    # A tenth of everything read is a tenth of the flatness.
    assert only_scale["rows_combined"] == pytest.approx(0.1 * only_scale["value"], rel=1e-3)
    [found] = stated(capsys, "flatness", net, "--uncertainty", budget(tmp_path / "t.toml", both, ("tilt", 5.0, "um/m")))
    parts = {row["name"]: row["contribution"] for row in found["rows"]}
    assert parts["tilt"] == pytest.approx(0.0, abs=1e-3), "the zero of the level is a plane"
    # One tilt moves a height by 2 um/m over 0.15 m = 0.3 um; four heights hold the zone, some steps lead to each.
    assert 0.1 < parts["step-angle"] < 1.0


def test_a_surface_flatter_than_the_noise_may_be_perfect() -> None:
    x, y = (np.array(each) for each in zip(*PLACES, strict=True))
    noise = np.random.default_rng(2).normal(0.0, 0.7, x.size)
    result = FlatnessResult(x, y, noise, flatness(x, y, noise))
    [found] = stated_of([result], StatedOrder(budget="straightedge"))
    assert found.interval[0] == 0.0
    assert found.interval[1] > 0.5
    assert found.noise_floor is not None


def test_positioning_has_u_for_every_figure(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    target = np.arange(0.0, 1001.0, 100.0)
    rows = []
    for run in range(5):
        for k, way in enumerate(("forward", "backward")):
            for at in target[:: 1 - 2 * k]:
                value = 0.006 * at + (1.5 if k == 0 else -1.5) + RNG.normal(0.0, 0.3)
                rows.append((at, 2 * run + k + 1, way, value))
    table = lines(tmp_path / "p.csv", "position_mm,pass,direction,EXX_um", rows)
    file = budget(tmp_path / "b.toml", ("tilt", 1.0, "um/m"), ("reading", 0.05, "um"))
    found = {
        each["what"]: each
        for each in stated(capsys, "positioning", table, "--uncertainty", file, "--tolerance", "0.02")
    }
    assert list(found) == ["accuracy", "systematic", "mean-deviation", "reversal", "repeatability"]
    # A scale error of 1 um/m over 1 m is 1 um of what grows along the axis, and nothing of reversal.
    assert found["systematic"]["standard_uncertainty"] == pytest.approx(1.0, rel=0.02)
    assert found["mean-deviation"]["rows_combined"] == pytest.approx(1.0, rel=0.02)
    assert found["reversal"]["standard_uncertainty"] < 0.1
    assert [each["decision"] is not None for each in found.values()] == [True, False, False, False, False]
    assert found["accuracy"]["decision"]["verdict"] == "conforms"


def test_a_joint_is_no_surer_than_its_stations_scatter(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    way = 4.0 * (X > 1400.0) + RNG.normal(0.0, 1.0, X.size)
    write_table(tmp_path / "j.csv", ReadingsTable(X, {"EYZ": way}))
    arguments = [str(tmp_path / "j.csv"), "--at-mm", "1400", "--tolerance", "0.01"]
    file = budget(tmp_path / "b.toml", ("reading", 0.01, "um"))
    step, kink = stated(capsys, "joint", *arguments, "--uncertainty", file)
    assert main(["evaluate", "joint", *arguments[:3], "--json"]) == 0
    [alone] = msgspec.json.decode(capsys.readouterr().out)["results"]
    assert step["standard_uncertainty"] == pytest.approx(alone["result"]["step_uncertainty_um"], rel=1e-6)
    assert kink["standard_uncertainty"] == pytest.approx(alone["result"]["kink_uncertainty_um_per_m"], rel=1e-6)
    assert step["degrees_of_freedom"] == pytest.approx(X.size - 5, rel=1e-3)
    assert (step["decision"]["verdict"], kink["decision"]) == ("conforms", None)


def test_three_squares_share_no_error(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    height = np.arange(20.0, 301.0, 40.0)
    gaps = [
        lines(tmp_path / f"{k}.csv", "position_mm,gap_um", zip(height, slope * height, strict=True))
        for k, slope in enumerate((0.012, -0.004, 0.007))
    ]
    file = budget(tmp_path / "b.toml", ("reading", 0.3, "um"))
    found = stated(capsys, "squares", *gaps, "--uncertainty", file, "--tolerance", "0.02/1000")
    # Slope of a line through n readings: sd / sqrt(sum (x - mean)^2); each error is half of three such sums.
    each = 0.3 / np.sqrt(((height - height.mean()) ** 2).sum()) * 1000.0 * np.sqrt(3.0) / 2.0
    assert [one["standard_uncertainty"] for one in found] == pytest.approx([each] * 3, rel=1e-3)
    assert [one["decision"]["verdict"] for one in found] == ["conforms"] * 3


def test_angles_and_roll_by_two_lines(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    first, second = (8.0 * scale * np.sin(X / 900.0) + RNG.normal(0.0, 0.5, X.size) for scale in (1.0, 1.5))
    for name, values in (("a", first), ("b", second)):
        write_table(tmp_path / f"{name}.csv", ReadingsTable(X, {"EXZ": values}))
    pair = [str(tmp_path / "a.csv"), str(tmp_path / "b.csv"), "--quantity", "EXZ", "--arm-mm", "500"]
    [roll] = stated(capsys, "roll", *pair, "--uncertainty", "beam", "--tolerance", "0.04/1000")
    true = 4.0 * np.sin(X / 900.0) / 0.5
    true = true - np.polyval(np.polyfit(X, true, 1), X)
    low, high = roll["interval"]
    assert low < np.ptp(true) < high
    assert (roll["unit"], roll["limit"], roll["decision"]["verdict"]) == ("um/m", 40.0, "conforms")
    write_table(tmp_path / "c.csv", ReadingsTable(X, {"EAX": X / 100.0 + RNG.normal(0.0, 1.0, X.size)}))
    [angle] = stated(capsys, "angles", str(tmp_path / "c.csv"), "--uncertainty", "cross-level")
    assert angle["interval"][0] < 30.0 < angle["interval"][1]
