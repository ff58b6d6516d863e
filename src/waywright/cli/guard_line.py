"""``waywright guard``, of a kept line: its tests, what its passes say, gates, states, temperatures."""

from __future__ import annotations

from collections.abc import Callable

from waywright.cli.guard_options import ASKED, JUDGED, AtLine, By, Gate, Line, Tolerance


def list_evidence(line: Line = None, *, at: AtLine = ASKED) -> None:
    """Tests and gates that were kept for a line."""
    from waywright.cli import guard_view
    from waywright.jobs import evidence

    guard_view.show_evidence(evidence.listed(evidence.Keep(line, at.archive)), at.json)


def anyway(test: str, *, reason: str, line: Line = None, by: By = None, at: AtLine = ASKED) -> None:
    """Go on although a test was not good; the reason is kept and printed in the report.

    Parameters
    ----------
    test
        The id of the test or its last characters, as `guard list` shows it.
    reason
        Why the work goes on.
    """
    from waywright.cli import guard_view
    from waywright.jobs import evidence

    passed = evidence.passed_anyway(test, reason, evidence.Keep(line, at.archive, by))
    guard_view.show_evidence((passed,), at.json)


def watch(line: Line = None, *, at: AtLine = ASKED) -> None:
    """Compare the kept passes of a line: which station, or which pass, to take again."""
    from waywright.cli import guard_view
    from waywright.jobs import guard_line

    guard_view.show_watched(guard_line.watch(line, at.archive), at.json)


def gates(line: Line = None, *, gate: Gate = JUDGED) -> None:
    """Gates of a line from its record: plan, instruments, state of the machine, heat, like states of its passes."""
    from waywright.cli import guard_view
    from waywright.jobs import guard_gates
    from waywright.jobs.evidence import Keep

    found = guard_gates.gates(Keep(line, gate.archive, gate.by), keep=gate.keep)
    guard_view.show_gates(found, gate.json)


def states(first: str, second: str, *, at: AtLine = ASKED) -> None:
    """Whether two lines were measured in like states of the machine, so that they may be compared.

    Parameters
    ----------
    first
        Name or id of the line measured first.
    second
        Name or id of the line measured later.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_left

    guard_view.show_gates((guard_left.states(first, second, at.archive),), at.json)


def after(
    line: Line = None,
    *,
    found: str | None = None,
    tolerance_um: Tolerance = None,
    creep_um_per_h: float | None = None,
    waited_min: float | None = None,
    gate: Gate = JUDGED,
) -> None:
    """After adjusting: is the line as left final, or provisional with a day to check it again?

    Parameters
    ----------
    found
        Name or id of the line as found; without it the line of the same axis and name of the visit.
    creep_um_per_h
        How fast the bed still moves; without it from a station that was read again after twenty minutes or more.
    waited_min
        How long the bed was left alone after the last move; without it from the kept rounds.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_left
    from waywright.jobs.evidence import Keep

    where = Keep(line, gate.archive, gate.by)
    told = {"tolerance": tolerance_um, "creep_um_per_h": creep_um_per_h, "waited_min": waited_min}
    guard_view.show_gates((guard_left.left(where, found, keep=gate.keep, **told),), gate.json)


def baseline(line: Line = None, *, gate: Gate = JUDGED) -> None:
    """Day two: the newest pass, three stations of it, beside the pass before from the same set-up."""
    from waywright.cli import guard_view
    from waywright.jobs import guard_left
    from waywright.jobs.evidence import Keep

    found = guard_left.baseline(Keep(line, gate.archive, gate.by), keep=gate.keep)
    guard_view.show_gates((found,), gate.json)


def temperature(
    place: str,
    value_degc: float,
    line: Line = None,
    *,
    pass_number: int | None = None,
    by: By = None,
    at: AtLine = ASKED,
) -> None:
    """Record a temperature with a pass of a line: "air at the beam", "bed top", "bed foot" or another place.

    Parameters
    ----------
    place
        Where it was read, in your words.
    value_degc
        What the thermometer says.
    pass_number
        Which pass; without it the newest.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_temperature
    from waywright.jobs.evidence import Keep

    where = Keep(line, at.archive, by)
    guard_view.show_temperatures(guard_temperature.record(place, value_degc, where, pass_number), at.json)


COMMANDS: dict[str, Callable[..., None]] = {
    "list": list_evidence,
    "anyway": anyway,
    "watch": watch,
    "gates": gates,
    "states": states,
    "after": after,
    "baseline": baseline,
    "temperature": temperature,
}
