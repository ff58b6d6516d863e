"""``waywright archive``: what is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cyclopts import App

from waywright.cli.options import ArchivePlace, Json, tail

if TYPE_CHECKING:
    from waywright.jobs.remember import PassEntry

commands = App(name="archive", help="Show, check, share and compute anew what is kept.")

_LONGEST_WORD = 9


@commands.command(name="list")
def list_visits(
    *, after: str | None = None, size: int | None = None, archive: ArchivePlace = None, json: Json = False
) -> None:
    """List machines and visits with their lines, sheets and passes: all, or page by page in the order of time.

    Parameters
    ----------
    after
        Go on after the pass with this id (the one that ended the page before).
    size
        How many passes to a page; without it all.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs import remember
    from waywright.wording import text

    if size is None and after is None:
        page, entries = None, remember.overview(archive)
    else:
        page = remember.overview_page(archive, after, size or 50)
        entries = page.entries
    if json:
        show.print_json(page or entries)
        return
    _list(entries)
    if page is not None and page.after is not None:
        show.console().print(text("keep.more", after=page.after))


def _list(entries: tuple[PassEntry, ...]) -> None:
    from waywright.cli import show
    from waywright.jobs.remember import SHEET
    from waywright.wording import text

    page = show.table("machine", "line", "visit", "pass", "stations", "outcome", "id")
    for column in page.columns[2:]:
        column.no_wrap = True
    page.columns[1].justify, page.columns[1].min_width = "left", _LONGEST_WORD
    for entry in entries:
        page.add_row(
            entry.machine,
            entry.line,
            f"{entry.visit_began_utc:%Y-%m-%d}",
            text("keep.sheet") if entry.state == SHEET else f"{entry.number} {entry.direction}",
            str(entry.stations),
            "-" if entry.state == SHEET else entry.outcome or "not ended",
            tail(entry.pass_id),
        )
    show.console().print(page if entries else "The archive is empty.")


@commands.command
def show(pass_id: str, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Show one pass: its readings and what happened during it.

    Parameters
    ----------
    pass_id
        The id of the pass or its last characters, as `archive list` shows them.
    archive
        The archive file or address; without it the file in your user data folder.
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
def check(*, archive: ArchivePlace = None, json: Json = False) -> int:
    """Check the whole archive: its file, every seal and every chain.

    Parameters
    ----------
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.jobs import remember

    with display.progress(not json) as told:
        found = remember.check(archive, lambda done, total: told("check", done, total))
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
    by: str | None = None,
    archive: ArchivePlace = None,
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
    by
        Who says so; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.jobs.mend import Mending
    from waywright.jobs.mend import mend as do
    from waywright.wording import text

    made = do(line, Mending(channel=channel, positive=positive, factor=factor, reason=reason, by=by), archive)
    if json:
        display.print_json(made)
        return
    for interpretation in made:
        for meaning in interpretation.meanings:
            direction = text(f"quantities.{meaning.positive.value}")
            display.console().print(
                f"{meaning.channel}: {meaning.code}, positive {direction}, factor {meaning.factor:g}"
            )


def _others() -> None:
    """The other commands about the archive stand in files of their own."""
    from waywright.cli import archive_more, archive_share

    archive_share.add_to(commands)
    archive_more.add_to(commands)


_others()
