"""``evaluate`` with an uncertainty: twist, squareness, parallelism, space, segments, level, guideway."""

import math
from pathlib import Path

import numpy as np
import pytest
from made_stated import stated

from waywright.cli import main
from waywright.files import ReadingsTable, write_table
from waywright.jobs.asked import Asked, answer_to
from waywright.jobs.stated_more import stated_of
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder

X = np.linspace(0.0, 3000.0, 16)
RNG = np.random.default_rng(11)


def table(path: Path, **columns: np.ndarray) -> str:
    write_table(path, ReadingsTable(X, columns))
    return str(path)


def quickly(kind: str, budget: str, **options: object) -> tuple[StatedResult, ...]:
    """The same without what would help most, which takes some seven times as long."""
    return stated_of(answer_to(Asked(kind, options), None).results, StatedOrder(budget=budget, draws=1000))


def test_twist_in_um_per_m_with_its_verdict(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    roll = table(tmp_path / "roll.csv", EAX=X / 100.0 + RNG.normal(0.0, 1.0, 16))
    total, ends = stated(capsys, "twist", roll, "--uncertainty", "cross-level", "--tolerance", "0.02/500")
    assert (total["what"], total["unit"], ends["what"]) == ("twist", "um/m", "twist-end-to-end")
    low, high = ends["interval"]
    assert low < 30.0 < high
    # The ends alone: drift 1/sqrt(3) and two readings of about 1.3 um/m each; neighbours lower it.
    assert 0.8 < ends["standard_uncertainty"] < 2.0
    assert (total["limit"], total["decision"]["verdict"]) == (pytest.approx(40.0), "conforms")


def test_squareness_holds_the_square_once(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    first = table(tmp_path / "x.csv", EYX=0.020 * X + RNG.normal(0.0, 0.8, 16))
    second = table(tmp_path / "y.csv", EXY=0.010 * X + RNG.normal(0.0, 0.8, 16))
    budget = tmp_path / "budget.toml"
    square = '\n[[contribution]]\nname = "square"\nacts = "tilt"\nvalue = 3.0\nunit = "um/m"\nsource = "certificate"\n'
    assert main(["sheet", "budget", "beam"]) == 0
    budget.write_text(capsys.readouterr().out + square, encoding="utf-8")
    arguments = [first, second, "--code", "C0Y"]
    [found] = stated(capsys, "squareness", *arguments, "--uncertainty", str(budget), "--tolerance", "0.05/1000")
    [without] = stated(capsys, "squareness", *arguments, "--uncertainty", "beam")
    assert found["value"] == pytest.approx(-30.0, abs=2.0)
    low, high = found["interval"]
    assert low < -30.0 < high
    assert [row["contribution"] for row in found["rows"] if row["name"] == "square"] == [pytest.approx(3.0)]
    # The square's 3 um/m once, in quadrature; 4000 draws give both to 1 %.
    both = math.hypot(without["standard_uncertainty"], 3.0)
    assert found["standard_uncertainty"] == pytest.approx(both, rel=0.05)
    assert found["decision"]["verdict"] == "conforms"
    assert {row["line"] for row in found["rows"]} == {1, 2}


def test_parallelism_with_the_tie_in_the_budget(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    first = table(tmp_path / "a.csv", EYX=RNG.normal(0.0, 0.8, 16))
    second = table(tmp_path / "b.csv", EYX=0.020 * X + RNG.normal(0.0, 0.8, 16))
    [plain] = stated(capsys, "parallelism", first, second, "--uncertainty", "beam", "--tolerance", "0.01/1000")
    [tied] = stated(capsys, "parallelism", first, second, "--uncertainty", "beam", "--link-uncertainty-um-per-m", "4")
    assert plain["interval"][0] < 20.0 < plain["interval"][1]
    assert plain["decision"]["verdict"] == "does not conform"
    assert tied["standard_uncertainty"] == pytest.approx(math.hypot(plain["standard_uncertainty"], 4.0), rel=0.05)


def test_segments_level_guideway_and_space(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bow = 12.0 * (1.0 - (X / 1500.0 - 1.0) ** 2)
    both = table(tmp_path / "both.csv", EYX=bow + RNG.normal(0.0, 0.5, 16), EZX=bow / 2 + RNG.normal(0.0, 0.5, 16))
    [space] = stated(capsys, "spatial", both, "--uncertainty", "beam", "--tolerance", "0.05")
    assert space["interval"][0] < math.hypot(12.0, 6.0) < space["interval"][1]
    assert space["decision"]["verdict"] == "conforms"

    angle = table(tmp_path / "angle.csv", EAZ=np.gradient(-bow, X / 1e3) + RNG.normal(0.0, 0.3, 16))
    [shape] = quickly("guideway", "autocollimator", file=Path(angle), quantity="EYZ", sense=1)
    assert shape.interval[0] < 12.0 < shape.interval[1]

    tilts = tmp_path / "level.csv"
    steps = np.diff(bow) / 0.2
    rows = "\n".join(f"{x:.0f},{tilt:.3f}" for x, tilt in zip(X[:-1], steps, strict=True))
    tilts.write_text(f"position_mm,tilt_um_per_m\n{rows}\n", encoding="utf-8")
    [level] = stated(capsys, "level", str(tilts), "--base-mm", "200", "--uncertainty", "level", "--tolerance", "0.005")
    assert level["interval"][0] < 12.0 < level["interval"][1]
    assert level["decision"]["verdict"] == "does not conform"
    assert level["noise_floor"] > 0.0
    assert level["helps"]

    near, far = X < 2000.0, X > 1000.0
    parts = []
    for name, part, tilt in (("near", near, 0.0), ("far", far, 0.003)):
        parts.append(tmp_path / f"{name}.csv")
        write_table(parts[-1], ReadingsTable(X[part], {"EYX": bow[part] + tilt * X[part]}))
    [whole] = quickly("segments", "beam", files=tuple(parts), quantity=None)
    assert whole.interval[0] < 12.0 < whole.interval[1]
    assert next(row for row in whole.rows if row.acts == "join").contribution > 0.1


def test_a_result_without_a_stated_uncertainty_says_so(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    one = table(tmp_path / "one.csv", EYX=X / 100.0)
    assert main(["evaluate", "twist", one, "--uncertainty", "beam"]) == 1
    assert main(["evaluate", "straightness", one, "--tolerance", "0.01"]) == 1
    assert "A verdict needs the uncertainty" in capsys.readouterr().err
