"""Sheets for tests: short rows, an archive, a clock that moves on by a second with every look."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from waywright.archive import Archive, open_archive
from waywright.files.sheet_file import SheetFile
from waywright.jobs.sheet_fill import Kept, SheetFill
from waywright.jobs.sheet_keep import SheetOrder, begin_sheet
from waywright.visit.sheet import MeasuringSheet, SheetRow


class Ticking:
    """UTC that moves on by a second each time it is asked."""

    def __init__(self) -> None:
        self._now = datetime(2026, 5, 4, 7, 0, tzinfo=UTC)

    def utc(self) -> datetime:
        self._now += timedelta(seconds=1)
        return self._now

    def monotonic(self) -> float:
        return self._now.timestamp()


CLOCK = Ticking()


def sheet_file(*rows: SheetRow) -> SheetFile:
    return SheetFile(1, "short sheet", rows)


@contextmanager
def filling(folder: Path, *rows: SheetRow) -> Iterator[tuple[Archive, MeasuringSheet, SheetFill]]:
    """A sheet begun in a new archive."""
    with open_archive(folder / "a.sqlite", create=True) as archive:
        sheet = begin_sheet(archive, sheet_file(*rows), SheetOrder("HR-6"), CLOCK)  # type: ignore[arg-type]
        yield archive, sheet, SheetFill(archive, sheet, CLOCK)  # type: ignore[arg-type]


def enter(fill: SheetFill, *values: float) -> None:
    """Values that are meant, one after the other."""
    for value in values:
        assert isinstance(fill.enter(f"{value:g}", sure=True), Kept)
