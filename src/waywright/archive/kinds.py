"""Descriptive records as JSON, and what each belongs to.

Bodies are plain JSON by field name, text in NFC; fields that a later version adds have defaults, so that old bodies
stay readable.
"""

from __future__ import annotations

import json
import unicodedata
from dataclasses import dataclass
from typing import Any
from uuid import UUID

import msgspec

from waywright.errors import ArchiveError, BadInput
from waywright.machine import Machine
from waywright.visit import (
    Attachment,
    Evidence,
    Exclusion,
    Interpretation,
    IssuedReport,
    Judged,
    KeptInstrument,
    KeptResult,
    Line,
    Pass,
    PassEvent,
    Person,
    SetUp,
    Site,
    Visit,
    VisitPlan,
)
from waywright.visit.adjustment import Adjustment, BedBelief
from waywright.visit.issue import OnTheSpot, ReportNote, SignedReport
from waywright.visit.sheet import MeasuringSheet


@dataclass(frozen=True, slots=True)
class Tally:
    """How many readings a pass had when it ended, and the hash of the last: a chain cannot show a missing end."""

    id: UUID
    pass_id: UUID
    readings: int
    last_hash: bytes


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of record: its name in the archive, its type, and the field that names what it belongs to."""

    name: str
    type: type[Any]
    parent: str | None = None

    def parent_of(self, record: Any) -> UUID | None:
        """The id of what a record belongs to."""
        return getattr(record, self.parent) if self.parent else None


KINDS = (
    Kind("machine", Machine),
    Kind("person", Person),
    Kind("visit", Visit, "machine_id"),
    Kind("line", Line, "visit_id"),
    Kind("setup", SetUp, "line_id"),
    Kind("interpretation", Interpretation, "setup_id"),
    Kind("pass", Pass, "line_id"),
    Kind("exclusion", Exclusion, "reading_id"),
    Kind("tally", Tally, "pass_id"),
    Kind("evidence", Evidence, "subject_id"),
    Kind("plan", VisitPlan, "visit_id"),
    Kind("site", Site),
    Kind("sheet", MeasuringSheet, "visit_id"),
    Kind("instrument", KeptInstrument),
    Kind("attachment", Attachment, "subject_id"),
    Kind("result", KeptResult, "line_id"),
    Kind("report", IssuedReport, "visit_id"),
    Kind("judged", Judged, "visit_id"),
    Kind("adjustment", Adjustment, "visit_id"),
    Kind("belief", BedBelief, "machine_id"),
    Kind("note", ReportNote, "visit_id"),
    Kind("signature", SignedReport, "visit_id"),
    Kind("on-the-spot", OnTheSpot, "visit_id"),
)
_BY_TYPE = {kind.type: kind for kind in KINDS}
_BY_NAME = {kind.name: kind for kind in KINDS}


def kind_of(wanted: type[Any]) -> Kind:
    """The kind that keeps records of a type. Raises BadInput for other types."""
    found = _BY_TYPE.get(wanted)
    if found is None:
        raise BadInput("archive.no_such_kind", kind=wanted.__name__)
    return found


def kind_named(name: str) -> Kind:
    """The kind of a name as stored. Raises ArchiveError for one this program does not know."""
    found = _BY_NAME.get(name)
    if found is None:
        raise ArchiveError("archive.unreadable_record", kind=name, id="", detail="")
    return found


def encode(record: Any) -> str:
    """A record as JSON. Raises BadInput for a number that is not finite: JSON has no word for it."""
    try:
        body = json.dumps(msgspec.to_builtins(record), ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    except ValueError as error:
        raise BadInput("archive.not_finite", kind=type(record).__name__) from error
    return unicodedata.normalize("NFC", body)


def decode(kind: Kind, subject: UUID, body: str) -> Any:
    """The record of a body. Raises ArchiveError if it cannot be read."""
    try:
        return msgspec.json.decode(body, type=kind.type)
    except msgspec.MsgspecError as error:
        raise ArchiveError("archive.unreadable_record", kind=kind.name, id=subject, detail=str(error)) from error


def encode_event(event: PassEvent) -> str:
    """An event as JSON; facts that are not finite become null, because an event must never stop a pass."""
    return unicodedata.normalize("NFC", msgspec.json.encode(event).decode())


def decode_event(body: str) -> PassEvent:
    """The event of :func:`encode_event`; null facts are NaN."""
    plain = msgspec.json.decode(body)
    facts = {name: float("nan") if fact is None else fact for name, fact in plain["facts"].items()}
    return msgspec.convert(plain | {"facts": facts}, PassEvent)
