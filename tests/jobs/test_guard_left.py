"""After adjusting, day two, and states that must not be compared: from kept lines, by verb and by command."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from made_line import BEGAN, STATIONS_MM, begin_line, height_um, take_pass

from waywright.archive import Archive, open_archive
from waywright.cli import main
from waywright.clocks import SystemClock, new_id
from waywright.errors import BadInput
from waywright.jobs.begin import Begun
from waywright.jobs.evidence import Keep, listed
from waywright.jobs.guard_gates import agreed_points, compared_states, correcting_states, gates
from waywright.jobs.guard_left import baseline, creep, left
from waywright.jobs.line_again import line_again
from waywright.jobs.measured import measured_line
from waywright.readings import ChannelValue, Reading, seal
from waywright.visit import (
    Adjustment,
    Conditions,
    MachineState,
    MoveMade,
    Pass,
    PassSettings,
    Person,
    PlanAgreement,
    PlanItem,
    PlanTolerance,
    Temperature,
    VisitPlan,
)

READY = MachineState("X at mid-travel", "released", "final", "off", "40 min", "none")


def conditions(bed_degc: float, machine: MachineState = READY) -> Conditions:
    return Conditions(machine, (Temperature("bed top", bed_degc),))


def with_conditions(archive: Archive, taken: Pass, around: Conditions) -> None:
    archive.save(replace(taken, conditions=around))


@pytest.fixture
def two_states(tmp_path: Path) -> tuple[Path, Begun, Begun]:
    """As found at 19 degrees with slack bolts, as left at 20 with final ones; the last move 45 min before."""
    path = tmp_path / "a.sqlite"
    with open_archive(path, create=True) as archive:
        found = begin_line(archive, tmp_path)
        slack = replace(READY, anchor_bolts="slack")
        with_conditions(archive, take_pass(archive, found, 1), conditions(19.0, slack))
        again = line_again(archive, found.line, SystemClock())
        now = replace(found, line=again, setup=archive.setups(again.id)[0])
        with_conditions(archive, take_pass(archive, now, 1), conditions(20.0))
        moved = BEGAN + timedelta(minutes=10) - timedelta(minutes=45)
        archive.save(
            Adjustment(new_id(), found.visit.id, 1, found.line.id, 15.0, 40.0, 10.0, (5.0, 15.0),
                       (MoveMade("3", 40.0, 40.0, moved),), after_line_id=again.id)
        )  # fmt: skip
    return path, found, now


def test_as_left_is_provisional_until_the_creep_is_known(
    two_states: tuple[Path, Begun, Begun], capsys: pytest.CaptureFixture[str]
) -> None:
    path, found, now = two_states
    where = Keep(str(now.line.id), path)
    gate = left(where, tolerance=40.0)
    assert [reason.key for reason in gate.objections] == ["guard_gates.creep_unknown", "guard_gates.recheck"]
    assert gate.recheck_on == (BEGAN.date() + timedelta(days=28)).isoformat()
    assert left(where, tolerance=40.0, creep_um_per_h=1.0).open
    assert not left(where, tolerance=40.0, creep_um_per_h=1.0, waited_min=5.0).open
    with pytest.raises(BadInput, match="No tolerance is recorded"):
        left(where)
    words = ["guard", "after", str(now.line.id), "--tolerance-um", "40", "--archive", str(path)]
    assert main([*words, "--keep", "--by", "Mara Quill (invented)"]) == 0
    assert "provisional" in capsys.readouterr().out
    (kept,) = listed(where)
    assert (kept.test, kept.outcome, kept.good) == ("after-adjusting", "provisional", False)
    assert kept.figures["recheck_on"] == gate.recheck_on
    assert main([*words, "--found", str(found.line.id), "--creep-um-per-h", "1", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["open"]


def test_creep_of_a_station_read_again(two_states: tuple[Path, Begun, Begun]) -> None:
    """2 um in half an hour is 4 um per hour; a repeat after five minutes says nothing."""
    path, _, now = two_states
    with open_archive(path) as archive:
        assert creep(archive, measured_line(archive, now.line)) is None
        _read_again(archive, now, minutes=5.0, by_um=9.0)
        assert creep(archive, measured_line(archive, now.line)) is None
        _read_again(archive, now, minutes=30.0, by_um=2.0)
        assert creep(archive, measured_line(archive, now.line)) == pytest.approx(4.0)


def test_unlike_states_object_to_comparing_and_to_correcting(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "b.sqlite"
    with open_archive(path, create=True) as archive:
        found = begin_line(archive, tmp_path)
        with_conditions(archive, take_pass(archive, found, 1), conditions(14.0))
        again = line_again(archive, found.line, SystemClock())
        now = replace(found, line=again, setup=archive.setups(again.id)[0])
        with_conditions(archive, take_pass(archive, now, 1), conditions(19.0, replace(READY, compensation="on")))
        first, second = (measured_line(archive, one) for one in (found.line, again))
    gate = compared_states(first, second)
    assert gate is not None
    assert {reason.key for reason in gate.objections} == {
        "guard_gates.differs", "guard_gates.temperatures_differ", "guard_gates.compensation_on"
    }  # fmt: skip
    assert main(["guard", "states", str(found.line.id), str(again.id), "--archive", str(path)]) == 0
    assert "14.0 degrees before and has 19.0 now" in " ".join(capsys.readouterr().out.split())
    correcting = correcting_states(second)
    assert correcting is not None
    assert [reason.key for reason in correcting.objections] == ["guard_gates.compensation_on"]
    assert correcting_states(first) is not None
    assert correcting_states(first).open  # type: ignore[union-attr]


@pytest.mark.parametrize(("bend_um", "opens"), [(0.0, True), (6.0, False)])
def test_day_two_begins_with_three_stations(
    tmp_path: Path, bend_um: float, opens: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    """An offset of 100 um and a tilt are another day's beam; a bend of the middle is not."""
    path = tmp_path / "c.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        take_pass(archive, begun, 1)
        with pytest.raises(BadInput, match="no earlier pass"):
            baseline(Keep(None, path))
        three = STATIONS_MM[[0, 10, 20]]
        bent = np.array([0.0, bend_um, 0.0])
        _short_pass(archive, begun, three, height_um(three) + 0.004 * three + 100.0 + 0.002 * three + bent)
    gate = baseline(Keep(None, path))
    assert gate.open is opens
    assert main(["guard", "baseline", "carriage", "--archive", str(path), "--keep"]) == 0
    shown = capsys.readouterr().out
    assert ("+6.0 um" in shown) is not opens
    assert listed(Keep(None, path))[0].test == "baseline"


def test_three_stations_elsewhere_are_no_baseline(tmp_path: Path) -> None:
    path = tmp_path / "d.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        take_pass(archive, begun, 1)
        _short_pass(archive, begun, np.array([-900.0, 2500.0, 5000.0]), np.zeros(3))
    with pytest.raises(BadInput, match="-900 mm"):
        baseline(Keep(None, path))


def test_the_plan_gate_names_what_is_not_agreed(tmp_path: Path) -> None:
    path = tmp_path / "e.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        item = PlanItem("height", "height of the carriage", code="EYZ", functional_point="tool, 200 mm up")
        plan = VisitPlan(new_id(), begun.visit.id, "levelling", (item,))
        archive.save(plan)
        (gate,) = gates(Keep(None, path))
        assert [reason.facts["point"] for reason in gate.objections] == ["tolerance_source", "agreed_by", "agreed_on"]
        customer = Person(new_id(), "Ode Farrant (invented)", "customer")
        archive.save(customer)
        rule = PlanTolerance("0.02/1000", "order 7, sheet 2", True)
        agreed = replace(plan, items=(replace(item, tolerance=rule),),
                         agreements=(PlanAgreement(customer.id, "customer", BEGAN),))  # fmt: skip
        archive.save(agreed)
        (gate,) = gates(Keep(None, path), keep=True)
        assert gate.open
        assert listed(Keep(None, path))[0].subject_id == begun.visit.id
        points = agreed_points(agreed, archive.setups(begun.line.id), {customer.id: customer.name})
    assert (points["agreed_by"], points["agreed_on"]) == (customer.name, "2026-03-02")
    example = replace(agreed, items=(replace(item, tolerance=replace(rule, example=True)),))
    assert agreed_points(example, (), {})["tolerance_source"] is None


def _short_pass(archive: Archive, begun: Begun, places_mm: np.ndarray, heights_um: np.ndarray) -> None:
    began = BEGAN + timedelta(days=1)
    taken = Pass(new_id(began), begun.line.id, begun.setup.id, 2, "forward", begun.position_channel, begun.channels,
                 began, PassSettings(3.0, 1.5, 20.0))  # fmt: skip
    archive.begin_pass(taken)
    last: Reading | None = None
    for number, (place, height) in enumerate(zip(places_mm, heights_um, strict=True)):
        last = _keep(archive, taken, last, number, float(place), float(height), began + timedelta(seconds=20 * number))
    archive.end_pass(replace(taken, ended_utc=began + timedelta(minutes=2), outcome="stopped"))


def _read_again(archive: Archive, begun: Begun, *, minutes: float, by_um: float) -> None:
    """A pass whose only station is read twice."""
    number = len(archive.passes(begun.line.id)) + 1
    began = BEGAN + timedelta(hours=number)
    taken = Pass(new_id(began), begun.line.id, begun.setup.id, number, "forward", begun.position_channel,
                 begun.channels, began, PassSettings(3.0, 1.5, 20.0))  # fmt: skip
    archive.begin_pass(taken)
    first = _keep(archive, taken, None, 0, 2500.0, 30.0, began)
    _keep(archive, taken, first, 1, 2500.0, 30.0 + by_um, began + timedelta(minutes=minutes), first)
    archive.end_pass(replace(taken, ended_utc=began + timedelta(minutes=40), outcome="finished"))


def _keep(
    archive: Archive, taken: Pass, last: Reading | None, number: int, place: float, height: float, began, again=None
) -> Reading:
    values = (ChannelValue("beam.vertical_um", height, 0.5, 150), ChannelValue("beam.side_um", 0.002 * place, 0.4, 150))
    draft = Reading(new_id(began), taken.id, number, place, taken.direction, values, began,
                    began + timedelta(seconds=3), supersedes=again.id if again else None)  # fmt: skip
    sealed = seal(draft, last)
    archive.keep_reading(sealed)
    return sealed
