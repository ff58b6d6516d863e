"""State of the machine and of the agreement: gates before, and what must be alike before states are compared."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from enum import StrEnum

from waywright.evaluate.results import Reason
from waywright.guard.rules import (
    CREEP_SHARE,
    GRADIENT_K_PER_M,
    RECHECK_DAYS,
    TEMPERATURE_K_PER_H,
    UNCERTAINTY_WORST,
    WAIT_MIN,
    Rule,
)
from waywright.visit import InstrumentUse, MachineState

COMPARABLE_K = Rule("guard_rules.comparable", 2.0)
DAY_TWO_STATIONS = 3


class Gate(StrEnum):
    """What is asked before, during and after; each can be passed "anyway" with a reason."""

    PLAN = "plan-agreed"
    INSTRUMENTS = "instruments"
    MACHINE = "machine-state"
    THERMAL = "thermal"
    AFTER_ADJUSTING = "after-adjusting"
    SAME_STATE = "same-state"
    BASELINE = "baseline"


@dataclass(frozen=True, slots=True)
class GateResult:
    """``open`` gates let the work go on; ``objections`` say why not.

    A result that is ``provisional`` has a day to be checked again on (ISO 8601).
    ``inputs`` are what it was judged from.
    """

    gate: Gate
    open: bool
    objections: tuple[Reason, ...]
    rules: tuple[Rule, ...] = ()
    provisional: bool = False
    recheck_on: str | None = None
    inputs: Mapping[str, object] = field(default_factory=dict)


PLAN_POINTS = (
    "tests",
    "reference_line",
    "functional_point",
    "tolerance_source",
    "decision_rule",
    "agreed_by",
    "agreed_on",
)


def plan_gate(agreed: dict[str, str | None]) -> GateResult:
    """Whether everything that disputes come from was agreed by a named person on a day; see ``PLAN_POINTS``."""
    missing = [name for name in PLAN_POINTS if not agreed.get(name)]
    objections = tuple(Reason("guard_gates.plan_missing", {"point": name}) for name in missing)
    return GateResult(Gate.PLAN, not objections, objections, inputs=dict(agreed))


def no_plan() -> GateResult:
    """The gate where no plan is kept at all."""
    return GateResult(Gate.PLAN, False, (Reason("guard_gates.plan_none", {}),))


def instruments_gate(
    instruments: Sequence[InstrumentUse],
    day: date,
    *,
    expanded_uncertainty_um: float | None = None,
    tolerance_um: float | None = None,
) -> GateResult:
    """Certificates valid on the day of measurement, and the method fine enough for the tolerance (U <= T / 3)."""
    objections = []
    for use in instruments:
        facts = {"title": use.title, "due": use.certificate_due or ""}
        if use.certificate is None and use.certificate_due is None:
            objections.append(Reason("guard_gates.no_certificate", facts))
        elif use.certificate_due is None or use.certificate_due < day.isoformat():
            key = "guard_gates.no_due_date" if use.certificate_due is None else "guard_gates.overdue"
            objections.append(Reason(key, facts))
    if expanded_uncertainty_um is not None and tolerance_um is not None:
        worst = UNCERTAINTY_WORST.value * tolerance_um
        if expanded_uncertainty_um > worst:
            facts_u = {"uncertainty_um": expanded_uncertainty_um, "worst_um": worst}
            objections.append(Reason("guard_gates.uncertainty", facts_u))
    inputs = {
        "day": day.isoformat(),
        "instruments": [{"title": use.title, "due": use.certificate_due} for use in instruments],
        "expanded_uncertainty_um": expanded_uncertainty_um,
        "tolerance_um": tolerance_um,
    }
    return GateResult(Gate.INSTRUMENTS, not objections, tuple(objections), (UNCERTAINTY_WORST,), inputs=inputs)


_ASKED = ("other_axes", "clamps", "anchor_bolts", "compensation", "weight_compensation", "warm_up")


def machine_gate(state: MachineState) -> GateResult:
    """Whether the state of the machine was answered; which answer it is does not matter here."""
    missing = [name for name in _ASKED if not getattr(state, name)]
    objections = tuple(Reason("guard_gates.state_missing", {"point": name}) for name in missing)
    answered = {name: getattr(state, name) for name in _ASKED}
    return GateResult(Gate.MACHINE, not objections, objections, inputs=answered)


def thermal_gate(change_k_per_h: float | None, gradient_k_per_m: float | None) -> GateResult:
    """At most 1 K per hour, and a vertical gradient that is known and at most 0.5 K per metre."""
    objections = []
    if change_k_per_h is None:
        objections.append(Reason("guard_gates.change_unknown", {}))
    elif abs(change_k_per_h) > TEMPERATURE_K_PER_H.value:
        objections.append(Reason("guard_gates.change", {"change": change_k_per_h, "limit": TEMPERATURE_K_PER_H.value}))
    if gradient_k_per_m is None:
        objections.append(Reason("guard_gates.gradient_unknown", {}))
    elif abs(gradient_k_per_m) > GRADIENT_K_PER_M.value:
        objections.append(
            Reason("guard_gates.gradient", {"gradient": gradient_k_per_m, "limit": GRADIENT_K_PER_M.value})
        )
    rules = (TEMPERATURE_K_PER_H, GRADIENT_K_PER_M)
    inputs = {"change_k_per_h": change_k_per_h, "gradient_k_per_m": gradient_k_per_m}
    return GateResult(Gate.THERMAL, not objections, tuple(objections), rules, inputs=inputs)


@dataclass(frozen=True, slots=True)
class State:
    """A line's state for a comparison: machine state, and the temperature of the bed."""

    machine: MachineState
    bed_degc: float | None = None


def same_state(first: State, second: State) -> GateResult:
    """Objections to comparing two states (as found and as left), or to correcting on one of them."""
    objections = []
    for name in ("other_axes", "clamps", "anchor_bolts", "compensation", "weight_compensation"):
        a, b = getattr(first.machine, name), getattr(second.machine, name)
        if a != b:
            objections.append(Reason("guard_gates.differs", {"point": name, "first": a or "?", "second": b or "?"}))
    if first.bed_degc is not None and second.bed_degc is not None:
        change = second.bed_degc - first.bed_degc
        if abs(change) > COMPARABLE_K.value:
            facts = {"first_degc": first.bed_degc, "second_degc": second.bed_degc, "limit_k": COMPARABLE_K.value}
            objections.append(Reason("guard_gates.temperatures_differ", facts))
    if "on" in (first.machine.compensation, second.machine.compensation):
        objections.append(Reason("guard_gates.compensation_on", {}))
    inputs = {"first": first, "second": second}
    return GateResult(Gate.SAME_STATE, not objections, tuple(objections), (COMPARABLE_K,), inputs=inputs)


def after_adjusting(
    found: State,
    left: State,
    *,
    creep_um_per_h: float | None,
    tolerance_um: float,
    waited_min: float | None,
    day: date,
) -> GateResult:
    """Whether an as-left result is final: bolts at final torque, little creep, waited, same state; else provisional.

    None is "not known". A provisional result is to be checked again four weeks after ``day``. Bolts that were slack as
    found and are at final torque now are what adjusting does, and no different state.
    """
    tightened = replace(found, machine=replace(found.machine, anchor_bolts=left.machine.anchor_bolts))
    objections = [*same_state(tightened, left).objections]
    if left.machine.anchor_bolts != "final":
        objections.append(Reason("guard_gates.bolts", {"bolts": left.machine.anchor_bolts or "?"}))
    allowed = CREEP_SHARE.value * tolerance_um
    if creep_um_per_h is None:
        objections.append(Reason("guard_gates.creep_unknown", {}))
    elif abs(creep_um_per_h) > allowed:
        objections.append(Reason("guard_gates.creep", {"creep": creep_um_per_h, "limit": allowed}))
    if waited_min is None:
        objections.append(Reason("guard_gates.wait_unknown", {"limit": WAIT_MIN.value}))
    elif waited_min < WAIT_MIN.value:
        objections.append(Reason("guard_gates.wait", {"minutes": waited_min, "limit": WAIT_MIN.value}))
    rules = (CREEP_SHARE, WAIT_MIN, COMPARABLE_K, RECHECK_DAYS)
    inputs = {
        "found": found,
        "left": left,
        "creep_um_per_h": creep_um_per_h,
        "tolerance_um": tolerance_um,
        "waited_min": waited_min,
        "day": day.isoformat(),
    }
    if not objections:
        return GateResult(Gate.AFTER_ADJUSTING, True, (), rules, inputs=inputs)
    again = (day + timedelta(days=RECHECK_DAYS.value)).isoformat()
    objections.append(Reason("guard_gates.recheck", {"on": again}))
    return GateResult(Gate.AFTER_ADJUSTING, False, tuple(objections), rules, True, again, inputs)


def baseline_check(
    before_um: Sequence[float],
    today_um: Sequence[float],
    error_of_difference_um: float,
    coverage: float = 3.0,
    position_mm: Sequence[float] | None = None,
) -> GateResult:
    """Day two: three stations read again. Their differences may share an offset and a tilt, not a bow.

    What no line explains is the change in the middle against the ends' line there; its standard uncertainty is that of
    a difference times sqrt(1 + a^2 + b^2), a and b being the shares of the ends (half each at even distances).
    """
    change = [today - before for before, today in zip(before_um, today_um, strict=True)]
    inputs = {
        "position_mm": None if position_mm is None else list(position_mm),
        "before_um": list(before_um),
        "today_um": list(today_um),
        "error_of_difference_um": error_of_difference_um,
    }
    if len(change) != DAY_TWO_STATIONS:
        few = Reason("guard_gates.three_stations", {"stations": len(change)})
        return GateResult(Gate.BASELINE, False, (few,), inputs=inputs)
    first, middle, last = position_mm or (0.0, 0.5, 1.0)
    share = (middle - first) / (last - first)
    bow = change[1] - ((1.0 - share) * change[0] + share * change[2])
    limit = coverage * error_of_difference_um * math.sqrt(1.0 + (1.0 - share) ** 2 + share**2)
    if abs(bow) <= limit:
        return GateResult(Gate.BASELINE, True, (), inputs=inputs)
    bent = Reason("guard_gates.baseline", {"bow_um": bow, "limit_um": limit})
    return GateResult(Gate.BASELINE, False, (bent,), inputs=inputs)
