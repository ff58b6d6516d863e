"""``waywright visit``: stays at machines."""

from __future__ import annotations

from pathlib import Path
from uuid import UUID

from cyclopts import App

from waywright.cli.options import ArchivePlace, Json, opened_archive, tail

commands = App(name="visit", help="Keep visits: begun, listed, shown, with photos.")


@commands.command
def new(
    machine: str,
    /,
    *,
    purpose: str | None = None,
    technician: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Begin a visit to a machine; passes, a plan and a sheet join it by naming it.

    Parameters
    ----------
    machine
        The machine's name, serial number or the last characters of its id.
    purpose
        What the visit is for, for example acceptance.
    technician
        Who measures.
    by
        Who keeps this; without it the technician.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.clocks import SystemClock
    from waywright.jobs.machines import find_machine
    from waywright.jobs.visits import new_visit
    from waywright.wording import text

    with opened_archive(archive) as opened:
        known = find_machine(opened, machine)
        made = new_visit(opened, known, SystemClock(), purpose, technician, by)
    display.answer(made, text("keep.visit_begun", machine=known.name, id=tail(made.id)), json)


@commands.command(name="list")
def list_visits(
    machine: str | None = None,
    /,
    *,
    after: UUID | None = None,
    size: int = 50,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """List visits, all or those to one machine, in the order in which they began.

    Parameters
    ----------
    machine
        The machine's name, serial number or the last characters of its id.
    after
        Go on after the visit with this id (the one that ended the page before).
    size
        How many to a page.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.keep_view import show_visits
    from waywright.jobs.visits import visits_page

    with opened_archive(archive) as opened:
        show_visits(visits_page(opened, machine, after, size), json)


@commands.command
def show(visit: str | None = None, /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Show a visit: its lines and passes, its plan, its files.

    Parameters
    ----------
    visit
        The last characters of its id; without it the newest visit.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.keep_view import show_visit
    from waywright.jobs.visits import find_visit, visit_shown

    with opened_archive(archive) as opened:
        show_visit(visit_shown(opened, find_visit(opened, visit)), json)


@commands.command
def attach(
    file: Path,
    /,
    *,
    visit: str | None = None,
    role: str | None = None,
    caption: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Keep a photo or another file with a visit.

    Parameters
    ----------
    file
        The file; it is copied into the archive.
    visit
        The last characters of the visit's id; without it the newest.
    role
        photo, certificate, contract, report or other; without it guessed from the file.
    caption
        What it shows.
    by
        Who attaches it; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.keep_view import show_attached
    from waywright.jobs.attach import attach as do
    from waywright.jobs.people import who
    from waywright.jobs.visits import find_visit

    with opened_archive(archive) as opened:
        show_attached(do(opened, find_visit(opened, visit).id, file, role, caption, who(opened, by)), json)
