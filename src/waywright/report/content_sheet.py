"""What a report says of the sheets of tests filled in at its visit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waywright.evaluate.results import Reason


@dataclass(frozen=True, slots=True)
class SheetTestContent:
    """One test of a sheet. ``measured`` and ``expanded`` are printed as in the report of the sheet, in ``unit``.

    ``permissible`` is the rule, None where none was agreed; ``verdict`` is "conforms", "does not conform", "undecided",
    "not-measured", "incomplete", "no-limit" or "not-judged", ``mark`` its meaning in the palette, ``why`` its reasons.
    """

    number: str
    what: str
    permissible: str | None
    measured: str
    expanded: str
    unit: str
    verdict: str
    mark: str
    why: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetListedContent:
    """One sheet: its tests and how many have each verdict. ``unread`` says why it could not be judged."""

    title: str
    burden: str
    tests: tuple[SheetTestContent, ...] = ()
    counts: Mapping[str, int] = field(default_factory=dict)
    note: str = ""
    unread: Reason | None = None
