"""``waywright table``: tables of other programs come in."""

from __future__ import annotations

from pathlib import Path

from cyclopts import App

commands = App(name="table", help="Bring in tables of other programs (CSV, XLSX).")


@commands.command
def look(file: Path, *, mapping: Path | None = None, sheet: str | None = None) -> None:
    """Look at a table of another program and propose what its columns are.

    Parameters
    ----------
    file
        CSV or XLSX.
    mapping
        Write the proposed mapping into this TOML file, to be looked over: codes, units, signs.
    sheet
        The sheet of a workbook; without it the first.
    """
    from waywright.cli import show
    from waywright.jobs.foreign import look_at
    from waywright.wording import text

    found = look_at(file, mapping, sheet)
    page = show.console()
    if found.sheets:
        page.print(text("foreign.sheets", sheets=", ".join(found.sheets)), markup=False)
    headings = " · ".join(head or "–" for head in found.headings)
    page.print(text("foreign.looked", file=found.file, row=found.header_row, headings=headings), markup=False)
    if mapping is None:
        page.print(found.mapping, markup=False)
    else:
        page.print(text("foreign.mapping_written", file=str(mapping)), markup=False)


@commands.command
def convert(file: Path, mapping: Path, target: Path) -> None:
    """Convert a table of another program into a readings table, by a mapping file.

    Parameters
    ----------
    file
        CSV or XLSX.
    mapping
        The mapping, as `waywright table look` proposes one.
    target
        The readings table that is written, with ISO signs and units in its header.
    """
    from waywright.cli import show
    from waywright.jobs.foreign import bring_in
    from waywright.wording import text

    table = bring_in(file, mapping, target)
    facts = {"rows": table.position_mm.size, "file": str(target), "codes": ", ".join(table.columns)}
    show.console().print(text("foreign.converted", **facts), markup=False)
