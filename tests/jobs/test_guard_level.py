"""A level needs its zero and its sign; one of them alone resolves nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.cli import main
from waywright.guard import Outcome
from waywright.jobs.evidence import Keep, listed
from waywright.jobs.guard_level import level

TURN = (17.0, -25.0)
RIGHT, WRONG, LITTLE = (17.0, 265.0), (17.0, -231.0), (17.0, 19.0)


@pytest.fixture
def place(tmp_path: Path) -> Keep:
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        take_pass(archive, begin_line(archive, tmp_path), 1)
    return Keep("carriage", tmp_path / "a.sqlite")


@pytest.mark.parametrize(
    ("read", "turn", "outcome", "keys"),
    [
        (RIGHT, TURN, Outcome.PASSED, ["guard.level_proved"]),
        (RIGHT, None, Outcome.NOT_RESOLVED, ["guard.level_proved", "guard.level_not_turned"]),
        (WRONG, TURN, Outcome.FAILED, ["guard.level_wrong_sign"]),
        (WRONG, None, Outcome.FAILED, ["guard.level_wrong_sign", "guard.level_not_turned"]),
        (LITTLE, TURN, Outcome.NOT_RESOLVED, ["guard.level_not_resolved"]),
    ],
)
def test_zero_and_sign_are_both_needed(
    read: tuple[float, float],
    turn: tuple[float, float] | None,
    outcome: Outcome,
    keys: list[str],
    place: Keep,
) -> None:
    found = level(read, 50.0, 200.0, turn=turn, tolerance_um=2.0, where=place)
    assert (found.outcome, [reason.key for reason in found.why]) == (outcome, keys)
    (kept,) = listed(place)
    assert (kept.outcome, kept.good) == (outcome.value, outcome is Outcome.PASSED)
    assert [each.key for each in kept.why] == keys


@pytest.mark.parametrize("half", ["", "--first-um-per-m 17", "--turned-um-per-m 17"])
def test_the_command_names_the_next_step_where_the_zero_is_missing(
    half: str, capsys: pytest.CaptureFixture[str]
) -> None:
    told = "--lift-um 50 --lift-tolerance-um 2 --base-mm 200 --before-um-per-m 17 --after-um-per-m 265"
    assert main(["guard", "level", *told.split(), *half.split()]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.startswith("Not resolved")
    assert "turn it by 180 degrees on the same spot" in said
