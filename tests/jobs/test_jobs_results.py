"""From kept readings to results, report and back: signs, repeats, exclusions, mending."""

import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import msgspec
import numpy as np
import pytest
from made_line import STATIONS_MM, begin_line, height_um, take_pass

from waywright.archive import Archive, open_archive
from waywright.cli import main
from waywright.clocks import new_id
from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.files import read_table
from waywright.jobs.begin import Begun
from waywright.jobs.measured import find_line, joined, measured_line, results_of_line
from waywright.jobs.mend import Mending, mend
from waywright.jobs.prove import report_of_line
from waywright.jobs.remember import check, overview, pass_detail
from waywright.jobs.take import unfinished
from waywright.visit import Exclusion

TRUE_UM = straightness(STATIONS_MM, height_um(STATIONS_MM)).value_um


@pytest.fixture
def archive(tmp_path: Path) -> Iterator[Archive]:
    with open_archive(tmp_path / "a.sqlite", create=True) as opened:
        yield opened


@pytest.fixture
def begun(archive: Archive, tmp_path: Path) -> Begun:
    return begin_line(archive, tmp_path)


def test_height_is_up_on_the_screen_and_down_in_the_iso_sign(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    measured = measured_line(archive, begun.line)
    column = measured.passes[0].profile.column("EYZ")
    assert column is not None
    assert column.on_screen.value == "up"
    slope_um = 0.004 * STATIONS_MM
    assert column.screen == pytest.approx(height_um(STATIONS_MM) + slope_um)
    assert column.iso == pytest.approx(-height_um(STATIONS_MM) - slope_um)


def test_a_repeat_counts_and_the_first_stays(archive: Archive, begun: Begun) -> None:
    taken = take_pass(archive, begun, 1, repeat=7)
    measured = measured_line(archive, begun.line)
    assert len(measured.passes[0].readings) == 21
    assert measured.passes[0].superseded == 1
    assert len(archive.readings(taken.id)) == 22
    [height, _] = results_of_line(measured, "least-squares", None)
    assert height.chosen.value_um == pytest.approx(TRUE_UM)


def test_the_mean_of_two_passes_stands_last(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2, offset_um=40.0)
    measured = measured_line(archive, begun.line)
    height = [result for result in results_of_line(measured, "end-points", 1000.0) if result.code == "EYZ"]
    assert [result.pass_number for result in height] == [1, 2, None]
    assert height[-1].chosen.value_um == pytest.approx(30.0)
    assert height[-1].chosen.largest_at_mm == 2500.0
    assert height[-1].positive == "up"
    assert height[-1].local is not None
    assert height[-1].local.value_um == pytest.approx(_worst_local_um(1000.0), abs=0.05)
    assert joined(measured, "EYZ").reversal == pytest.approx(-40.0)


def _worst_local_um(window_mm: float) -> float:
    """The sine is bent most in the middle: its sagitta over a window there."""
    return 30 * (1 - float(np.cos(np.pi * window_mm / 2 / 5000)))


def test_an_excluded_reading_is_left_out(archive: Archive, begun: Begun) -> None:
    taken = take_pass(archive, begun, 1)
    fifth = archive.readings(taken.id)[5]
    archive.save(Exclusion(new_id(), fifth.id, "somebody leaned on the bed", datetime.now(UTC)))
    measured = measured_line(archive, begun.line)
    assert measured.passes[0].excluded == 1
    assert fifth.position_mm not in measured.passes[0].profile.position_mm
    assert "left out: somebody leaned" in pass_detail(str(taken.id), archive.path).rows[5].remark


def test_a_wrong_sign_is_mended_and_raw_data_stay(archive: Archive, begun: Begun) -> None:
    taken = take_pass(archive, begun, 1)
    before = archive.readings(taken.id)
    mend(None, Mending(channel="beam.vertical_um", positive="down", reason="mounted upside down"), archive.path)
    column = measured_line(archive, begun.line).passes[0].profile.column("EYZ")
    assert column is not None
    assert column.screen == pytest.approx(-height_um(STATIONS_MM) - 0.004 * STATIONS_MM)
    assert [reading.hash for reading in archive.readings(taken.id)] == [reading.hash for reading in before]
    newest = archive.interpretation(begun.setup.id)
    assert newest is not None
    assert newest.reason == "mounted upside down"


def test_swapped_channels_are_mended(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    mend(None, Mending(channel="beam.vertical_um", positive="towards-operator", reason="swapped"), archive.path)
    mend(None, Mending(channel="beam.side_um", positive="up", reason="swapped"), archive.path)
    results = {r.code: r for r in results_of_line(measured_line(archive, begun.line), "end-points", None)}
    assert results["EXZ"].chosen.value_um == pytest.approx(30.0)
    assert results["EYZ"].chosen.value_um == pytest.approx(0.0, abs=1e-9)


def test_mending_names_what_there_is(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    with pytest.raises(BadInput, match=r"no channel 'beam.up_um'.*it has: beam.vertical_um, beam.side_um"):
        mend(None, Mending(channel="beam.up_um", reason="-"), archive.path)
    with pytest.raises(BadInput, match=r"'upwards' is not a physical direction.*towards-operator"):
        mend(None, Mending(channel="beam.side_um", positive="upwards", reason="-"), archive.path)


def test_the_report_agrees_with_the_table_it_leaves(archive: Archive, begun: Begun, tmp_path: Path) -> None:
    take_pass(archive, begun, 1, repeat=3)
    take_pass(archive, begun, 2)
    written = report_of_line("carriage", tmp_path / "out", path=archive.path)
    assert [path.suffix for path in written.files] == [".pdf", ".xlsx", ".csv"]
    table = read_table(written.files[2])
    first = table.passes()[0]
    again = straightness(first.position_mm, first.columns["EYZ"])
    assert again.value_um == pytest.approx(written.results[0].chosen.value_um, abs=1e-9)
    assert again.largest_um == pytest.approx(-written.results[0].chosen.smallest_um, abs=1e-9)


def test_the_list_the_detail_and_the_check(archive: Archive, begun: Begun) -> None:
    taken = take_pass(archive, begun, 1, repeat=7)
    [entry] = overview(archive.path)
    assert (entry.machine, entry.line, entry.stations, entry.outcome) == ("HR-6", "carriage", 21, "finished")
    detail = pass_detail(str(taken.id)[-8:], archive.path)
    assert (detail.rows[8].number, detail.rows[7].remark) == (8, "taken again as no. 9")
    assert detail.rows[8].remark == "repeat"
    assert check(archive.path).sound
    with pytest.raises(BadInput, match="fits 0 passes"):
        pass_detail("zz", archive.path)


def test_a_line_without_a_pass_does_not_hide_the_newest_measured_one(
    archive: Archive, begun: Begun, tmp_path: Path
) -> None:
    take_pass(archive, begun, 1)
    empty = begin_line(archive, tmp_path)
    assert empty.line.id > begun.line.id
    assert find_line(archive, None) == begun.line
    assert find_line(archive, str(empty.line.id)) == empty.line


@pytest.mark.parametrize("option", ["--averaging-s", "--dwell-s", "--smallest-step-mm", "--factor"])
@pytest.mark.parametrize("value", ["0", "-1"])
def test_a_time_or_step_that_is_not_positive_is_bad_use(option: str, value: str, tmp_path: Path) -> None:
    archive = tmp_path / "a.sqlite"
    assert main(["capture", "beam.toml", "--archive", str(archive), f"{option}={value}"]) == 2
    assert not archive.exists()


def test_a_mark_that_the_machine_does_not_have_is_named_before_the_first_reading(
    archive: Archive, tmp_path: Path
) -> None:
    with pytest.raises(BadInput, match=r"mark .door., which HR-6 does not have .it has: tailstock mark"):
        begin_line(archive, tmp_path, mark="door")
    assert archive.visits() == ()


def test_what_is_not_there_is_said(archive: Archive, begun: Begun, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no readings yet"):
        report_of_line(None, tmp_path / "out", path=archive.path)
    with pytest.raises(BadInput, match="holds no line 'other'"):
        find_line(archive, "other")
    with pytest.raises(BadInput, match="no pass that was interrupted"):
        unfinished(archive, begun)
    finished = take_pass(archive, begun, 1)
    with pytest.raises(BadInput, match="no pass that was interrupted"):
        unfinished(archive, begun)
    archive.save(replace(finished, outcome="stopped"))
    assert unfinished(archive, begun).continuing


def test_commands_answer_in_json_with_units_in_the_names(
    archive: Archive, begun: Begun, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    taken = take_pass(archive, begun, 1)
    file = ["--archive", str(archive.path), "--json"]
    assert main(["report", "--folder", str(tmp_path / "out"), *file]) == 0
    answer = msgspec.json.decode(capsys.readouterr().out)
    assert answer["results"][0]["by_reference"]["least-squares"]["value_um"] == pytest.approx(TRUE_UM)
    assert main(["archive", "show", str(taken.id), *file]) == 0
    assert len(msgspec.json.decode(capsys.readouterr().out)["rows"]) == 21
    assert main(["archive", "list", *file]) == 0
    assert msgspec.json.decode(capsys.readouterr().out)[0]["pass_id"] == str(taken.id)
    assert main(["archive", "check", *file]) == 0
    assert msgspec.json.decode(capsys.readouterr().out)["readings"] == 21


def test_exit_codes_and_reasons_on_stderr(tmp_path: Path) -> None:
    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "waywright", *arguments], capture_output=True, text=True, check=False
        )

    missing = run("archive", "list", "--archive", str(tmp_path / "none.sqlite"))
    assert (missing.returncode, missing.stdout) == (1, "")
    assert "There is no archive at" in missing.stderr
    wrong = run("evaluate", "straightness", "--reference", "best", "x.csv")
    assert wrong.returncode == 2
    assert "best" in wrong.stderr
    assert run("nonsense").returncode == 2
    assert run("--version").stdout.strip() == "0.1.0"
