"""How many points, how long; and the text for the operator, run by a small reader of its words."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import Limit, Wish, motion_text, plan_effort
from waywright.wording import text

HR6 = Wish(0.0, 5200.0, 40.0, 2.0, 0.1, supports_mm=(750.0, 1750.0, 2750.0, 3750.0, 4750.0), longest_pass_s=900.0)


def test_a_station_over_each_support_and_a_quarter_between() -> None:
    found = plan_effort(HR6)
    assert found.limited_by == (Limit.SUPPORTS,)
    assert found.step_mm == 250.0
    assert set(HR6.supports_mm) <= set(found.stations_mm)
    assert (found.stations_mm[0], found.stations_mm[-1]) == (0.0, 5200.0)
    assert np.diff(found.stations_mm).max() <= 250.0
    assert np.diff(found.stations_mm).min() > 100.0
    assert text(found.why[0].key, **found.why[0].facts).startswith("22 stations")


def test_a_local_window_asks_for_more() -> None:
    found = plan_effort(replace(HR6, window_mm=300.0))
    assert (found.step_mm, found.limited_by[0]) == (100.0, Limit.LOCAL)
    assert plan_effort(replace(HR6, supports_mm=())).limited_by[0] is Limit.TRAVEL


def test_the_wished_uncertainty_is_reached() -> None:
    """A fifth of 40 um is 8 um (k = 2), 4 um standard: 2 um of scatter needs no averaging beyond the shortest."""
    assert plan_effort(HR6).averaging_s == 1.0
    found = plan_effort(replace(HR6, uncertainty_um=0.1))
    assert found.reaches
    assert found.reached_um <= 0.1 * (1 + 1e-9)
    # two passes would need 2 * 0.1 * 4 / (2 * 0.01) = 40 s; four need 20 s
    assert (found.passes, found.averaging_s) == (4, pytest.approx(20.0))
    assert found.pass_s == pytest.approx(5200 / 1000 * 60 + 22 * 22.0)
    assert found.total_s == pytest.approx(4 * found.pass_s)


def test_scatter_and_drift_limit() -> None:
    noisy = plan_effort(replace(HR6, scatter_um=30.0, uncertainty_um=0.1))
    assert not noisy.reaches
    assert Limit.SCATTER in noisy.limited_by
    drifting = plan_effort(replace(HR6, longest_pass_s=200.0))
    assert not drifting.reaches
    assert Limit.DRIFT in drifting.limited_by
    assert "segments" in text(drifting.why[1].key, **drifting.why[1].facts)


def test_every_rule_says_where_it_comes_from() -> None:
    for rule in plan_effort(HR6).rules:
        assert text(rule.source) == "common practice, no published source"
        assert text(rule.name, value=rule.value)


def run(program: str) -> list[tuple[float, float]]:
    """(position, dwell) of every stop; refuses words that were not announced."""
    position, stops = float("nan"), []
    for line in program.splitlines():
        if line == "%" or line.startswith("("):
            continue
        number, *words = line.split()
        assert re.fullmatch(r"N\d+", number)
        if words[0] == "G01":
            position = float(words[1].removeprefix("Z"))
        elif words[0] == "G04":
            stops.append((position, float(words[1].removeprefix("X"))))
        else:
            assert words in (["G90", "G94", "G21"], ["M00"], ["M30"])
    return stops


def test_the_motion_text_stops_at_every_station_from_its_own_side() -> None:
    stations = [0.0, 250.0, 500.0]
    program = motion_text("Z", stations, dwell_s=7.0, passes=2, feed_mm_per_min=1000.0)
    assert run(program) == [(x, 7.0) for x in (*stations, *stations[::-1])]
    assert "CHECK BEFORE RUN" in program
    assert "SINGLE BLOCK FIRST" in program
    assert "REDUCED FEED" in program
    assert "G01 Z-20.000 F1000" in program
    assert "G01 Z520.000 F1000" in program
    assert program.count("M30") == 1


@pytest.mark.parametrize(("axis", "stations"), [("Q", [0.0, 1.0]), ("Z", [0.0]), ("Z", [1.0, 0.0])])
def test_no_text_for_nonsense(axis: str, stations: list[float]) -> None:
    with pytest.raises(BadInput):
        motion_text(axis, stations, dwell_s=1.0, passes=1, feed_mm_per_min=100.0)


@pytest.mark.parametrize("wrong", [{"to_mm": 0.0}, {"scatter_um": 0.0}, {"window_mm": -1.0}])
def test_impossible_wishes_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(BadInput):
        plan_effort(replace(HR6, **wrong))
