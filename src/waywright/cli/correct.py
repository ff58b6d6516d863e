"""``waywright correct``: which support, which way, how far."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def correct(
    machine: Path,
    readings: Path,
    /,
    *,
    goal_um: float,
    noise_um: float = 1.0,
    locked: str | None = None,
    unlocked: str | None = None,
    max_supports: int | None = None,
    json: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Plan which supports to turn, which way and how far, and print the fitter's sheet.

    It is a proposal to a person: the maker's instructions, local rules and licensed practice come first. Waywright
    turns nothing and moves nothing.

    Parameters
    ----------
    machine
        The machine file with bed and supports.
    readings
        A readings table with the height, and the roll if it was measured.
    goal_um
        The straightness to be reached.
    noise_um
        Standard deviation of a reading.
    locked
        Supports that must not be turned, such as "7, 14".
    unlocked
        Supports beyond the stations that may be turned all the same.
    max_supports
        Touch at most so many supports.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.cli.correct_view import print_correction
    from waywright.jobs import correct as jobs

    order = jobs.CorrectionOrder(
        goal_um=goal_um,
        noise_um=noise_um,
        locked=jobs.names(locked),
        unlocked=jobs.names(unlocked),
        max_supports=max_supports,
    )
    found = jobs.correction_of_table(machine, readings, order)
    if json:
        show.print_json(jobs.summary(found))
    else:
        print_correction(found)
