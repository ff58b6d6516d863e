"""``waywright archive``: visit files, backups, and the archive of a department."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, Parameter

from waywright.cli.options import ArchivePlace, Json, opened_archive, tail

if TYPE_CHECKING:
    from waywright.jobs.sharing import Received

ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"])]
Replace = Annotated[bool, Parameter(negative="")]


def add_to(commands: App) -> None:
    """Add the commands of this file."""
    for command in (export, backup, restore, push, pull, conflicts, decide):
        commands.command(command)
    commands.command(bring_in, name="import")


def export(
    file: Path,
    /,
    *,
    visit: str | None = None,
    machine: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Write one visit, or a machine with all its visits, to a visit file (JSON, compressed where it ends in .gz).

    Parameters
    ----------
    file
        The file to write, for example visit.json.gz.
    visit
        The last characters of the visit's id; without it the newest.
    machine
        The machine's name, serial number or the last characters of its id.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import export as do
    from waywright.wording import text

    with show.progress(not json) as told:
        made = do(archive, visit, machine, file, told)
    counts = {"passes": made.passes, "readings": made.readings, "records": made.records, "results": made.results}
    show.answer(made, text("keep.exported", file=made.file, **counts), json)


def bring_in(file: Path, /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Add what a visit file holds; what is there already is left alone, and every seal is checked.

    Parameters
    ----------
    file
        The visit file.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import bring_in as do

    with show.progress(not json) as told:
        received = do(archive, file, told)
    _show_received(received, json)


def backup(file: Path, /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Copy the whole archive to a new file, also while it is in use, and check the copy.

    Parameters
    ----------
    file
        The file to write; it must not be there yet.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import backup as do
    from waywright.wording import text

    with show.progress(not json) as told:
        made = do(archive, file, told)
    show.answer({"file": made}, text("keep.backed_up", file=made, size_mb=made.stat().st_size / 1e6), json)


def restore(file: Path, /, *, replace: Replace = False, archive: ArchiveFile = None, json: Json = False) -> None:
    """Put a backup in place of an archive, after checking it. What was there is kept beside it.

    Parameters
    ----------
    file
        The backup.
    replace
        Put it in place although there is an archive; that one is renamed, not removed.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import restore as do
    from waywright.wording import text

    with show.progress(not json) as told:
        aside = do(file, archive, told, replace=replace)
    sentence = text("keep.restored") if aside is None else text("keep.restored_over", file=aside)
    show.answer({"kept_aside": aside}, sentence, json)


def push(address: str, /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Send to a department's archive what it lacks of yours. Cut anywhere, start it again: it goes on.

    Parameters
    ----------
    address
        Its address, for example postgresql://ada@archive.example/geometry; the password comes from where PostgreSQL's
        own programs look for it.
    archive
        Your archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import push as do

    with show.progress(not json) as told:
        received = do(archive, address, told)
    _show_received(received, json)


def pull(address: str, /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Fetch from a department's archive what yours lacks. Cut anywhere, start it again: it goes on.

    Parameters
    ----------
    address
        Its address, for example postgresql://ada@archive.example/geometry.
    archive
        Your archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import pull as do

    with show.progress(not json) as told:
        received = do(archive, address, told)
    _show_received(received, json)


def conflicts(*, archive: ArchivePlace = None, json: Json = False) -> None:
    """Show descriptions that were edited on two computers, side by side.

    Parameters
    ----------
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import conflicts as find
    from waywright.wording import text

    with opened_archive(archive) as opened:
        found = find(opened)
    if json:
        show.print_json(found)
        return
    for each in found:
        heads = [f"{n}: {v.recorded_utc:%Y-%m-%d %H:%M}, {v.by or '-'}" for n, v in enumerate(each.versions, start=1)]
        page = show.table("", *heads, title=f"{each.kind} {each.name} ({tail(each.subject)})")
        for name, values in each.fields.items():
            page.add_row(name, *(str(value) if value is not None else "-" for value in values))
        page.add_row(text("keep.why"), *(version.reason or "-" for version in each.versions))
        show.console().print(page)
    show.console().print(text("keep.decide") if found else text("keep.no_conflicts"))


def decide(
    thing: str,
    version: int,
    /,
    *,
    reason: str,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Let one version of a description that was edited on two computers hold.

    Parameters
    ----------
    thing
        The last characters of its id, as `archive conflicts` shows them.
    version
        The number of the version, from 1.
    reason
        Why; it is kept with the decision.
    by
        Who decides; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.sharing import decide as do
    from waywright.wording import text

    with opened_archive(archive) as opened:
        do(opened, thing, version, reason, by)
    show.answer({"thing": thing, "version": version}, text("keep.decided", version=version), json)


def _show_received(received: Received, json: bool) -> None:
    from waywright.cli import show
    from waywright.wording import text

    if json:
        show.print_json(received)
        return
    added = ", ".join(
        f"{count} {text(f'progress_counted.{table}')}" for table, count in received.added.items() if count
    )
    console = show.console()
    console.print(text("keep.received", added=added) if added else text("keep.nothing_new"))
    if received.refused:
        console.print(text("keep.refused", count=sum(received.refused.values())))
    for key, passes in (("keep.forked", received.forked_passes), ("keep.damaged", received.damaged_passes)):
        if passes:
            console.print(text(key, passes=", ".join(str(each)[-6:] for each in passes)))
    if received.conflicts:
        console.print(text("keep.conflicts", count=received.conflicts))
