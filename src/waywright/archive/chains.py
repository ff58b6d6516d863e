"""Chains of hashes over what was written about a visit, one for each computer that wrote, and the root over all chains.

A link is the SHA-256 of the link before it and of one revision as it was stored, in the order of revision ids. The
bytes of a link::

    previous link (32, zero for the first) | b"WWV1" | revision id | subject id | parent id | replaced id (16 each, zero
    for none) | recorded, microseconds since 1970 as int64 | recorded by (16) | kind, reason, body (text)

Numbers are little-endian; text is UTF-8 preceded by its length in bytes as uint32, no text is length 0xFFFFFFFF. Names
of people are not part of a visit's chain (other records refer to them by id), so a name can be blanked.
"""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from waywright.archive.part import PassPart, RecordRow, VisitPart
from waywright.clocks import utc_microseconds

_NO_ID = bytes(16)
_NO_TEXT = 0xFFFFFFFF


@dataclass(frozen=True, slots=True)
class Head:
    """Where a chain ends. ``kind`` is "pass" or "computer", ``name`` its id or mark, ``head`` hexadecimal."""

    kind: str
    name: str
    links: int
    head: str


def heads_of(part: VisitPart) -> tuple[Head, ...]:
    """The heads of all passes that have readings, then of every computer that wrote about the visit."""
    passes = [_pass_head(each) for each in part.passes if each.readings]
    by_computer: dict[str, list[RecordRow]] = {}
    for row in part.records:
        if row.kind != "person":
            by_computer.setdefault(row.computer or "-", []).append(row)
    computers = [_computer_head(name, rows) for name, rows in sorted(by_computer.items())]
    return (*passes, *computers)


def root_of(heads: Iterable[Head]) -> str:
    """SHA-256 over the sorted heads (hexadecimal), so that it does not depend on who is merged into whom."""
    joined = hashlib.sha256(b"WWT1")
    for head in sorted(each.head for each in heads):
        joined.update(bytes.fromhex(head))
    return joined.hexdigest()


def link(previous: bytes, row: RecordRow) -> bytes:
    """The next link of a chain."""
    parts = [
        previous,
        b"WWV1",
        row.id.bytes,
        row.subject.bytes,
        *(_id(each) for each in (row.parent, row.replaces)),
        struct.pack("<q", utc_microseconds(row.recorded_utc)),
        _id(row.recorded_by),
        *(_text(each) for each in (row.kind, row.reason, row.body)),
    ]
    return hashlib.sha256(b"".join(parts)).digest()


def _pass_head(each: PassPart) -> Head:
    return Head("pass", str(each.id), len(each.readings), each.readings[-1].hash)


def _computer_head(name: str, rows: list[RecordRow]) -> Head:
    last = bytes(32)
    for row in sorted(rows, key=lambda one: one.id):
        last = link(last, row)
    return Head("computer", name, len(rows), last.hex())


def _id(value: UUID | None) -> bytes:
    return _NO_ID if value is None else value.bytes


def _text(value: str | None) -> bytes:
    if value is None:
        return struct.pack("<I", _NO_TEXT)
    encoded = value.encode()
    return struct.pack("<I", len(encoded)) + encoded
