"""Lines measured in unlike states: objections stand where they are compared, and first where one is corrected on."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from made_line import begin_line, take_pass

from waywright.archive import Archive, open_archive
from waywright.cli import main
from waywright.clocks import SystemClock
from waywright.jobs.correct import CorrectionOrder, correction_of_line
from waywright.jobs.evidence import Keep, listed
from waywright.jobs.guard_gates import compared_states, gates, keep_gate
from waywright.jobs.line_again import line_again
from waywright.jobs.measured import measured_line
from waywright.simulation import load_scenario
from waywright.visit import Conditions, Line, MachineState, Pass, Temperature

READY = MachineState("X at mid-travel", "released", "final", "off", "40 min", "none")
UNLIKE = ["guard_gates.differs", "guard_gates.temperatures_differ", "guard_gates.compensation_on"]


def in_state(archive: Archive, taken: Pass, bed_degc: float, **state: str) -> None:
    around = Conditions(replace(READY, **state), (Temperature("bed top", bed_degc),))
    archive.save(replace(taken, conditions=around))


@pytest.fixture
def two_lines(tmp_path: Path) -> Iterator[tuple[Path, Archive, Line, Line]]:
    """As found at 14 degrees, as left at 19 with the compensation on."""
    path = tmp_path / "a.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        in_state(archive, take_pass(archive, begun, 1), 14.0)
        again = line_again(archive, begun.line, SystemClock())
        now = replace(begun, line=again, setup=archive.setups(again.id)[0])
        in_state(archive, take_pass(archive, now, 1), 19.0, compensation="on")
        yield path, archive, begun.line, again


def test_a_comparison_of_unlike_states_says_so_before_its_figures(
    two_lines: tuple[Path, Archive, Line, Line], capsys: pytest.CaptureFixture[str]
) -> None:
    path, _, first, second = two_lines
    words = ["machine", "compare", str(first.id), str(second.id), "--archive", str(path)]
    assert main(words) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.index("14.0 degrees before and has 19.0 now") < said.index("bed mm")
    assert main([*words, "--json"]) == 0
    states = json.loads(capsys.readouterr().out)["states"]
    assert (states["open"], [reason["key"] for reason in states["objections"]]) == (False, UNLIKE)
    assert main([*words[:2], str(first.id), str(first.id), *words[4:]]) == 0
    assert "degrees before" not in capsys.readouterr().out


def test_unlike_states_stand_first_among_the_warnings_of_a_correction(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Passes that share half of the travel have a warning of their own, which comes after."""
    monkeypatch.setitem(correction_of_line.__globals__, "shared_part", lambda measured: 0.5)
    with open_archive(tmp_path / "c.sqlite", create=True) as archive:
        begun = begin_line(archive, tmp_path)
        in_state(archive, take_pass(archive, begun, 1), 14.0)
        in_state(archive, take_pass(archive, begun, 2), 19.0, compensation="on")
        measured = replace(measured_line(archive, begun.line), machine=load_scenario("calm-hall").machine)
    warnings = correction_of_line(measured, CorrectionOrder(goal_um=40.0)).sheet.warnings
    assert [note.key for note in warnings[:4]] == [*UNLIKE, "adjust.passes_share_little"]


def test_a_kept_gate_has_what_it_was_judged_from(two_lines: tuple[Path, Archive, Line, Line]) -> None:
    _, archive, first, second = two_lines
    found = compared_states(measured_line(archive, first), measured_line(archive, second))
    assert found is not None
    kept = keep_gate(archive, found, second.id, "Mara Quill (invented)")
    assert (kept.inputs["first"]["bed_degc"], kept.inputs["second"]["bed_degc"]) == (14.0, 19.0)
    assert kept.inputs["second"]["machine"]["compensation"] == "on"
    assert (kept.outcome, [each.key for each in kept.why]) == ("closed", UNLIKE)
    assert kept.made_by is not None
    assert "inputs" not in kept.figures


def test_every_gate_of_a_line_keeps_its_inputs(two_lines: tuple[Path, Archive, Line, Line]) -> None:
    path, _, first, _ = two_lines
    where = Keep(str(first.id), path, "Mara Quill (invented)")
    gates(where, keep=True)
    kept = {item.test: item for item in listed(where)}
    assert kept["machine-state"].inputs["clamps"] == "released"
    assert kept["thermal"].inputs == {"change_k_per_h": None, "gradient_k_per_m": None}
    assert [each["title"] for each in kept["instruments"].inputs["instruments"]]
    assert all(item.made_by is not None and item.made_utc is not None for item in kept.values())
