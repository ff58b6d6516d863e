"""A small archive to and from a visit file, without loss."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any
from uuid import UUID

import numpy as np
from sqlalchemy import Connection, Engine, StaticPool, create_engine, insert, select

from waywright.archive.kinds import decode_event, encode_event
from waywright.archive.tables import CONTENT, METADATA, PASS_EVENT, READING, RECORD, STREAM_BLOCK, SUBJECT, AnyRow
from waywright.archive.taken import block_from
from waywright.archive.windows import pack_window, unpack_window
from waywright.errors import ArchiveError
from waywright.files.visit_file import (
    FileBlock,
    FileContent,
    FileEvent,
    FilePass,
    FileReading,
    FileRecord,
    FileTrace,
    FileValue,
    Quantity,
    VisitFile,
)
from waywright.readings import ChannelValue, Reading, StreamBlock, Trace, canonical_bytes, packed, read_canonical
from waywright.readings.records import Floats
from waywright.visit import PassEvent

_UNITS = {"um_per_m": "um/m", "degc": "degC"}


def memory_engine() -> Engine:
    """An empty archive in memory, for a part of another."""
    engine = create_engine("sqlite://", poolclass=StaticPool, connect_args={"check_same_thread": False})
    METADATA.create_all(engine)
    return engine


def records_of(connection: Connection) -> tuple[FileRecord, ...]:
    """Every revision, oldest first."""
    wanted = select(RECORD, SUBJECT.c.kind).join(SUBJECT, SUBJECT.c.id == RECORD.c.subject).order_by(RECORD.c.id)
    return tuple(_file_record(row) for row in connection.execute(wanted))


def passes_of(connection: Connection) -> tuple[FilePass, ...]:
    """Every pass with what it holds. Raises ArchiveError for a reading that is not what was sealed."""
    wanted = select(SUBJECT.c.id).where(SUBJECT.c.kind == "pass").order_by(SUBJECT.c.id)
    return tuple(_file_pass(connection, each) for each in connection.execute(wanted).scalars().all())


def contents_of(connection: Connection) -> tuple[FileContent, ...]:
    """Every attached file."""
    rows = connection.execute(select(CONTENT).order_by(CONTENT.c.sha256))
    return tuple(FileContent(bytes(row.sha256).hex(), bytes(row.body)) for row in rows)


def engine_of(file: VisitFile) -> Engine:
    """An archive in memory that holds a file. Raises ArchiveError where a reading does not match its seal."""
    engine = memory_engine()
    with engine.begin() as connection:
        kinds = {record.subject: record.kind for record in file.records}
        _put(connection, SUBJECT, [{"id": subject, "kind": kind} for subject, kind in sorted(kinds.items())])
        _put(connection, RECORD, [_record_row(record) for record in sorted(file.records, key=lambda each: each.id)])
        for each in file.passes:
            _put(connection, READING, [_reading_row(each.id, reading) for reading in each.readings])
            _put(connection, STREAM_BLOCK, [_block_row(each.id, block) for block in each.stream])
            _put(connection, PASS_EVENT, [_event_row(each.id, event) for event in each.events])
        contents = ({"sha256": bytes.fromhex(c.sha256), "size": len(c.data), "body": c.data} for c in file.contents)
        _put(connection, CONTENT, list(contents))
    return engine


def unit_of(channel: str) -> str:
    """The unit that stands at the end of a channel's name."""
    name = channel.rpartition(".")[2]
    ending = next((end for end in _UNITS if name.endswith(end)), name.rpartition("_")[2])
    return _UNITS.get(ending, ending)


def _file_record(row: AnyRow) -> FileRecord:
    return FileRecord(
        id=row.id,
        subject=row.subject,
        kind=row.kind,
        recorded_utc=row.recorded_utc,
        body=None if row.body is None else json.loads(row.body),
        parent=row.parent,
        replaces=row.replaces,
        recorded_by=row.recorded_by,
        reason=row.reason,
        computer=row.computer,
    )


def _record_row(record: FileRecord) -> dict[str, Any]:
    body = None if record.body is None else json.dumps(record.body, ensure_ascii=False, separators=(",", ":"))
    names = ("id", "subject", "parent", "replaces", "recorded_utc", "recorded_by", "reason", "computer")
    return {name: getattr(record, name) for name in names} | {"body": body}


def _file_pass(connection: Connection, pass_id: UUID) -> FilePass:
    readings = connection.execute(select(READING).where(READING.c.pass_id == pass_id).order_by(READING.c.number))
    blocks = connection.execute(
        select(STREAM_BLOCK)
        .where(STREAM_BLOCK.c.pass_id == pass_id)
        .order_by(STREAM_BLOCK.c.source, STREAM_BLOCK.c.number)
    )
    events = connection.execute(
        select(PASS_EVENT).where(PASS_EVENT.c.pass_id == pass_id).order_by(PASS_EVENT.c.made_utc, PASS_EVENT.c.id)
    )
    return FilePass(
        pass_id,
        tuple(_file_reading(row) for row in readings.all()),
        tuple(_file_block(block_from(row)) for row in blocks.all()),
        tuple(_file_event(decode_event(row.body)) for row in events.all()),
    )


def _file_reading(row: AnyRow) -> FileReading:
    reading = read_canonical(row.body, unpack_window(row.window))
    made = FileReading(
        id=reading.id,
        number=reading.number,
        position=Quantity(_or_null(reading.position_mm), "mm"),
        direction=reading.direction,
        taken_by=reading.taken_by,
        began_utc=reading.began_utc,
        ended_utc=reading.ended_utc,
        supersedes=reading.supersedes,
        values=tuple(_file_value(value) for value in reading.values),
        window=tuple(_file_trace(trace) for trace in reading.window),
        previous_hash=reading.previous_hash.hex(),
        hash=bytes(row.hash).hex(),
    )
    _reading_row(reading.pass_id, made)  # what cannot be read back is not written
    return made


def _file_value(value: ChannelValue) -> FileValue:
    mean = Quantity(_or_null(value.mean), unit_of(value.channel))
    return FileValue(value.channel, mean, _or_null(value.standard_deviation), value.samples)


def _file_trace(trace: Trace) -> FileTrace:
    return FileTrace(trace.channel, unit_of(trace.channel), _nulls(trace.time_s), _nulls(trace.value))


def _reading_row(pass_id: UUID, told: FileReading) -> dict[str, Any]:
    window = tuple(Trace(trace.channel, _floats(trace.time_s), _floats(trace.value)) for trace in told.window)
    values = tuple(
        ChannelValue(v.channel, _or_nan(v.mean.value), _or_nan(v.standard_deviation), v.samples) for v in told.values
    )
    reading = Reading(
        told.id, pass_id, told.number, _or_nan(told.position.value), told.direction, values, told.began_utc,
        told.ended_utc, told.taken_by, told.supersedes, window, bytes.fromhex(told.previous_hash),
    )  # fmt: skip
    body = canonical_bytes(reading)
    sealed = read_canonical(body)
    if sealed.hash.hex() != told.hash:
        raise ArchiveError("archive.check_seal", pass_id=pass_id, number=told.number)
    return {
        "id": told.id, "pass_id": pass_id, "number": told.number, "position_mm": reading.position_mm,
        "began_utc": told.began_utc, "previous_hash": sealed.previous_hash, "hash": sealed.hash, "body": body,
        "window": pack_window(window), "supersedes": told.supersedes,
    }  # fmt: skip


def _file_block(block: StreamBlock) -> FileBlock:
    rows = tuple(_nulls(row) for row in block.value)
    return FileBlock(block.source, block.number, block.channels, _nulls(block.time_s), rows)


def _block_row(pass_id: UUID, told: FileBlock) -> dict[str, Any]:
    value = np.array([_floats(row) for row in told.value], dtype=np.float64).reshape(-1, len(told.channels))
    return {
        "pass_id": pass_id, "source": told.source, "number": told.number, "samples": len(told.time_s),
        "channels": json.dumps(told.channels, ensure_ascii=False), "time_s": packed(_floats(told.time_s)),
        "value": packed(value),
    }  # fmt: skip


def _file_event(event: PassEvent) -> FileEvent:
    facts = {name: _or_null(fact) if isinstance(fact, float) else fact for name, fact in event.facts.items()}
    return FileEvent(event.id, event.made_utc, event.key, event.position_mm, facts)


def _event_row(pass_id: UUID, told: FileEvent) -> dict[str, Any]:
    facts = {name: float("nan") if fact is None else fact for name, fact in told.facts.items()}
    event = PassEvent(told.id, pass_id, told.made_utc, told.key, told.position_mm, facts)
    return {"id": told.id, "pass_id": pass_id, "made_utc": told.made_utc, "body": encode_event(event)}


def _put(connection: Connection, table: Any, rows: list[dict[str, Any]]) -> None:
    if rows:
        connection.execute(insert(table), rows)


def _or_null(value: float) -> float | None:
    return value if value == value else None  # noqa: PLR0124 - only NaN differs from itself


def _or_nan(value: float | None) -> float:
    return float("nan") if value is None else value


def _nulls(numbers: Iterable[float]) -> tuple[float | None, ...]:
    return tuple(_or_null(float(number)) for number in numbers)


def _floats(numbers: Iterable[float | None]) -> Floats:
    return np.array([_or_nan(number) for number in numbers], dtype=np.float64)
