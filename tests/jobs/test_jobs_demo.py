"""The demo is the main job: a process with real peers, captured by the code that real instruments would feed."""

import subprocess
import sys
from pathlib import Path
from typing import Any

import msgspec
import pytest
from pypdf import PdfReader

from waywright.archive import open_archive
from waywright.capture import recut, standstill_settings
from waywright.evaluate import straightness
from waywright.files import read_table
from waywright.jobs.measured import find_line, measured_line


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("demo")


@pytest.fixture(scope="module")
def outcome(folder: Path) -> Any:
    command = [sys.executable, "-m", "waywright", "demo", "--json", "--folder", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=240, check=False)
    assert done.returncode == 0, done.stderr
    return msgspec.json.decode(done.stdout)


def test_every_stop_of_the_operator_became_a_station(outcome: Any) -> None:
    """22 stops about every 240 mm besides the start; none is a hesitation, none is missing."""
    assert outcome["stations"] == [23, 23]


def test_the_truth_comes_out(outcome: Any) -> None:
    """The bounds are three times the scatter of the workshop's noise in a 3 s mean; drift leaves the mean of passes."""
    truth = {item["code"]: item for item in outcome["truth"]}
    assert truth["EYZ"]["largest_difference"] < 3.0
    assert truth["EXZ"]["largest_difference"] < 3.0
    assert truth["ECZ"]["largest_difference"] < 3.0
    assert truth["EYZ"]["measured"] == pytest.approx(truth["EYZ"]["true"], abs=3.0)


def test_a_repeat_and_a_disturbance_are_told_where_they_were(outcome: Any) -> None:
    with open_archive(outcome["archive"]) as archive:
        line = find_line(archive, outcome["line_id"])
        forward, backward = archive.passes(line.id)
        keys = [event.key for event in archive.events(forward.id)]
        readings = archive.readings(forward.id)
        assert archive.check().good
    # The person in the beam: lost values, or a window that began anew because this computer was held up just then.
    assert {"capture.lost", "capture.disturbed", "capture.gap"} & set(keys)
    spread_um = [value.standard_deviation for r in readings if (value := r.value("beam.vertical_um")) is not None]
    assert len(spread_um) == len(readings)
    assert max(spread_um) < 5.0
    assert "capture.repeat" in keys
    assert sum(reading.supersedes is not None for reading in readings) == 1
    assert {reading.direction for reading in readings[:12]} <= {"forward", None}
    assert backward.direction == "backward"
    assert forward.outcome == backward.outcome == "finished"


def test_the_report_says_the_same_as_its_table_and_the_archive(outcome: Any, folder: Path) -> None:
    table = read_table(next(folder.glob("*.csv")))
    [result] = [r for r in outcome["results"] if r["code"] == "EYZ" and r["pass_number"] == 1]
    first = table.passes()[0]
    value_um = straightness(first.position_mm, first.columns["EYZ"]).value_um
    assert value_um == pytest.approx(result["by_reference"]["least-squares"]["value_um"], abs=1e-9)
    pages = PdfReader(next(folder.glob("*.pdf"))).pages
    words = " ".join(page.extract_text() for page in pages)
    [mean] = [r for r in outcome["results"] if r["code"] == "EYZ" and r["pass_number"] is None]
    assert f"{mean['by_reference']['least-squares']['value_um']:.1f}" in words
    assert "HR-6" in words
    assert "invented" in words


def test_height_is_up_and_its_iso_sign_is_down(outcome: Any) -> None:
    with open_archive(outcome["archive"]) as archive:
        measured = measured_line(archive, find_line(archive, outcome["line_id"]))
    column = measured.passes[0].profile.column("EYZ")
    assert column is not None
    assert column.on_screen.value == "up"
    assert column.to_screen == -1


def test_the_kept_stream_gives_the_readings_again(outcome: Any) -> None:
    """The whole stream of the pass is there: cut again with the same settings, the same stations come out."""
    with open_archive(outcome["archive"]) as archive:
        line = find_line(archive, outcome["line_id"])
        taken = archive.passes(line.id)[0]
        again = recut(taken, archive.stream(taken.id), standstill_settings(taken, travel_end_mm=line.to_mm))
        kept = archive.readings(taken.id)
    assert [reading.position_mm for reading in again] == pytest.approx([reading.position_mm for reading in kept])
    height = [reading.value("beam.vertical_um").mean for reading in kept]  # type: ignore[union-attr]
    assert [r.value("beam.vertical_um").mean for r in again] == pytest.approx(height)  # type: ignore[union-attr]
