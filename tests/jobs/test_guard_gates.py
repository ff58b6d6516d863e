"""Gates from what the archive knows of a line."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.cli import main
from waywright.jobs.evidence import Keep, listed
from waywright.jobs.guard_gates import bed_degc, change_k_per_h, gates, gates_of
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.visit import Conditions, MachineState, Temperature

READY = MachineState("Y at mid-travel", "released", "final", "off", "40 min", "none")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "a.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        for number in (1, 2):
            take_pass(archive, begun, number)
    return path


def with_conditions(path: Path, *conditions: Conditions, minutes_apart: float = 60.0) -> MeasuredLine:
    with open_archive(path) as archive:
        (line,) = archive.lines(archive.visits()[0].id)
        measured = measured_line(archive, line)
    began = measured.passes[0].taken.began_utc
    passes = [
        replace(
            one, taken=replace(one.taken, conditions=around, began_utc=began + timedelta(minutes=minutes_apart * k))
        )
        for k, (one, around) in enumerate(zip(measured.passes, conditions, strict=True))
    ]
    return replace(measured, passes=tuple(passes))


def bed(value_degc: float, machine: MachineState = READY) -> Conditions:
    return Conditions(machine, (Temperature("bed top", value_degc), Temperature("air at the beam", 20.0)))


def test_what_is_not_recorded_is_objected_to(path: Path) -> None:
    found = {gate.gate.value: gate for gate in gates(Keep(None, path))}
    assert not found["instruments"].open
    assert {reason.facts["point"] for reason in found["machine-state"].objections} >= {"clamps", "compensation"}
    assert "same-state" not in found
    assert [reason.key for reason in found["plan-agreed"].objections] == ["guard_gates.plan_none"]


def test_passes_in_unlike_states_are_objected_to(path: Path) -> None:
    on = replace(READY, compensation="on")
    unlike = gates_of(with_conditions(path, bed(14.0), bed(19.0, on)))[-1]
    keys = {reason.key for reason in unlike.objections}
    assert unlike.gate.value == "same-state"
    assert keys == {"guard_gates.differs", "guard_gates.temperatures_differ", "guard_gates.compensation_on"}


@pytest.mark.parametrize(("after", "minutes", "rate"), [(20.5, 60.0, 0.5), (20.5, 30.0, 1.0), (20.5, 5.0, None)])
def test_change_of_temperature(path: Path, after: float, minutes: float, rate: float | None) -> None:
    measured = with_conditions(path, bed(20.0), bed(after), minutes_apart=minutes)
    assert change_k_per_h(measured) == (None if rate is None else pytest.approx(rate))
    assert bed_degc(measured.passes[1].taken.conditions) == after
    assert bed_degc(Conditions()) is None


def test_gates_on_the_command_line_are_kept(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = ["guard", "gates", "carriage", "--archive", str(path)]
    assert main(at) == 0
    assert "instruments" in capsys.readouterr().out
    assert listed(Keep(None, path)) == ()
    assert main([*at, "--keep", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert [item.test for item in listed(Keep(None, path))] == [gate["gate"] for gate in said]
