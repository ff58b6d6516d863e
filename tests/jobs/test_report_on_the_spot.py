"""Tested on the spot: stations measured again before witnesses, and published values on the installed copy."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import made_line
import numpy as np
import pypdf
import pytest
from made_line import begin_line, descriptions, take_pass

from waywright.archive import Archive, open_archive
from waywright.cli import main
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.jobs import witness
from waywright.jobs.begin import Begun
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.jobs.prove import ReportOrder, lines_of_report, written_report
from waywright.jobs.published_checks import CHECKS
from waywright.jobs.self_check import keep_self_check, self_check
from waywright.jobs.spot_content import spot_content
from waywright.jobs.take import PassPlan
from waywright.jobs.witness import ChosenStations, begin_witness, keep_witness, prepared_witness, stations_of
from waywright.jobs.witness_compared import not_compared, witnessed

CHOSEN = (0.0, 1000.0, 2500.0, 3500.0, 5000.0)


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return open_archive(tmp_path / "a.sqlite", create=True)


def again(archive: Archive, begun: Begun, monkeypatch: pytest.MonkeyPatch, bump_um: float) -> MeasuredLine:
    """The same line a second time with another offset and tilt of the beam, and a bump at 2500 mm."""
    second = begin_witness(archive, begun.line, begun.instruments, SystemClock())
    true = made_line.height_um
    monkeypatch.setattr(made_line, "height_um", lambda p: true(p) + 7.0 - 0.002 * p + bump_um * np.isclose(p, 2500.0))
    take_pass(archive, second, 1)
    return measured_line(archive, second.line)


@pytest.mark.parametrize(("bump_um", "passed"), [(0.0, True), (6.0, False)])
def test_a_beam_aimed_anew_agrees_and_a_bump_does_not(
    archive: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, bump_um: float, passed: bool
) -> None:
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2, offset_um=0.2)
    first = measured_line(archive, begun.line)
    second = again(archive, begun, monkeypatch, bump_um)
    values = [each for each in witnessed(first, second, CHOSEN) if each.code == "EYZ"]
    assert [each.position_mm for each in values] == list(CHOSEN)
    assert all(0.05 < each.allowed < 2.0 for each in values)
    worst = max(values, key=lambda each: abs(each.difference))
    assert (worst.agrees, worst.position_mm) == ((True, worst.position_mm) if passed else (False, 2500.0))
    kept = keep_witness(archive, first, second, witnessed(first, second, CHOSEN))
    assert kept.passed is passed
    assert [line.id for line in lines_of_report(archive, ["all"])] == [begun.line.id]
    files = written_report([begun.line.name], tmp_path / "out", ReportOrder(uncertainty=False), archive.path).files
    text = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(files[0]).pages)
    words = "agree within the uncertainty of both" if passed else "differ by more than the uncertainty of both"
    assert words in text


@pytest.mark.parametrize(("bump_um", "passed"), [(0.0, True), (6.0, False)])
def test_stations_between_those_of_the_first_may_lie_off_the_straight_line_between_them(
    archive: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, bump_um: float, passed: bool
) -> None:
    """A wave of 6 um and 1.5 m under stations every 250 mm: half way, the true profile is 0.8 um off the line."""
    true = made_line.height_um
    monkeypatch.setattr(made_line, "height_um", lambda p: true(p) + 6.0 * np.sin(2 * np.pi * p / 1500.0))
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2)
    middle_mm = (-3.0, 1125.0, 1875.0, 2625.0, 4125.0, 5003.0)
    monkeypatch.setattr(made_line, "STATIONS_MM", np.array(middle_mm))
    waved = made_line.height_um
    monkeypatch.setattr(made_line, "height_um", lambda p: waved(p) + bump_um * np.isclose(p, 2625.0))
    second = begin_witness(archive, begun.line, begun.instruments, SystemClock())
    take_pass(archive, second, 1)
    first, again = measured_line(archive, begun.line), measured_line(archive, second.line)
    chosen = (*middle_mm, 3100.0)
    values = [each for each in witnessed(first, again, chosen) if each.code == "EYZ"]
    assert [each.position_mm for each in values] == list(middle_mm)
    worst = max(values, key=lambda each: abs(each.difference))
    assert abs(worst.difference) > 0.6
    assert all(each.agrees for each in values) is passed
    assert not_compared(values, chosen) == (3100.0,)
    kept = keep_witness(archive, first, again, values, chosen_mm=chosen)
    [said] = [part.facts["missing"] for part in spot_content(archive, kept.visit_id)]
    assert said == ["3100.0"]


def test_the_pass_ends_when_every_chosen_station_has_a_reading(archive: Archive, tmp_path: Path) -> None:
    begun = begin_line(archive, tmp_path)
    taken = take_pass(archive, begun, 1)
    readings = archive.readings(taken.id)
    stopped: list[tuple[float, ...]] = []
    left: list[tuple[float, ...]] = []
    stations = ChosenStations(CHOSEN, begun, 20.0, told=lambda seen: left.append(seen.left))
    stations.stop = lambda: stopped.append(stations.left)
    for count, reading in enumerate(readings, start=1):
        stations.keep_reading(replace(reading, position_mm=reading.position_mm + 3.0))
        assert bool(stopped) == (count == len(readings))
    assert stopped == [()]
    assert left == [CHOSEN[number:] for number in range(1, len(CHOSEN) + 1)]  # said once a station, not once a reading


def test_what_cannot_be_compared_is_said(archive: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    first = measured_line(archive, begun.line)
    second = again(archive, begun, monkeypatch, 0.0)
    with pytest.raises(BadInput, match="Only 2 chosen stations were measured twice; 4 are needed"):
        witnessed(first, second, (0.0, 1000.0))
    with pytest.raises(BadInput, match="is no list of stations"):
        stations_of("here, there")
    assert stations_of("0; 1200, 2400") == (0.0, 1200.0, 2400.0)


def test_every_published_value_is_reached(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["self-check", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["passed"] is True
    assert len(answer["values"]) == len(CHECKS) >= 9
    assert all(each["source"] for each in answer["values"])


def test_a_copy_that_gives_something_else_fails(archive: Archive, tmp_path: Path) -> None:
    def raises() -> float:
        raise ImportError("no module")

    wrong = replace(CHECKS[0], computed=lambda: CHECKS[0].value + 1e-9)
    broken = replace(CHECKS[1], computed=raises)
    found = self_check(checks=(wrong, broken, CHECKS[-1]))
    assert [each.passed for each in found.values] == [False, False, True]
    assert found.values[1].problem == "ImportError: no module"
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    assert keep_self_check(found, path=archive.path).passed is False
    files = written_report([], tmp_path / "out", ReportOrder(uncertainty=False), archive.path).files
    text = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(files[0]).pages)
    assert "2 of 3 published checks failed" in text
    assert "✗ –; 1.00211681802 ± 1e-13" in text


def test_the_end_of_the_travel_does_not_end_a_witnessed_pass(
    archive: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stations are shown in any order; an end of the travel that is passed first would cut the rest off."""
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    assert begun.line.to_mm == 5000.0
    plans: list[PassPlan] = []

    def taking(_archive: Archive, _begun: Begun, given: list[PassPlan], *_: object, **_seen: object) -> Idle:
        plans.extend(given)
        return Idle()

    monkeypatch.setattr(witness, "Taking", taking)
    prepared_witness(archive, begun.line, descriptions(tmp_path), CHOSEN, SystemClock())
    assert [each.travel_end_mm for each in plans] == [None]


class Idle:
    """A taking that takes nothing."""

    def finish(self) -> None:
        """Nothing runs."""
