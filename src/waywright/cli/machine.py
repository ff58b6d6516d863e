"""``waywright machine``: machines that the archive knows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from waywright.cli.options import ArchivePlace, Json, opened_archive

commands = App(name="machine", help="Keep machines: new, shown, changed, with photos.")


@commands.command
def new(
    file: Path | None = None,
    /,
    *,
    name: str | None = None,
    kind: str = "not recorded",
    up: str = "+Z",
    operator: str = "-Y",
    serial: str | None = None,
    owner: str | None = None,
    site: str | None = None,
    bed_length_mm: float | None = None,
    supports_in_a_row: int = 0,
    rows: int = 1,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Keep a machine: from a machine file, or from a few facts.

    Parameters
    ----------
    file
        A machine file (TOML); then the facts do not count.
    name
        What people call it.
    kind
        What it is, for example "roll lathe".
    up
        The signed axis that points up (ISO 841).
    operator
        The signed axis that points towards the operator.
    serial
        Its serial number.
    owner
        Whose it is.
    site
        Where it stands.
    bed_length_mm
        Length of its bed.
    supports_in_a_row
        How many supports stand in a row, evenly spaced.
    rows
        Rows of supports: 1 or 2.
    by
        Who says so; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.errors import BadInput
    from waywright.files.machine_file import read_machine
    from waywright.jobs import machines
    from waywright.jobs.new_machine import plain_machine
    from waywright.quantities import Axes
    from waywright.wording import text

    if file is None and not name:
        raise BadInput("keep.machine_without_name")
    facts = {"owner": owner, "serial": serial, "bed_length_mm": bed_length_mm}
    layout = {"supports_in_a_row": supports_in_a_row, "rows": rows}
    with opened_archive(archive, create=True) as opened:
        made = read_machine(file) if file else plain_machine(str(name), kind, Axes(up, operator), **facts, **layout)  # type: ignore[arg-type]
        kept = machines.keep_machine(opened, machines.at_site(opened, made, site), by)
    display.answer(kept, text("keep.machine_kept", name=kept.name), json)


@commands.command(name="list")
def list_machines(*, archive: ArchivePlace = None, json: Json = False) -> None:
    """List the machines that the archive knows.

    Parameters
    ----------
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.keep_view import show_machines

    with opened_archive(archive) as opened:
        show_machines(opened.machines(), json)


@commands.command
def show(name: str, /, *, write: Path | None = None, archive: ArchivePlace = None, json: Json = False) -> None:
    """Show a machine: what is known, its files, and every change with who, when and why.

    Parameters
    ----------
    name
        Its name, serial number or the last characters of its id.
    write
        Write its machine file there too.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.keep_view import show_machine
    from waywright.files.machine_file import write_machine
    from waywright.jobs.machines import machine_shown

    with opened_archive(archive) as opened:
        found = machine_shown(opened, name)
    if write is not None:
        write_machine(found.machine, write)
    show_machine(found, json)


@commands.command
def edit(
    name: str,
    changes: Annotated[list[str] | None, Parameter(negative="")] = None,
    /,
    *,
    reason: str,
    file: Path | None = None,
    site: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Change what is known about a machine; what was known before stays in its history.

    Parameters
    ----------
    name
        Its name, serial number or the last characters of its id.
    changes
        name=value with the names of the machine file: serial=0815, bed.length_mm=6500, support.3.locked=true.
    reason
        Why; it is kept with the change.
    file
        Take everything from this machine file first.
    site
        Where the machine stands now.
    by
        Who says so; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show as display
    from waywright.jobs.machines import MachineEdit, edit_machine
    from waywright.wording import text

    wanted = MachineEdit(said=tuple(changes or ()), file=file, site=site, reason=reason)
    with opened_archive(archive) as opened:
        kept = edit_machine(opened, name, wanted, by)
    display.answer(kept, text("keep.machine_kept", name=kept.name), json)


@commands.command
def attach(
    name: str,
    file: Path,
    /,
    *,
    role: str | None = None,
    caption: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Keep a photo or another file with a machine.

    Parameters
    ----------
    name
        The machine's name, serial number or the last characters of its id.
    file
        The file; it is copied into the archive.
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
    from waywright.jobs.machines import find_machine
    from waywright.jobs.people import who

    with opened_archive(archive) as opened:
        show_attached(do(opened, find_machine(opened, name).id, file, role, caption, who(opened, by)), json)


def _others() -> None:
    """The commands about its history stand in a file of their own."""
    from waywright.cli import machine_history

    machine_history.add_to(commands)


_others()
