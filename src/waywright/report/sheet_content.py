"""What a sheet of tests says, before it has a form: page, PDF and workbook take every word from here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

MARKS = {"conforms": "inside", "does not conform": "outside", "undecided": "undecided"}


@dataclass(frozen=True, slots=True)
class PlaceContent:
    """One value of a row: its place in words, and what was read there with its unit; empty on a blank sheet."""

    place: str
    value: str
    number: float | None = None


@dataclass(frozen=True, slots=True)
class SheetRowContent:
    """One row: words and figures ready to print. ``mark`` is "inside", "outside", "undecided" or "".

    ``measured`` and ``expanded`` are figures in ``unit``; ``why`` says why a row is not a plain yes; ``further`` are
    figures beside the value; ``budget`` the uncertainty row by row: name, value, distribution, source, what it adds.
    """

    number: str
    what: str
    picture: str
    places: tuple[PlaceContent, ...]
    permissible: str
    unit: str
    measured: str
    expanded: str
    verdict: str
    mark: str
    remark: str
    why: tuple[str, ...] = ()
    further: tuple[str, ...] = ()
    method: str = ""
    budget: tuple[tuple[str, str, str, str, str], ...] = ()
    value_number: float | None = None
    expanded_number: float | None = None
    limit_number: float | None = None


@dataclass(frozen=True, slots=True)
class SheetContent:
    """A whole sheet, filled or blank. ``facts`` are label and value; ``undecided`` says which rows are open and why."""

    made_utc: datetime
    title: str
    heading: str
    blank: bool
    facts: tuple[tuple[str, str], ...]
    rows: tuple[SheetRowContent, ...]
    summary: str
    note: str = ""
    invented: str = ""
    undecided: tuple[str, ...] = ()
    causes: tuple[str, ...] = ()
    origin: tuple[tuple[str, str], ...] = ()
    language: str = "en"
