"""What capture took, to and from rows: readings, stream blocks, events."""

from __future__ import annotations

import json
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

import msgspec
from sqlalchemy import Connection, Engine, insert, select

from waywright.archive.kinds import decode_event, encode_event
from waywright.archive.questions import READINGS, WITH_WINDOW
from waywright.archive.tables import PASS_EVENT, READING, STREAM_BLOCK, SUBJECT, AnyRow
from waywright.archive.windows import pack_window, unpack_window
from waywright.errors import ArchiveError
from waywright.readings import Reading, StreamBlock, canonical_bytes, packed, read_canonical, sealed_hash, unpacked
from waywright.readings.canonical import NO_HASH
from waywright.readings.sealed import read_sealed
from waywright.visit import PassEvent


@dataclass(frozen=True, slots=True)
class Tail:
    """Where the chain of a pass ends: the number the next reading must have, and the hash it must follow."""

    next_number: int = 0
    last_hash: bytes = NO_HASH


def tail_of(connection: Connection, pass_id: UUID) -> Tail:
    """The end of a pass's chain. Raises ArchiveError for a pass that was never begun here."""
    kind = connection.execute(select(SUBJECT.c.kind).where(SUBJECT.c.id == pass_id)).scalar_one_or_none()
    if kind != "pass":
        raise ArchiveError("archive.unknown", kind="pass", id=pass_id)
    last = connection.execute(
        select(READING.c.number, READING.c.hash)
        .where(READING.c.pass_id == pass_id)
        .order_by(READING.c.number.desc())
        .limit(1)
    ).one_or_none()
    return Tail() if last is None else Tail(last.number + 1, last.hash)


def reading_row(reading: Reading, tail: Tail) -> dict[str, Any]:
    """The row of a reading. Raises ArchiveError if it is not sealed or does not continue the chain."""
    body = canonical_bytes(reading)
    if sealed_hash(body) != reading.hash:
        raise ArchiveError("archive.not_sealed", number=reading.number)
    if reading.number != tail.next_number or reading.previous_hash != tail.last_hash:
        raise ArchiveError("archive.chain_refused", number=reading.number, expected=tail.next_number)
    return {
        "id": reading.id,
        "pass_id": reading.pass_id,
        "number": reading.number,
        "position_mm": reading.position_mm,
        "began_utc": reading.began_utc,
        "previous_hash": reading.previous_hash,
        "hash": reading.hash,
        "body": body,
        "window": pack_window(reading.window),
        "supersedes": reading.supersedes,
    }


def readings_of(engine: Engine, pass_id: UUID, with_window: bool) -> tuple[Reading, ...]:
    """The readings of a pass in the order taken. Raises ArchiveError for one whose bytes do not match its seal."""
    if with_window:
        rows = WITH_WINDOW.rows(engine, pass_id=pass_id)
        return tuple([_with_window(pass_id, number, *row) for number, row in enumerate(rows)])
    rows = READINGS.rows(engine, pass_id=pass_id)
    if all(_holds(sealed, body) for sealed, body in rows):
        return tuple([read_sealed(body, sealed) for sealed, body in rows])
    raise _damaged(pass_id, rows)


def _damaged(pass_id: UUID, rows: Sequence[Any]) -> ArchiveError:
    """What is to be said about the first reading that does not match its seal."""
    number = next(at for at, (sealed, body) in enumerate(rows) if not _holds(sealed, body))
    try:
        read_canonical(rows[number][1])
    except (ValueError, TypeError):
        return ArchiveError("archive.check_unreadable", pass_id=pass_id, number=number)
    return ArchiveError("archive.check_seal", pass_id=pass_id, number=number)


def _holds(sealed: bytes, body: bytes) -> bool:
    return isinstance(body, bytes) and sealed_hash(body) == sealed


def _with_window(pass_id: UUID, number: int, sealed: bytes, body: bytes, window: bytes | None) -> Reading:
    try:
        reading = read_canonical(body, unpack_window(window))
    except (ValueError, TypeError, zlib.error, msgspec.MsgspecError) as error:
        raise ArchiveError("archive.check_unreadable", pass_id=pass_id, number=number) from error
    if reading.hash != sealed or canonical_bytes(reading) != body:
        raise ArchiveError("archive.check_seal", pass_id=pass_id, number=number)
    return reading


def add_block(connection: Connection, block: StreamBlock) -> None:
    """Keep a block of the stream."""
    connection.execute(
        insert(STREAM_BLOCK).values(
            pass_id=block.pass_id,
            source=block.source,
            number=block.number,
            channels=json.dumps(block.channels, ensure_ascii=False),
            samples=len(block.time_s),
            time_s=packed(block.time_s),
            value=packed(block.value),
        )
    )


def blocks_of(connection: Connection, pass_id: UUID) -> tuple[StreamBlock, ...]:
    """The stream of a pass, source by source, blocks in order."""
    columns = STREAM_BLOCK.c
    rows = connection.execute(
        select(STREAM_BLOCK).where(columns.pass_id == pass_id).order_by(columns.source, columns.number)
    )
    return tuple(block_from(row) for row in rows)


def block_from(row: AnyRow) -> StreamBlock:
    """The block of a row. Raises ArchiveError for damaged bytes."""
    try:
        channels = tuple(json.loads(row.channels))
        times = unpacked(row.time_s, (row.samples,))
        values = unpacked(row.value, (row.samples, len(channels)))
    except (ValueError, TypeError, zlib.error) as error:
        raise ArchiveError("archive.check_stream", pass_id=row.pass_id, source=row.source, number=row.number) from error
    return StreamBlock(row.pass_id, row.source, row.number, channels, times, values)


def add_event(connection: Connection, event: PassEvent) -> None:
    """Keep an event."""
    row = {"id": event.id, "pass_id": event.pass_id, "made_utc": event.made_utc, "body": encode_event(event)}
    connection.execute(insert(PASS_EVENT).values(row))


def events_of(connection: Connection, pass_id: UUID) -> tuple[PassEvent, ...]:
    """The events of a pass in the order they happened."""
    wanted = select(PASS_EVENT).where(PASS_EVENT.c.pass_id == pass_id)
    rows = connection.execute(wanted.order_by(PASS_EVENT.c.made_utc, PASS_EVENT.c.id))
    return tuple(event_from(row) for row in rows)


def event_from(row: AnyRow) -> PassEvent:
    """The event of a row. Raises ArchiveError for one that cannot be read."""
    try:
        return decode_event(row.body)
    except (msgspec.MsgspecError, KeyError, AttributeError, TypeError) as error:
        raise ArchiveError("archive.unreadable_record", kind="event", id=row.id, detail=str(error)) from error
