"""The whole job in the invented workshop: found, planned, turned by a fitter who errs, measured again, left."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import msgspec
import pytest

from waywright.archive import open_archive
from waywright.files import read_table


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("whole")


@pytest.fixture(scope="module")
def outcome(folder: Path) -> Any:
    command = [sys.executable, "-m", "waywright", "demo", "--whole", "--json", "--folder", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=900, check=False)
    assert done.returncode == 0, done.stderr
    return msgspec.json.decode(done.stdout)


def height_um(results: list[dict[str, Any]]) -> float:
    [mean] = [each for each in results if each["code"] == "EYZ" and each["pass_number"] is None]
    return float(mean["by_reference"]["minimum-zone"]["value_um"])


def test_the_bed_comes_from_seventy_micrometres_to_the_goal_in_at_most_three_rounds(outcome: Any) -> None:
    assert 60.0 < height_um(outcome["as_found"]) < 90.0
    assert 1 <= len(outcome["rounds"]) <= 3
    assert height_um(outcome["as_left"]) < 1.5 * outcome["goal_um"]


def test_each_round_says_what_was_asked_what_was_expected_and_what_was_read(outcome: Any) -> None:
    before_um = [each["value_before_um"] for each in outcome["rounds"]]
    after_um = [each["value_um"] for each in outcome["rounds"]]
    assert before_um[1:] == after_um[:-1]
    assert after_um[-1] < 0.4 * before_um[0]
    for each in outcome["rounds"]:
        assert each["interval_um"][0] <= each["expected_um"] <= each["interval_um"][1]
        assert set(each["moves_um"]) <= {str(number) for number in range(1, 15)}
        assert all(0.0 < abs(move) <= 200.0 for move in each["moves_um"].values())


def test_what_was_measured_as_left_is_the_truth_as_left(outcome: Any) -> None:
    truth = {each["code"]: each for each in outcome["truth"]}
    assert truth["EYZ"]["largest_difference"] < 3.0
    assert truth["ECZ"]["largest_difference"] < 3.0
    assert truth["EYZ"]["true"] < 0.4 * height_um(outcome["as_found"])


def test_both_states_are_reported_and_every_round_is_in_the_archive(outcome: Any, folder: Path) -> None:
    states = {read_table(path).metadata["state"] for path in folder.glob("*.csv")}
    assert states == {"as-found", "as-left"}
    picture = (folder / "as-found-as-left.svg").read_text(encoding="utf-8")
    assert "as found" in picture
    assert "as left" in picture
    assert all(Path(path).exists() for path in outcome["files"])
    with open_archive(outcome["archive"]) as archive:
        [visit] = archive.visits()
        lines = sorted(archive.lines(visit.id), key=lambda line: line.id)
        passes = [len(archive.passes(line.id)) for line in lines]
        assert archive.check().good
    assert [line.state for line in lines] == ["as-found", *["as-left"] * (len(lines) - 1)]
    assert passes == [2, *[1] * len(outcome["rounds"]), 2]
