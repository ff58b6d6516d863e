"""``evaluate straightness`` with an uncertainty and a tolerance rule."""

from pathlib import Path
from typing import Any

import msgspec
import numpy as np
import pytest

from waywright.cli import main
from waywright.files import ReadingsTable, write_table

POSITION_MM = np.linspace(0, 4000, 21)


@pytest.fixture
def table(tmp_path: Path) -> Path:
    noise = np.random.default_rng(3).normal(0, 0.5, 21)
    height = 25 * (1 - (2 * POSITION_MM / 4000 - 1) ** 2) + noise
    path = tmp_path / "line.csv"
    write_table(path, ReadingsTable(POSITION_MM, {"EZX": height}))
    return path


def stated(capsys: pytest.CaptureFixture[str], table: Path, *options: str) -> Any:
    assert main(["evaluate", "straightness", str(table), "--uncertainty", "beam", *options, "--json"]) == 0
    return msgspec.json.decode(capsys.readouterr().out)["stated"]


def test_the_value_its_interval_and_every_row(capsys: pytest.CaptureFixture[str], table: Path) -> None:
    [found] = stated(capsys, table, "--tolerance", "0.02 up to 1000, +0.01 per further 1000")
    low, high = found["interval"]
    assert low < 25.0 < high
    assert found["expanded"] == pytest.approx((high - low) / 2)
    short_low, short_high = found["shortest_interval"]
    assert short_high - short_low <= high - low
    assert found["bias"] == pytest.approx(found["value"] - found["best"], abs=0.3)
    assert found["rows_second_order"] >= found["rows_combined"]
    assert found["noise_floor"] < found["noise_floor_95"] < found["value"]
    assert {row["source"] for row in found["rows"]} >= {"assumed", "certificate", "computed"}
    assert found["limit"] == pytest.approx(50.0)
    assert found["decision"]["verdict"] == "conforms"
    assert found["decision"]["accepted"] is True


def test_a_limit_at_the_value_leaves_it_undecided(capsys: pytest.CaptureFixture[str], table: Path) -> None:
    [found] = stated(capsys, table, "--tolerance", "0.0255", "--burden", "customer")
    assert found["decision"]["verdict"] == "undecided"
    assert found["decision"]["accepted"] is True


def test_a_rule_that_needs_the_curve_is_checked_against_it(capsys: pytest.CaptureFixture[str], table: Path) -> None:
    [tight] = stated(capsys, table, "--tolerance", "0.001 over any 1000")
    [wide] = stated(capsys, table, "--tolerance", "0.02 over any 1000")
    assert (tight["decision"]["verdict"], wide["decision"]["verdict"]) == ("does not conform", "conforms")
    assert tight["limit"] is None
    assert tight["parts"][0]["value"] > tight["parts"][0]["limit"] == pytest.approx(1.0)


def test_a_verdict_without_uncertainty_is_none(capsys: pytest.CaptureFixture[str], table: Path) -> None:
    assert main(["evaluate", "straightness", str(table), "--tolerance", "0.03"]) == 1
    assert "A verdict needs the uncertainty" in capsys.readouterr().err


def test_for_people_the_verdict_is_a_sentence(capsys: pytest.CaptureFixture[str], table: Path) -> None:
    options = ["--uncertainty", "beam", "--tolerance", "0.01"]
    assert main(["evaluate", "straightness", str(table), *options]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "EZX: does not conform 0.01: " in said
    assert "against 10.0 um; only with 0.0%" in said
    assert "k = 1.9" in said or "k = 2.0" in said
    assert "sampling between stations" in said
