"""The alarm while a support is turned: motion, a jump, also across a moment in which the beam was lost."""

from __future__ import annotations

from datetime import UTC, datetime
from types import SimpleNamespace
from typing import Any

from waywright.jobs.turning import Watched, alarm_of

NOW = datetime(2026, 11, 25, tzinfo=UTC)
# raise by 60 um where the station parked at answers with 40 um
TURNING: Any = SimpleNamespace(support="8", start_mm=5200.0, target=SimpleNamespace(start_um=10.0, target_um=50.0))


def said(position_mm: float, height_um: float | None, before: Watched) -> str | None:
    alarm = alarm_of(TURNING, position_mm, height_um, before, NOW)
    return None if alarm is None else alarm.statement.key


def test_a_steady_turn_raises_none() -> None:
    before = Watched()
    for height_um in (10.0, 18.0, 27.0, None, 34.0, 42.0, 50.0):
        assert said(5200.0, height_um, before) is None
        before = before.then(height_um)


def test_a_jump_is_seen_across_a_lost_beam() -> None:
    assert said(5200.0, 110.0, Watched(12.0).then(None)) == "rounds.alarm_jump"


def test_the_carriage_moves() -> None:
    assert said(5203.0, 12.0, Watched(12.0)) == "rounds.alarm_moved"


def test_it_runs_the_wrong_way() -> None:
    assert said(5200.0, -40.0, Watched(-38.0)) == "rounds.alarm_wrong_way"
