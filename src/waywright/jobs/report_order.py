"""What is wanted of a report, and what lies inside it so that it can be computed again."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field, replace
from datetime import datetime
from uuid import UUID

import msgspec

from waywright.archive.part import VisitPart
from waywright.errors import BadInput
from waywright.visit import SignedReport

FORMAT = "waywright-report 1"
LARGEST_DATA = 200_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportOrder:
    """What is wanted of a report; everything that decides what it says beside the readings.

    ``budget`` is a budget file or the name of a ready one (None: the ready one of the method), ``budget_texts`` the
    text of every budget used, by its name, once it was read. ``rule`` is a tolerance rule for whatever the plan has
    none for. ``uncertainty`` False leaves uncertainty and verdicts away. ``language`` is "en", "de" or "en+de",
    ``paper`` "a4" or "us-letter".
    """

    reference: str = "least-squares"
    window_mm: float | None = None
    uncertainty: bool = True
    budget: str | None = None
    budget_texts: dict[str, str] = field(default_factory=dict)
    rule: str | None = None
    burden: str = "supplier"
    language: str = "en"
    paper: str = "a4"


@dataclass(frozen=True, slots=True)
class ReportData:
    """Everything that a report was computed from, as it is attached.

    ``made_utc`` is the moment of the last thing recorded, so that the same archive gives the same report. ``since`` is
    when the last signed revision was signed, ``since_revision`` its number. ``signatures`` are those under this
    revision, ``signers`` their names by id; they are not part of what is signed.
    """

    format: str
    software: str
    algorithm: str
    made_utc: datetime
    order: ReportOrder
    lines: tuple[UUID, ...]
    visit: VisitPart
    number: str | None = None
    revision: int = 1
    since: datetime | None = None
    since_revision: int | None = None
    root: str | None = None
    signatures: tuple[SignedReport, ...] = ()
    signers: dict[str, str] = field(default_factory=dict)


def data_text(data: ReportData) -> str:
    """The data as JSON."""
    return msgspec.json.format(msgspec.json.encode(data), indent=1).decode()


def content_sha256(data: ReportData) -> str:
    """What a signature signs: the data without signatures, in whatever language and on whatever paper."""
    order = replace(data.order, language="en", paper="a4")
    plain = replace(data, order=order, signatures=(), signers={})
    return hashlib.sha256(msgspec.json.encode(plain, order="sorted")).hexdigest()


def data_from(text: bytes) -> ReportData:
    """The data of JSON. Raises BadInput where it is none, is too large, or comes from a newer program."""
    if len(text) > LARGEST_DATA:
        raise BadInput("report_verify.data_too_large", limit_mb=LARGEST_DATA / 1e6)
    try:
        found = msgspec.json.decode(text, type=ReportData)
    except (msgspec.MsgspecError, RecursionError) as problem:
        raise BadInput("report_verify.data_unreadable", detail=str(problem)) from problem
    if found.format != FORMAT:
        raise BadInput("report_verify.other_format", found=found.format, known=FORMAT)
    return found
