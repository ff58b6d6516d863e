"""Gates of a line from what is recorded about it: plan, instruments, state of the machine, heat, like states."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from itertools import pairwise
from uuid import UUID

from waywright.archive import Archive, open_archive
from waywright.guard import (
    GateResult,
    State,
    instruments_gate,
    machine_gate,
    no_plan,
    plan_gate,
    same_state,
    thermal_gate,
)
from waywright.jobs.evidence import Judged, Keep, keep_at, plain
from waywright.jobs.measured import MeasuredLine, find_line, measured_line
from waywright.jobs.plans import plan_of
from waywright.jobs.remember import archive_path
from waywright.jobs.screening import tests_of
from waywright.visit import Conditions, Evidence, Line, SetUp, Temperature, VisitPlan

_HOUR_S = 3600.0
_WITH_POINT = ("straightness", "squareness", "parallelism", "run-out")
PROVISIONAL = "provisional"


def gates(where: Keep, *, keep: bool = False) -> tuple[GateResult, ...]:
    """Judge the gates of a line (the newest without a name), and keep them where they belong if asked to."""
    with open_archive(archive_path(where.archive)) as archive:
        line = find_line(archive, where.line)
        measured = measured_line(archive, line)
        plan = plan_gate_of(archive, line)
        found = gates_of(measured, gradient_k_per_m(tests_of(archive, line)))
        if keep:
            keep_gate(archive, plan, line.visit_id, where.by)
            for gate in found:
                keep_gate(archive, gate, line.id, where.by)
    return (plan, *found) if measured.passes else (plan,)


def keep_gate(archive: Archive, gate: GateResult, subject: UUID, by: str | UUID | None = None) -> Evidence:
    """Keep the answer of a gate at a line, or at a visit."""
    outcome = "open" if gate.open else PROVISIONAL if gate.provisional else "closed"
    figures = {name: value for name, value in plain(gate).items() if name != "inputs"}
    judged = Judged(gate.gate.value, outcome, gate.open, gate.objections, gate.inputs, figures)
    return keep_at(archive, judged, subject, by)


def plan_gate_of(archive: Archive, line: Line) -> GateResult:
    """Whether everything that disputes come from was agreed for the visit of a line."""
    plan = plan_of(archive, line.visit_id)
    if plan is None or not plan.items:
        return no_plan()
    names = {person.id: person.name for person in archive.people()}
    return plan_gate(agreed_points(plan, archive.setups(line.id), names))


def agreed_points(plan: VisitPlan, setups: tuple[SetUp, ...], names: Mapping[UUID, str]) -> dict[str, str | None]:
    """The points of :data:`waywright.guard.state.PLAN_POINTS` as a plan answers them; None where it does not."""
    by_setup = all(setup.functional_point_mm is not None for setup in setups) and bool(setups)
    points = by_setup or all(item.functional_point for item in plan.items if item.test in _WITH_POINT)
    rules = [item.tolerance for item in plan.items]
    sourced = all(rule is not None and bool(rule.source) and not rule.example for rule in rules)
    last = plan.agreements[-1] if plan.agreements else None
    return {
        "tests": ", ".join(item.key for item in plan.items) or None,
        "reference_line": "stated" if all(item.reference for item in plan.items) else None,
        "functional_point": "stated" if points else None,
        "tolerance_source": "stated" if sourced else None,
        "decision_rule": f"{plan.burden}, {plan.confidence:g}",
        "agreed_by": None if last is None else names.get(last.person_id, str(last.person_id)),
        "agreed_on": None if last is None else last.agreed_utc.date().isoformat(),
    }


def gates_of(measured: MeasuredLine, gradient_k_per_m: float | None = None) -> tuple[GateResult, ...]:
    """Instruments on the day of the last pass; its machine state; heat over all passes; each pass like the one before.

    Only passes with readings count; without any there is nothing to judge.
    """
    if not measured.passes:
        return ()
    last = measured.passes[-1]
    found = [
        instruments_gate(last.setup.instruments, last.taken.began_utc.date()),
        machine_gate(last.taken.conditions.machine),
        thermal_gate(change_k_per_h(measured), gradient_k_per_m),
    ]
    states = [state_of(one.taken.conditions) for one in measured.passes]
    unlike = [result for pair in pairwise(states) if not (result := same_state(*pair)).open]
    return (*found, *unlike[:1])


def compared_states(first: MeasuredLine, second: MeasuredLine) -> GateResult | None:
    """Objections to comparing two lines, or two visits, by the states they were measured in; None without readings."""
    if not first.passes or not second.passes:
        return None
    return same_state(state_of(first.passes[-1].taken.conditions), state_of(second.passes[0].taken.conditions))


def correcting_states(measured: MeasuredLine) -> GateResult | None:
    """Objections to correcting by a line: its passes were taken in unlike states, or the compensation was on."""
    states = [state_of(one.taken.conditions) for one in measured.passes]
    pairs = list(pairwise(states)) or [(state, state) for state in states]
    judged = [same_state(*pair) for pair in pairs]
    return next((result for result in judged if not result.open), judged[0] if judged else None)


def state_of(conditions: Conditions) -> State:
    """State of the machine and temperature of the bed."""
    return State(conditions.machine, bed_degc(conditions))


def gradient_k_per_m(tests: list[Evidence]) -> float | None:
    """The gradient of the air that the newest kept "air" test was told."""
    told = [item.inputs.get("gradient_k_per_m") for item in tests if item.test == "air"]
    return float(told[-1]) if told and told[-1] is not None else None


def bed_degc(conditions: Conditions) -> float | None:
    """Temperature of the bed (its top, if several are recorded), by the name of the place; None if not recorded."""
    places = [item for item in conditions.temperatures if "bed" in item.place.lower()]
    top = [item for item in places if "top" in item.place.lower()]
    chosen = top or places
    return chosen[0].value_degc if chosen else None


def change_k_per_h(measured: MeasuredLine) -> float | None:
    """Fastest change of any one place between two readings of its temperature a quarter of an hour or more apart."""
    taken: dict[str, list[tuple[datetime, float]]] = {}
    for single in measured.passes:
        for item in single.taken.conditions.temperatures:
            taken.setdefault(item.place, []).append((_moment(item, single.taken.began_utc), item.value_degc))
    rates = [
        (b - a) / ((later - earlier).total_seconds() / _HOUR_S)
        for series in taken.values()
        for (earlier, a), (later, b) in pairwise(sorted(series))
        if (later - earlier).total_seconds() >= _HOUR_S / 4.0
    ]
    return max(rates, key=abs) if rates else None


def _moment(item: Temperature, otherwise: datetime) -> datetime:
    return item.taken_utc or otherwise
