"""Is everything there, as it was written? The file, every record, every seal, every chain."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import msgspec
from sqlalchemy import Connection, Table, func, select
from sqlalchemy.exc import DBAPIError

from waywright.archive.dialect import broken_references, file_problems
from waywright.archive.kinds import Tally, decode, kind_named, kind_of
from waywright.archive.revisions import all_holding
from waywright.archive.tables import CONTENT, PASS_EVENT, READING, RECORD, STREAM_BLOCK, SUBJECT, AnyRow
from waywright.archive.taken import block_from, event_from
from waywright.archive.windows import unpack_window
from waywright.errors import ArchiveError
from waywright.readings import Reading, canonical_bytes, read_canonical
from waywright.readings.canonical import NO_HASH

CheckProgress = Callable[[int, int], None]
"""Told how many readings were looked at, and how many there are."""

_AT_A_TIME = 500


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that is not as it was written: a message key and its facts."""

    key: str
    facts: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CheckUp:
    """How much was looked at, and what was found; no finding means that everything is as it was written."""

    records: int
    readings: int
    blocks: int
    events: int
    findings: tuple[Finding, ...] = ()

    @property
    def good(self) -> bool:
        """Whether nothing was found."""
        return not self.findings


def check_up(connection: Connection, progress: CheckProgress = lambda done, total: None) -> CheckUp:
    """Look at everything that can be read; what the database refuses to read is a finding too."""
    records, readings, blocks, events = (
        _count(connection, table) for table in (RECORD, READING, STREAM_BLOCK, PASS_EVENT)
    )
    findings = list(_readable(_in_file(connection)))
    findings.extend(_readable(_in_records(connection)))
    findings.extend(_readable(_in_readings(connection, lambda done: progress(done, readings))))
    for look in (_in_tallies, _in_streams, _in_contents):
        findings.extend(_readable(look(connection)))
    return CheckUp(records, readings, blocks, events, tuple(findings))


def _count(connection: Connection, table: Table) -> int:
    try:
        return connection.execute(select(func.count()).select_from(table)).scalar_one()
    except DBAPIError:
        return 0


def _readable(findings: Iterator[Finding]) -> Iterator[Finding]:
    try:
        yield from findings
    except DBAPIError as error:
        yield Finding("archive.check_file", {"detail": str(error.orig)})


def _in_file(connection: Connection) -> Iterator[Finding]:
    for detail in file_problems(connection):
        yield Finding("archive.check_file", {"detail": detail})
    for detail in broken_references(connection):
        yield Finding("archive.check_reference", {"detail": detail})


def _in_records(connection: Connection) -> Iterator[Finding]:
    wanted = select(RECORD.c.subject, RECORD.c.body, SUBJECT.c.kind).join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
    for row in connection.execute(wanted.where(RECORD.c.body.is_not(None))):
        try:
            decode(kind_named(row.kind), row.subject, row.body)
        except ArchiveError as error:
            yield Finding(error.key, error.facts)


def _in_readings(connection: Connection, looked_at: Callable[[int], None]) -> Iterator[Finding]:
    """Seals and chains; a pass's readings follow each other, so that one look back is enough."""
    previous: AnyRow | None = None
    wanted = select(READING).order_by(READING.c.pass_id, READING.c.number)
    for done, row in enumerate(connection.execute(wanted.execution_options(yield_per=_AT_A_TIME)), start=1):
        if done % _AT_A_TIME == 0:
            looked_at(done)
        before = previous if previous is not None and previous.pass_id == row.pass_id else None
        facts = {"pass_id": row.pass_id, "number": row.number}
        for key in (_chain_fault(row, before), _seal_fault(row)):
            if key:
                yield Finding(key, facts)
        previous = row


def _chain_fault(row: AnyRow, before: AnyRow | None) -> str | None:
    expected = (0, NO_HASH) if before is None else (before.number + 1, before.hash)
    return None if (row.number, row.previous_hash) == expected else "archive.check_chain"


def _seal_fault(row: AnyRow) -> str | None:
    try:
        reading = read_canonical(row.body)
    except (ValueError, TypeError):
        return "archive.check_unreadable"
    if reading.hash != row.hash:
        return "archive.check_seal"
    if not _columns_agree(reading, row):
        return "archive.check_columns"
    return None if _window_agrees(row) else "archive.check_window"


def _columns_agree(reading: Reading, row: AnyRow) -> bool:
    names = ("id", "pass_id", "number", "began_utc", "previous_hash", "supersedes")
    same_position = reading.position_mm == row.position_mm
    return same_position and all(getattr(reading, name) == getattr(row, name) for name in names)


def _window_agrees(row: AnyRow) -> bool:
    """The canonical bytes hold a digest of every trace: made again from the stored samples they must be the same."""
    try:
        return canonical_bytes(read_canonical(row.body, unpack_window(row.window))) == bytes(row.body)
    except (ValueError, TypeError, zlib.error, msgspec.MsgspecError):
        return False


def _in_tallies(connection: Connection) -> Iterator[Finding]:
    for tally in all_holding(connection, kind_of(Tally)):
        if tally.readings == 0:
            continue
        last = select(READING.c.hash).where(READING.c.pass_id == tally.pass_id, READING.c.number == tally.readings - 1)
        if connection.execute(last).scalar_one_or_none() != tally.last_hash:
            yield Finding("archive.check_tally", {"pass_id": tally.pass_id, "readings": tally.readings})


def _in_streams(connection: Connection) -> Iterator[Finding]:
    for table, read in ((STREAM_BLOCK, block_from), (PASS_EVENT, event_from)):
        for row in connection.execute(select(table).execution_options(yield_per=_AT_A_TIME)):
            try:
                read(row)
            except ArchiveError as error:
                yield Finding(error.key, error.facts)


def _in_contents(connection: Connection) -> Iterator[Finding]:
    """Attached files one by one: each may be large."""
    for digest in connection.execute(select(CONTENT.c.sha256)).scalars().all():
        body = connection.execute(select(CONTENT.c.body).where(CONTENT.c.sha256 == digest)).scalar_one()
        if hashlib.sha256(body).digest() != digest:
            yield Finding("archive.check_content", {"sha256": bytes(digest).hex()})
