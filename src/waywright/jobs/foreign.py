"""Foreign tables: look at one and propose a mapping, bring one in as a readings table."""

from __future__ import annotations

from pathlib import Path

from waywright.files import ReadingsTable, write_table
from waywright.files.foreign_proposal import Proposal, proposed
from waywright.files.foreign_table import read_foreign, read_mapping
from waywright.files.table_writer import write_text


def look_at(file: Path, mapping: Path | None = None, sheet: str | None = None) -> Proposal:
    """What a table seems to be; the proposed mapping is written into ``mapping`` where given."""
    found = proposed(file, sheet)
    if mapping is not None:
        write_text(mapping, found.mapping)
    return found


def bring_in(file: Path, mapping: Path, target: Path) -> ReadingsTable:
    """Convert a foreign table into a readings table. Raises BadInput naming file, row and column."""
    table = read_foreign(file, read_mapping(mapping))
    write_table(target, table)
    return table
