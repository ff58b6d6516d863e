"""Gates on the state of the machine: open when answered and alike, otherwise an objection in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
import pytest

from waywright.guard import (
    State,
    after_adjusting,
    baseline_check,
    instruments_gate,
    machine_gate,
    plan_gate,
    same_state,
    thermal_gate,
)
from waywright.guard.state import PLAN_POINTS
from waywright.visit import InstrumentUse, MachineState
from waywright.wording import text

READY = MachineState("Y at mid-travel", "released", "final", "off", "40 min", "none")
DAY = date(2026, 3, 2)


def said(result) -> str:
    return " ".join(text(reason.key, **reason.facts) for reason in result.objections)


def test_a_plan_is_agreed_when_every_point_is() -> None:
    agreed = dict.fromkeys(PLAN_POINTS, "as in the order")
    assert plan_gate(agreed).open
    lacking = plan_gate(agreed | {"decision_rule": None})
    assert not lacking.open
    assert "decision_rule" in said(lacking)


@pytest.mark.parametrize(
    ("due", "opens"), [("2026-03-02", True), ("2026-03-01", False), ("2027-01-01", True), (None, False)]
)
def test_certificates_on_the_day_of_measurement(due: str | None, opens: bool) -> None:
    use = InstrumentUse("beam", "two-axis detector", "HR-BD-01", "C-17", due)
    assert instruments_gate([use], DAY).open is opens


def test_too_coarse_a_method_is_said_before() -> None:
    use = InstrumentUse("beam", "two-axis detector", None, "C-17", "2027-01-01")
    assert instruments_gate([use], DAY, expanded_uncertainty_um=13.0, tolerance_um=40.0).open
    coarse = instruments_gate([use], DAY, expanded_uncertainty_um=14.0, tolerance_um=40.0)
    assert "undecided" in said(coarse)
    assert "no certificate" in said(instruments_gate([replace(use, certificate=None, certificate_due=None)], DAY))


def test_the_machines_state_is_answered() -> None:
    assert machine_gate(READY).open
    missing = machine_gate(replace(READY, clamps=None, weight_compensation=None))
    assert [reason.facts["point"] for reason in missing.objections] == ["clamps", "weight_compensation"]


@pytest.mark.parametrize(
    ("change", "gradient", "opens"), [(0.9, 0.4, True), (1.1, 0.4, False), (0.5, 0.6, False), (None, None, False)]
)
def test_thermal(change: float | None, gradient: float | None, opens: bool) -> None:
    assert thermal_gate(change, gradient).open is opens


def test_14_degrees_as_found_and_19_as_left_draw_an_objection() -> None:
    result = same_state(State(READY, 14.0), State(READY, 19.0))
    assert not result.open
    assert "14.0 degrees before and has 19.0 now" in said(result)
    assert same_state(State(READY, 19.0), State(READY, 20.0)).open


@pytest.mark.parametrize("other", [{"compensation": "on"}, {"anchor_bolts": "slack"}, {"clamps": "closed"}])
def test_other_states_draw_an_objection(other: dict[str, str]) -> None:
    result = same_state(State(READY, 20.0), State(replace(READY, **other), 20.0))
    assert not result.open
    assert next(iter(other)) in said(result)


def test_compensation_on_in_both_is_objected_to_as_well() -> None:
    on = State(replace(READY, compensation="on"), 20.0)
    assert "no support should be turned" in said(same_state(on, on))


def test_as_left_is_final_only_when_everything_is_done() -> None:
    state = State(READY, 20.0)
    usual: dict[str, Any] = {"creep_um_per_h": 1.0, "waited_min": 45.0, "tolerance_um": 40.0, "day": DAY}
    final = after_adjusting(state, state, **usual)
    assert (final.open, final.provisional, final.recheck_on) == (True, False, None)
    for wrong in ({"creep_um_per_h": 6.0}, {"creep_um_per_h": None}, {"waited_min": 10.0}, {"waited_min": None}):
        result = after_adjusting(state, state, **(usual | wrong))
        assert (result.provisional, result.recheck_on) == (True, "2026-03-30")
        assert "again on 2026-03-30" in said(result)
    snug = State(replace(READY, anchor_bolts="snug"), 20.0)
    assert "not at final torque" in said(after_adjusting(snug, snug, **usual))
    slack = State(replace(READY, anchor_bolts="slack"), 20.0)
    assert after_adjusting(slack, state, **usual).open
    assert "weight_compensation" in said(
        after_adjusting(State(replace(READY, weight_compensation="on"), 20.0), state, **usual)
    )


def test_day_two_allows_offset_and_tilt_but_no_bow() -> None:
    assert baseline_check([0.0, 5.0, 3.0], [100.0, 106.0, 105.0], 0.5).open
    bent = baseline_check([0.0, 5.0, 3.0], [100.0, 110.0, 105.0], 0.5)
    assert not bent.open
    assert "+4.0 um" in said(bent)
    assert not baseline_check([0.0, 1.0], [0.0, 1.0], 0.5).open
    uneven = [0.0, 1000.0, 5000.0]
    assert baseline_check([0.0, 0.0, 0.0], [2.0, 4.0, 12.0], 0.5, position_mm=uneven).open
    assert not baseline_check([0.0, 0.0, 0.0], [2.0, 7.0, 12.0], 0.5, position_mm=uneven).open


def test_the_baselines_limit_is_that_of_its_noise() -> None:
    rng = np.random.default_rng(3)
    alarms = [not baseline_check([0.0] * 3, list(rng.normal(0, 1, 3)), 1.0, coverage=2.0).open for _ in range(2000)]
    assert np.mean(alarms) == pytest.approx(0.0455, abs=0.014)
