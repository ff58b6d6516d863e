"""Evidence as a report lists it: place, title, outcome and people in words; what was tested again stands back."""

from __future__ import annotations

from pathlib import Path

import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.evaluate.results import Reason
from waywright.guard import Gate, Outcome, Ready
from waywright.jobs.evidence import Judged, go_on_anyway, keep_at
from waywright.jobs.evidence_listed import evidence_of_lines, evidence_of_visit, said
from waywright.wording import text

WHY = (Reason("guard_gates.gradient_unknown", {}),)


def judged(test: str, outcome: str, good: bool) -> Judged:
    return Judged(test, outcome, good, WHY, {"x_um": 1.0}, {"y_um": 2.0})


def test_everything_of_a_visit_with_its_place_and_people(tmp_path: Path) -> None:
    clock = SystemClock()
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        begun = begin_line(archive, tmp_path)
        taken = take_pass(archive, begun, 1)
        first = keep_at(archive, judged("direction", "failed", False), begun.setup.id, "Mara Quill (invented)")
        keep_at(archive, judged("thermal", "closed", False), begun.line.id)
        keep_at(archive, judged("steadiness", "use", True), taken.id)
        keep_at(archive, judged("plan-agreed", "open", True), begun.visit.id)
        go_on_anyway(archive, first.id, "the cable is turned tomorrow", "Tam Ferrow (invented)", clock)
        again = keep_at(archive, judged("direction", "passed", True), begun.setup.id)
        found = evidence_of_visit(archive, begun.visit.id)
        assert evidence_of_lines(archive, begun.line) == found
    words = [said(entry)[:3] for entry in found]
    assert words == [
        ("carriage, set-up of segment 1", "direction test", "failed"),
        ("carriage", "temperatures", "not open"),
        ("carriage, pass 1", "steadiness", "use"),
        ("the visit", "plan agreed", "open"),
        ("carriage, set-up of segment 1", "direction test", "passed"),
    ]
    assert [entry.repeated for entry in found] == [True, False, False, False, False]
    assert (found[0].made_by, found[0].anyway_by) == ("Mara Quill (invented)", "Tam Ferrow (invented)")
    assert found[0].evidence.anyway == "the cable is turned tomorrow"
    assert found[-1].evidence.id == again.id
    assert "half a metre above" in said(found[1])[3][0]


@pytest.mark.parametrize("outcome", [*Outcome, *Ready])
def test_outcomes_have_words(outcome: str) -> None:
    assert text(f"guard_evidence.outcome_{outcome}")


@pytest.mark.parametrize("gate", list(Gate))
def test_gates_have_words(gate: Gate) -> None:
    assert text(f"guard_evidence.test_{gate.value}")
