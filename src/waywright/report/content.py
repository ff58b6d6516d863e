"""What a report says, before it has a form. Everything printed comes from here; nothing is computed while printing.

None is "not recorded" everywhere: a report of a single pass without any fact written down is still a report.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

from waywright.machine import Machine
from waywright.report.content_line import LineContent, QuantityContent
from waywright.report.content_sheet import SheetListedContent
from waywright.visit import Adjustment, EvidenceEntry, ReportNote, SignedReport, VisitPlan

NOTES = ("limitation", "safety", "further-check", "not-corrected", "reservation", "remark")
"""Kinds of notes that a report prints, in its order."""


@dataclass(frozen=True, slots=True)
class PartyContent:
    """Somebody who takes part."""

    name: str
    role: str | None = None


@dataclass(frozen=True, slots=True)
class SealContent:
    """Where a chain of hashes ends: of a pass (readings), or of what one computer wrote about the visit (records).

    ``links`` is the length of the chain, ``head`` the SHA-256 of its last link (hexadecimal). ``name`` says which
    chain: the id of the pass, or the mark of the computer.
    """

    kind: str
    name: str
    links: int
    head: str


@dataclass(frozen=True, slots=True)
class ChangeContent:
    """Something that was recorded after the revision that was signed before this one."""

    kind: str
    recorded_utc: datetime
    reason: str | None = None
    by: str | None = None


@dataclass(frozen=True, slots=True)
class IssueContent:
    """Which report this is. ``changes`` is what is new since ``since_revision``, the last one that was signed."""

    number: str | None = None
    revision: int = 1
    since_revision: int | None = None
    changes: tuple[ChangeContent, ...] = ()
    draft: bool = True


@dataclass(frozen=True, slots=True)
class OnTheSpotContent:
    """Something that was tried on the spot: stations measured again before the customer, or the program's own checks.

    ``kind`` is "witness" or "self-check"; ``rows`` are printed in columns, the first row names them.
    """

    kind: str
    made_utc: datetime
    passed: bool
    facts: Mapping[str, object] = field(default_factory=dict)
    rows: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class ReportContent:
    """A report of the lines of one visit.

    ``made_utc`` dates the documents and everything in them, so that the same content gives the same bytes. The last of
    ``lines`` is the one that the first page draws. ``language`` is "en", "de" or "en+de" (both side by side), ``paper``
    "a4" or "us-letter". ``names`` maps ids of people to their names.
    """

    made_utc: datetime
    machine: Machine
    lines: tuple[LineContent, ...]
    software_version: str
    algorithm_version: str
    technician: str | None = None
    purpose: str | None = None
    parties: tuple[PartyContent, ...] = ()
    began_utc: datetime | None = None
    plan: VisitPlan | None = None
    evidence: tuple[EvidenceEntry, ...] = ()
    rounds: tuple[Adjustment, ...] = ()
    notes: tuple[ReportNote, ...] = ()
    next_check: str | None = None
    on_the_spot: tuple[OnTheSpotContent, ...] = ()
    sheets: tuple[SheetListedContent, ...] = ()
    seals: tuple[SealContent, ...] = ()
    root: str | None = None
    issue: IssueContent = field(default_factory=IssueContent)
    signatures: tuple[SignedReport, ...] = ()
    names: Mapping[UUID, str] = field(default_factory=dict)
    language: str = "en"
    paper: str = "a4"

    @property
    def main(self) -> LineContent:
        """The line that the first page draws: the last one as left, otherwise the last."""
        left = [each for each in self.lines if each.line.state == "as-left"]
        return (left or list(self.lines))[-1]

    def name_of(self, person: UUID | None) -> str | None:
        """The name of a person, or None."""
        return None if person is None else self.names.get(person)

    def pairs(self) -> tuple[tuple[LineContent, LineContent, QuantityContent, QuantityContent], ...]:
        """Every line as left beside the one as found that it answers to, for each quantity that both have."""
        return tuple(
            (found, left, before, after)
            for left in self.lines
            if left.line.state == "as-left"
            for found in self._as_found(left)
            for after in left.quantities
            if (before := found.quantity(after.code.text)) is not None
        )

    def _as_found(self, left: LineContent) -> tuple[LineContent, ...]:
        """The line as found of the same name, axis and guideway; the last of several."""
        alike = [
            each
            for each in self.lines
            if each.line.state == "as-found"
            and (each.line.axis, each.line.subject, each.line.guideway)
            == (left.line.axis, left.line.subject, left.line.guideway)
        ]
        named = [each for each in alike if each.line.name == left.line.name]
        return tuple((named or alike)[-1:])
