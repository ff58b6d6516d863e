"""``waywright archive``: what is kept."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

commands = App(name="archive", help="Show and check what is kept.")

ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"])]
Json = Annotated[bool, Parameter(negative="")]

_ID_SHOWN = 6
_LONGEST_WORD = 9


@commands.command(name="list")
def list_visits(*, archive: ArchiveFile = None, json: Json = False) -> None:
    """List machines and visits with their lines and passes.

    Parameters
    ----------
    archive
        The archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs import remember

    entries = remember.overview(archive)
    if json:
        show.print_json(entries)
        return
    page = show.table("machine", "line", "visit", "pass", "stations", "outcome", "id")
    for column in page.columns[2:]:
        column.no_wrap = True
    page.columns[1].justify, page.columns[1].min_width = "left", _LONGEST_WORD
    for entry in entries:
        page.add_row(
            entry.machine,
            entry.line,
            f"{entry.visit_began_utc:%Y-%m-%d}",
            f"{entry.number} {entry.direction}",
            str(entry.stations),
            entry.outcome or "not ended",
            str(entry.pass_id)[-_ID_SHOWN:],
        )
    show.console().print(page if entries else "The archive is empty.")


@commands.command
def show(pass_id: str, *, archive: ArchiveFile = None, json: Json = False) -> None:
    """Show one pass: its readings and what happened during it.

    Parameters
    ----------
    pass_id
        The id of the pass or its last characters, as `archive list` shows them.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.jobs import remember

    detail = remember.pass_detail(pass_id, archive)
    if json:
        display.print_json(detail)
        return
    page = display.table("no.", "position mm", *detail.channels, "taken", "remark")
    for row in detail.rows:
        values = [display.signed(value, 2) if value is not None else "" for value in row.values]
        page.add_row(str(row.number + 1), f"{row.position_mm:.2f}", *values, row.taken_by, row.remark)
    display.console().print(page)
    for sentence in detail.events:
        display.console().print(sentence)


@commands.command
def check(*, archive: ArchiveFile = None, json: Json = False) -> int:
    """Check the whole archive: its file, every seal and every chain.

    Parameters
    ----------
    archive
        The archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.jobs import remember

    found = remember.check(archive)
    if json:
        display.print_json(found)
    else:
        for sentence in found.sentences:
            display.console().print(sentence)
    return 0 if found.sound else 1


@commands.command
def mend(
    channel: str,
    *,
    reason: str,
    positive: str | None = None,
    factor: float | None = None,
    line: str | None = None,
    archive: ArchiveFile = None,
    json: Json = False,
) -> None:
    """Correct what a channel means: wrong sign, swapped channels, wrong size. Raw readings stay.

    Parameters
    ----------
    channel
        The channel, for example beam.vertical_um.
    reason
        Why; it is kept with the new interpretation.
    positive
        The physical direction in which the channel counts positive, for example down or towards-operator.
    factor
        Corrects the size of every value of the channel.
    line
        Name or id of the line; without it the newest.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.jobs.mend import Mending
    from waywright.jobs.mend import mend as do
    from waywright.wording import text

    made = do(line, Mending(channel=channel, positive=positive, factor=factor, reason=reason), archive)
    if json:
        display.print_json(made)
        return
    for interpretation in made:
        for meaning in interpretation.meanings:
            direction = text(f"quantities.{meaning.positive.value}")
            display.console().print(
                f"{meaning.channel}: {meaning.code}, positive {direction}, factor {meaning.factor:g}"
            )
