"""What the REST interface answers with; field names carry their units, as everywhere."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal
from uuid import UUID

from waywright.jobs.evidence import sentences
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.remember import event_sentence
from waywright.readings import Reading
from waywright.visit import Evidence, PassEvent

Reference = Literal["end-points", "least-squares", "minimum-zone"]


@dataclass(frozen=True, slots=True)
class Problem:
    """What went wrong: a key, and the sentence for people."""

    key: str
    sentence: str


@dataclass(frozen=True, slots=True)
class ChannelOut:
    """One channel of a reading, in the detector's own sign; the unit is the channel's suffix."""

    channel: str
    mean: float | None
    standard_deviation: float | None
    samples: int


@dataclass(frozen=True, slots=True)
class ReadingOut:
    """A reading as it is kept. ``superseded`` and ``left_out`` say why it does not count; ``hash`` is its SHA-256."""

    id: UUID
    pass_id: UUID
    number: int
    position_mm: float
    direction: str | None
    values: list[ChannelOut]
    began_utc: datetime
    ended_utc: datetime
    taken_by: str
    supersedes: UUID | None
    superseded: bool
    left_out: str | None
    hash: str


@dataclass(frozen=True, slots=True)
class EventOut:
    """Something that happened during a pass."""

    id: UUID
    made_utc: datetime
    key: str
    position_mm: float | None
    sentence: str


@dataclass(frozen=True, slots=True)
class EvidenceOut:
    """A test or gate: what came out, whether it lets the work go on, why, and why the work went on all the same."""

    id: UUID
    subject_id: UUID
    test: str
    outcome: str
    good: bool
    sentences: list[str]
    made_utc: datetime
    anyway: str | None


@dataclass(frozen=True, slots=True)
class ValueOut:
    """Straightness about one reference line."""

    value_um: float
    largest_um: float
    largest_at_mm: float
    smallest_um: float
    smallest_at_mm: float
    line_offset_um: float
    line_slope_um_per_m: float


@dataclass(frozen=True, slots=True)
class LocalOut:
    """Local straightness over a window; no value where it is not judged, and the reason."""

    window_mm: float
    value_um: float | None
    start_mm: float | None
    reason_key: str | None


@dataclass(frozen=True, slots=True)
class ResultOut:
    """One quantity in one pass, or the mean of passes (``pass_number`` null)."""

    code: str
    pass_number: int | None
    direction: str | None
    passes: int
    stations: int
    start_mm: float
    end_mm: float
    reference: str
    positive: str | None
    by_reference: dict[str, ValueOut]
    local: LocalOut | None
    position_mm: list[float]
    deviation_um: list[float]


@dataclass(frozen=True, slots=True)
class NewTypedPass:
    """A pass whose readings are typed: "forward" or "backward", and which values every reading has."""

    direction: str = "forward"
    channels: list[str] = field(default_factory=lambda: ["typed.height_um"])


@dataclass(frozen=True, slots=True)
class NewReading:
    """A typed reading: channel to um, for rolls um/m; up, towards the operator, operator's side up positive."""

    position_mm: float
    values: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class NewExclusion:
    """Why a reading is left out of results."""

    reason: str


@dataclass(frozen=True, slots=True)
class NewVisit:
    """A visit that begins now."""

    machine_id: UUID
    purpose: str | None = None
    technician: str | None = None


@dataclass(frozen=True, slots=True)
class NewPlan:
    """A draft from a template; without one from that which fits the machine, "" for a plan without tests."""

    template: str | None = None
    title: str | None = None
    by: str | None = None


@dataclass(frozen=True, slots=True)
class NewAgreement:
    """Who agrees to the plan as seen, and for which side."""

    person: str
    party: Literal["customer", "technician", "maker"]


@dataclass(frozen=True, slots=True)
class ReportOut:
    """A report that was made: ``sha256`` of its PDF, which lies at ``file`` (null where only its record was kept)."""

    id: UUID
    visit_id: UUID
    lines: list[UUID]
    number: str | None
    revision: int | None
    title: str
    sha256: str
    issued_utc: datetime
    file: str | None


def reading_out(reading: Reading, superseded: bool, left_out: str | None) -> ReadingOut:
    """A reading for the answer."""
    values = [
        ChannelOut(item.channel, _finite(item.mean), _finite(item.standard_deviation), item.samples)
        for item in reading.values
    ]
    return ReadingOut(
        reading.id, reading.pass_id, reading.number, reading.position_mm, reading.direction, values,
        reading.began_utc, reading.ended_utc, reading.taken_by, reading.supersedes, superseded, left_out,
        reading.hash.hex(),
    )  # fmt: skip


def event_out(event: PassEvent) -> EventOut:
    """An event for the answer."""
    return EventOut(event.id, event.made_utc, event.key, _finite(event.position_mm), event_sentence(event))


def evidence_out(found: Evidence) -> EvidenceOut:
    """A test for the answer."""
    said = list(sentences(found.why))
    return EvidenceOut(
        found.id, found.subject_id, found.test, found.outcome, found.good, said, found.made_utc, found.anyway
    )


def result_out(result: StraightnessResult) -> ResultOut:
    """A result for the answer."""
    local = result.local
    return ResultOut(
        code=result.code,
        pass_number=result.pass_number,
        direction=result.direction,
        passes=result.passes,
        stations=result.stations,
        start_mm=result.start_mm,
        end_mm=result.end_mm,
        reference=result.reference,
        positive=result.positive,
        by_reference={name: _value(found) for name, found in result.by_reference.items()},
        local=LocalOut(local.window_mm, local.value_um, local.start_mm, local.reason_key) if local else None,
        position_mm=result.position_mm.tolist(),
        deviation_um=result.deviation_um.tolist(),
    )


def _value(found: object) -> ValueOut:
    return ValueOut(**{name: getattr(found, name) for name in ValueOut.__slots__})


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None
