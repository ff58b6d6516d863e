"""``waywright sheet``: the ordinary sheet of tests, from an example to the report."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from waywright.cli.options import Instruments

commands = App(name="sheet", help="The ordinary sheet: level, indicator, square, mandrel and feeler.")

Json = Annotated[bool, Parameter(negative="", help="Print JSON.")]
ArchiveFile = Annotated[
    Path | None, Parameter(name=["--archive", "-a"], help="The archive; without it the one in your user data folder.")
]
Wanted = Annotated[str | None, Parameter(help="The end of the sheet's id, or its title; without it the newest.")]
Source = Annotated[str, Parameter(help="A sheet file, or the name of an example such as lathe.")]


@commands.command
def examples(*, json: Json = False) -> None:
    """The examples to start from; none of them holds a limit."""
    from waywright.cli import show
    from waywright.files.sheet_file import TEMPLATES, template

    found = {name: template(name) for name in TEMPLATES}
    if json:
        show.print_json({name: {"title": each.title, "rows": len(each.row)} for name, each in found.items()})
        return
    for name, each in found.items():
        show.console().print(f"{name:14} {each.title} ({len(each.row)})")


@commands.command
def kinds(*, json: Json = False) -> None:
    """Every kind of row: what is read, what it needs, its usual places."""
    from waywright.cli.sheet_view import print_kinds

    print_kinds(json)


@commands.command
def new(name: str, file: Path, /) -> None:
    """Write an example as a file to edit.

    Parameters
    ----------
    name
        The example.
    file
        The sheet file to be written; it must not exist.
    """
    from waywright.cli import show
    from waywright.jobs.sheet_files import write_example
    from waywright.wording import text

    rows = write_example(name, file)
    show.console().print(text("sheet.written", file=str(file), rows=rows), soft_wrap=True)


@commands.command
def check(file: Path, /) -> None:
    """Say whether a sheet file is in order, and where it is not.

    Parameters
    ----------
    file
        The sheet file.
    """
    from waywright.cli import show
    from waywright.evaluate.sheet_rows import entries_of
    from waywright.files.sheet_file import read_sheet_file
    from waywright.wording import text

    sheet = read_sheet_file(file)
    places = sum(len(entries_of(row)) for row in sheet.row)
    show.console().print(text("sheet.checked", file=str(file), rows=len(sheet.row), places=places), soft_wrap=True)


@commands.command
def schema() -> None:
    """The JSON Schema of the sheet file, for editors."""
    from waywright.cli import show
    from waywright.files.sheet_file import sheet_schema

    show.print_json(sheet_schema())


@commands.command
def budget(method: str, /) -> None:
    """Print the ready budget of a method, to copy and edit.

    Parameters
    ----------
    method
        indicator, mandrel, test-bar, square, disc, sweep, feeler, level or straightedge.
    """
    from waywright.files.row_budget import row_budget_text

    print(row_budget_text(method), end="")


@commands.command(name="print")
def print_blank(source: Source, file: Path, /, *, machine: str | None = None) -> None:
    """A blank sheet as PDF, to fill with a pencil.

    Parameters
    ----------
    file
        The PDF to be written.
    machine
        What stands at its head.
    """
    from waywright.jobs.sheet_files import write_blank

    write_blank(source, file, machine)
    print(file)


@commands.command
def fill(
    source: Annotated[
        str | None, Parameter(help="A sheet file or an example; without it the newest sheet goes on.")
    ] = None,
    /,
    *,
    sheet: Annotated[str | None, Parameter(help="Go on with this sheet: the end of its id.")] = None,
    machine: Annotated[str | None, Parameter(help="A machine file, or just a name.")] = None,
    technician: str | None = None,
    visit: str | None = None,
    instrument: Instruments = None,
    archive: ArchiveFile = None,
) -> None:
    """Fill a sheet: number, Enter, next. Every value is in the archive before the next place is asked for.

    "u" takes the last value back, "s" leaves the rest of a row, "g 9" goes to row 9, "e" ends. A value that can hardly
    be meant is asked about: Enter keeps it, another number replaces it.

    Parameters
    ----------
    technician
        Who reads.
    visit
        The visit that a new sheet belongs to, by the last characters of its id. Without it a visit begins.
    instrument
        What a new sheet is read with: the serial number of an instrument kept (`instrument keep`), a description
        file, or just what it is. May be said several times.
    """
    from waywright.cli.sheet_fill import SheetWish, fill_sheet

    fill_sheet(SheetWish(source, sheet, machine, technician, visit, tuple(instrument or ())), archive)


@commands.command(name="list")
def list_sheets(*, archive: ArchiveFile = None, json: Json = False) -> None:
    """The sheets in the archive."""
    from waywright.cli.sheet_view import print_sheets

    print_sheets(archive, json)


@commands.command
def show(sheet: Wanted = None, /, *, archive: ArchiveFile = None, json: Json = False) -> None:
    """A sheet as it stands: values, uncertainty, verdicts, and why rows are undecided."""
    from waywright.cli.sheet_view import print_sheet

    print_sheet(sheet, archive, json)


@commands.command
def limit(number: str, rule: str, /, *, sheet: Wanted = None, archive: ArchiveFile = None) -> None:
    """Write the agreed limit into a row of a kept sheet; what stood there before stays in its history.

    Parameters
    ----------
    number
        The row.
    rule
        A tolerance rule in mm, such as "a/300 and leaning up" with the agreed a.
    """
    from waywright.cli import show as shown
    from waywright.jobs.sheet_files import agree
    from waywright.wording import text

    said = agree(archive, sheet, number, rule)
    shown.console().print(text("sheet.row_changed", number=number, rule=said))


@commands.command
def report(
    sheet: Wanted = None, /, *, folder: Path = Path("waywright-sheet"), archive: ArchiveFile = None, json: Json = False
) -> None:
    """Write a sheet as PDF, workbook and JSON.

    Parameters
    ----------
    folder
        Where the files are written.
    """
    from waywright.cli import show as shown
    from waywright.jobs.sheet_files import report_sheet

    written = report_sheet(archive, sheet, folder)
    if json:
        shown.print_json(written)
        return
    for path in written.files:
        print(path)


@commands.command
def plan(
    sheet: Wanted = None,
    /,
    *,
    goal_um: float,
    machine: Path | None = None,
    locked: str | None = None,
    keep: Annotated[bool, Parameter(negative="")] = False,
    archive: ArchiveFile = None,
    json: Json = False,
) -> None:
    """Plan from a bed that was read with one level: rough level on three points, then which supports to turn.

    It is a proposal to a person: the maker's instructions, local rules and licensed practice come first.

    Parameters
    ----------
    goal_um
        The straightness to be reached.
    machine
        The machine file with two rows of supports; without it the machine that the sheet was begun with.
    locked
        Supports that must not be turned, such as "7, 14".
    keep
        Keep heights and twist as a line of the visit, so that rounds of correction go on from it.
    """
    from waywright.cli.sheet_view import PlanWish, print_plan

    print_plan(PlanWish(sheet, machine, goal_um, locked, keep), archive, json)
