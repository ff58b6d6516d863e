"""Rounds at the terminal: plan a kept line, confirm, turn, learn; tightening and the overnight watch."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from waywright.cli.options import ArchivePlace, Json, tail

Instruments = Annotated[list[Path], Parameter(negative="")]


def register(commands: App) -> None:
    """Add the commands of rounds."""
    for command in (line, rounds, confirm, turn, tighten, learn, watch):
        commands.command(command)


def line(
    line: str | None = None,
    /,
    *,
    goal_um: float,
    noise_um: float = 1.0,
    locked: str | None = None,
    max_supports: int | None = None,
    crown_um: float = 0.0,
    settling_um: float = 0.0,
    sheet: Path | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Plan the next round of a measured line and keep it with the visit.

    What earlier rounds told of the bed is used; what an earlier visit left, with a caution.

    Parameters
    ----------
    line
        Name of a line or the end of its id; without it the newest.
    goal_um
        The straightness to be reached.
    noise_um
        Standard deviation of a reading.
    locked
        Supports that must not be turned.
    max_supports
        Touch at most so many supports.
    crown_um
        How much higher the middle is wanted than the ends.
    settling_um
        Kept in reserve for what the bed will settle.
    sheet
        Write the sheet for the fitter as a PDF of one page.
    archive
        The archive; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.archive import open_archive
    from waywright.cli import show
    from waywright.cli.correct_view import print_correction
    from waywright.clocks import SystemClock
    from waywright.jobs.correct import CorrectionOrder, correction_of_line, names, summary
    from waywright.jobs.fitters_sheet import write_sheet
    from waywright.jobs.measured import find_line, measured_line
    from waywright.jobs.remember import archive_place
    from waywright.jobs.rounds import belief_for, keep_plan, with_cautions
    from waywright.wording import text

    clock = SystemClock()
    order = CorrectionOrder(
        goal_um=goal_um,
        noise_um=noise_um,
        locked=names(locked),
        max_supports=max_supports,
        crown_um=crown_um,
        settling_um=settling_um,
    )
    with open_archive(archive_place(archive), clock=clock) as opened:
        measured = measured_line(opened, find_line(opened, line))
        belief, cautions = belief_for(opened, measured, clock.utc())
        found = with_cautions(correction_of_line(measured, order, belief), cautions)
        made = keep_plan(opened, measured, found, clock, measured.visit.technician_id)
    if sheet is not None:
        write_sheet(found, sheet, clock.utc(), made.number)
    if json:
        show.print_json({"round": str(made.id), "plan": summary(found)})
        return
    print_correction(found)
    show.console().print("\n" + text("adjust.kept", number=made.number, id=tail(made.id)))


def rounds(*, archive: ArchivePlace = None, json: Json = False) -> None:
    """List the rounds of correction of every visit: what was expected, what was read, what was a surprise.

    Parameters
    ----------
    archive
        The archive; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.archive import open_archive
    from waywright.cli import show
    from waywright.cli.adjust_view import print_rounds
    from waywright.jobs.remember import archive_place
    from waywright.jobs.rounds import rounds_of

    with open_archive(archive_place(archive)) as opened:
        found = [each for visit in opened.visits() for each in rounds_of(opened, visit.id)]
    if json:
        show.print_json(found)
    else:
        print_rounds(found)


def confirm(round: str | None = None, /, *, by: str | None = None, archive: ArchivePlace = None) -> None:
    """Ask each safety confirmation of a round on its own; every one needs its own answer in words.

    Parameters
    ----------
    round
        The end of the round's id; without it the newest.
    by
        Who confirms.
    archive
        The archive; without it the one in your user data folder.
    """
    from waywright.cli.adjust_view import ask_confirmations

    ask_confirmations(round, by, archive)


def turn(
    support: str,
    instruments: Instruments = [],  # noqa: B006 - the parser copies it
    /,
    *,
    round: str | None = None,
    by_um: float | None = None,
    note: str | None = None,
    factor: float = 1.0,
    archive: ArchivePlace = None,
) -> None:
    """Turn one support of a round: live with instruments, or only told.

    With instruments the reading, its target, the turns to go and the neighbours are shown, and the alarm: when the
    carriage moves or the reading jumps. Enter ends it. Waywright turns nothing.

    Parameters
    ----------
    support
        The support as painted on the floor.
    instruments
        Instrument description files; the detector is parked at any one station.
    round
        The end of the round's id; without it the newest.
    by_um
        What was really done, raising positive; without it as asked. Only without instruments.
    note
        What the fitter says of it.
    factor
        Pace of the clock; 1 except with a simulated workshop.
    archive
        The archive; without it the one in your user data folder.
    """
    from waywright.cli import adjust_view

    if instruments:
        adjust_view.turn_live(support, instruments, round, factor, archive)
    else:
        adjust_view.told(support, round, by_um, note, archive)


def tighten(
    support: str,
    instruments: Instruments,
    /,
    *,
    sinks_um: float,
    round: str | None = None,
    factor: float = 1.0,
    archive: ArchivePlace = None,
) -> None:
    """Watch a support sink while its anchor is tightened, and say when to stop.

    Parameters
    ----------
    support
        The support as painted on the floor.
    instruments
        Instrument description files; the detector is parked near the support.
    sinks_um
        How far it should sink.
    round
        The end of the round's id; without it the newest.
    factor
        Pace of the clock; 1 except with a simulated workshop.
    archive
        The archive; without it the one in your user data folder.
    """
    from waywright.cli import adjust_view

    adjust_view.turn_live(support, instruments, round, factor, archive, sinks_um)


def learn(
    line: str | None = None, /, *, round: str | None = None, archive: ArchivePlace = None, json: Json = False
) -> None:
    """Learn from a line measured after a round: how stiff the bed is, what was a surprise and why.

    Parameters
    ----------
    line
        Name of the line measured afterwards or the end of its id; without it the newest.
    round
        The end of the round's id; without it the newest.
    archive
        The archive; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.archive import open_archive
    from waywright.cli import show
    from waywright.cli.adjust_view import print_learnt
    from waywright.clocks import SystemClock
    from waywright.jobs.measured import find_line, measured_line
    from waywright.jobs.remember import archive_place
    from waywright.jobs.rounds import measured_again, round_named

    clock = SystemClock()
    with open_archive(archive_place(archive), clock=clock) as opened:
        after = measured_line(opened, find_line(opened, line))
        made, _ = measured_again(opened, round_named(opened, round), after, clock, after.visit.technician_id)
    if json:
        show.print_json(made)
    else:
        print_learnt(made)


def watch(
    instruments: Instruments,
    /,
    *,
    line: str | None = None,
    hours: float = 12.0,
    every_s: float = 60.0,
    limit_um: float = 5.0,
    table: Path = Path("overnight.csv"),
    factor: float = 1.0,
    archive: ArchivePlace = None,
) -> None:
    """Overnight watch: does the bed stay where it was left? Ctrl-c ends it early.

    Parameters
    ----------
    instruments
        Instrument description files; the detector stays parked.
    line
        Name of the line or the end of its id; without it the newest.
    hours
        How long to watch.
    every_s
        Over how long each mean is taken.
    limit_um
        How far the reading may go in all.
    table
        Where the means are written, as they come.
    factor
        Pace of the clock; 1 except with a simulated workshop.
    archive
        The archive; without it the one in your user data folder.
    """
    from waywright.cli import adjust_view

    adjust_view.watch_night(instruments, line, hours, every_s, limit_um, table, factor, archive)
