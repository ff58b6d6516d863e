"""``waywright correct``: which support, which way, how far; the rounds, and what supports cannot do."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from waywright.cli import correct_else, correct_rounds
from waywright.cli.options import Json

correct = App(
    name="correct",
    help="Which support to turn, which way and how far; the rounds, and what supports cannot do.",
)
correct_rounds.register(correct)
correct_else.register(correct)


@correct.default
def plan(
    machine: Path,
    readings: Path,
    /,
    *,
    goal_um: float,
    noise_um: float = 1.0,
    locked: str | None = None,
    unlocked: str | None = None,
    max_supports: int | None = None,
    crown_um: float = 0.0,
    settling_um: float = 0.0,
    side: Annotated[bool, Parameter(negative="")] = False,
    rail: str | None = None,
    sheet: Path | None = None,
    json: Json = False,
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
    crown_um
        The bed is wanted so much higher in the middle than at its ends, as a smooth crown; never lower.
    settling_um
        Kept in reserve for what the bed will settle: the plan aims so much below the goal.
    side
        Plan the side jacks from the side of the table instead of the feet from its height.
    rail
        With two separate rails: "master" plans the front rail by its height, "other" the rear one from the master's
        height and the cross level.
    sheet
        Write the sheet for the fitter as a PDF of one page.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.cli.correct_view import print_correction
    from waywright.clocks import SystemClock
    from waywright.jobs import correct as jobs
    from waywright.jobs.fitters_sheet import write_sheet

    order = jobs.CorrectionOrder(
        goal_um=goal_um,
        noise_um=noise_um,
        locked=jobs.names(locked),
        unlocked=jobs.names(unlocked),
        max_supports=max_supports,
        crown_um=crown_um,
        settling_um=settling_um,
        side=side,
        rail=rail,
    )
    found = jobs.correction_of_table(machine, readings, order)
    if sheet is not None:
        write_sheet(found, sheet, SystemClock().utc())
    if json:
        show.print_json(jobs.summary(found))
    else:
        print_correction(found)
