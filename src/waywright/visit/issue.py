"""What is written beside the figures of a report, and who signed it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

Stroke = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class ReportNote:
    """Something a person wants the report to say.

    ``kind`` is "limitation", "safety", "further-check", "not-corrected", "reservation" (the customer's, in his words),
    "remark", "next-check" (then ``due`` is its date, ISO), or "number": then ``text`` is the number of the report.
    Without ``line_id`` it concerns the whole visit.
    """

    id: UUID
    visit_id: UUID
    kind: str
    text: str
    made_utc: datetime
    made_by: UUID | None = None
    due: str | None = None
    line_id: UUID | None = None


@dataclass(frozen=True, slots=True)
class SignedReport:
    """A person's signature under one revision of a report.

    ``root`` is the root over the heads of all chains that the signed revision printed, ``content_sha256`` the SHA-256
    of its attached data. ``strokes`` are drawn in a box one wide and 0.3 high, the origin at its upper left corner;
    empty where the person signs in ink. ``role`` is "technician" or "customer".
    """

    id: UUID
    visit_id: UUID
    number: str
    revision: int
    person_id: UUID
    role: str
    signed_utc: datetime
    root: str
    content_sha256: str
    strokes: tuple[Stroke, ...] = ()


@dataclass(frozen=True, slots=True)
class OnTheSpot:
    """Stations measured again before the customer ("witness"), or the program's own checks ("self-check").

    ``figures`` are what was compared or checked, by field name, units included.
    """

    id: UUID
    visit_id: UUID
    kind: str
    passed: bool
    made_utc: datetime
    figures: dict[str, Any]
    line_id: UUID | None = None
    made_by: UUID | None = None
