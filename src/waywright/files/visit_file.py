"""The visit file: one visit, or all of a machine, as JSON that any program can read.

Every quantity is a value with its unit, expanded uncertainty, coverage factor and probability; null is "not stated".
Nothing is left out: readings with their samples and seals, streams, events, every revision of every description, and
attached files. The version is semantic: a reader of 1.x reads every 1.y, and refuses a later first number.

``.json.gz`` is the same, compressed.
"""

from __future__ import annotations

import gzip
import io
import zlib
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import IO, Any
from uuid import UUID

import msgspec

from waywright.errors import BadInput

FORMAT = "waywright visit"
VERSION = "1.0.0"
LARGEST_BYTES = 2_000_000_000
"""More than any machine comes to in decades, and what a computer of a workshop can still hold."""
USUAL_BYTES, LARGEST_RATIO = 200_000_000, 100
"""What a compressed file may unpack to in any case, and how many times its own size where that is more."""
_PIECE = 1 << 20


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with its unit and what is stated about its uncertainty; a value of null was lost (no light, no text)."""

    value: float | None
    unit: str
    expanded_uncertainty: float | None = None
    coverage_factor: float | None = None
    probability: float | None = None


@dataclass(frozen=True, slots=True)
class FileValue:
    """Mean of a channel over the window of a reading, in the detector's own sign."""

    channel: str
    mean: Quantity
    standard_deviation: float | None
    samples: int


@dataclass(frozen=True, slots=True)
class FileTrace:
    """The samples that a mean was made of; times since the start of the pass."""

    channel: str
    unit: str
    time_s: tuple[float | None, ...]
    value: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class FileReading:
    """A reading with its seal; ``hash`` and ``previous_hash`` are SHA-256 in hexadecimal."""

    id: UUID
    number: int
    position: Quantity
    direction: str | None
    taken_by: str
    began_utc: datetime
    ended_utc: datetime
    supersedes: UUID | None
    values: tuple[FileValue, ...]
    window: tuple[FileTrace, ...]
    previous_hash: str
    hash: str


@dataclass(frozen=True, slots=True)
class FileBlock:
    """A piece of the raw stream of one source: one row of ``value`` per time, one column per channel."""

    source: str
    number: int
    channels: tuple[str, ...]
    time_s: tuple[float | None, ...]
    value: tuple[tuple[float | None, ...], ...]


@dataclass(frozen=True, slots=True)
class FileEvent:
    """Something that happened during a pass."""

    id: UUID
    made_utc: datetime
    key: str
    position_mm: float | None = None
    facts: dict[str, str | float | None] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FilePass:
    """What a pass holds, in the order taken."""

    id: UUID
    readings: tuple[FileReading, ...] = ()
    stream: tuple[FileBlock, ...] = ()
    events: tuple[FileEvent, ...] = ()


@dataclass(frozen=True, slots=True)
class FileRecord:
    """One revision of a description; a body of null means withdrawn."""

    id: UUID
    subject: UUID
    kind: str
    recorded_utc: datetime
    body: dict[str, Any] | None
    parent: UUID | None = None
    replaces: UUID | None = None
    recorded_by: UUID | None = None
    reason: str | None = None
    computer: str | None = None


@dataclass(frozen=True, slots=True)
class FileContent:
    """The bytes of an attached file."""

    sha256: str
    data: bytes


@dataclass(frozen=True, slots=True)
class FileResult:
    """A result as computed when the file was written; it can be computed again from the readings."""

    line_id: UUID
    line: str
    quantity: str
    reference: str
    result: Quantity
    limit: Quantity | None = None
    verdict: str | None = None
    information_only: bool = True
    algorithm: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitFile:
    """The whole file. ``scope`` is "visit" or "machine", ``subject`` the id of that visit or machine."""

    format: str = FORMAT
    version: str = VERSION
    scope: str
    subject: UUID
    made_utc: datetime
    program: str
    records: tuple[FileRecord, ...]
    passes: tuple[FilePass, ...]
    contents: tuple[FileContent, ...] = ()
    results: tuple[FileResult, ...] = ()


@dataclass(frozen=True, slots=True)
class _Head:
    format: str = ""
    version: str = ""


def write_visit_file(file: VisitFile, path: Path) -> None:
    """Write the file; compressed where the name ends in .gz."""
    text = msgspec.json.format(msgspec.json.encode(file), indent=1)
    path.write_bytes(gzip.compress(text, 6, mtime=0) if path.suffix == ".gz" else text)


def read_visit_file(path: Path) -> VisitFile:
    """The file. Raises BadInput for what is no visit file, too large, of a later first number, or a wrong value."""
    data = _bytes(path)
    try:
        head = msgspec.json.decode(data, type=_Head)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        head = _Head()
    if head.format != FORMAT:
        raise BadInput("files.no_visit_file", file=str(path))
    if head.version.partition(".")[0] != VERSION.partition(".")[0]:
        raise BadInput("files.newer_visit_file", file=str(path), found=head.version, known=VERSION)
    try:
        return msgspec.json.decode(data, type=VisitFile)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as error:
        raise BadInput("files.bad_visit_file", file=str(path), reason=str(error)) from error


def schema() -> dict[str, Any]:
    """The published JSON Schema of the file."""
    made = msgspec.json.schema(VisitFile)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": f"{FORMAT} {VERSION}", **made}


def _bytes(path: Path) -> bytes:
    """The text, unpacked: counted while it is unpacked, and left after the first piece of what is no JSON."""
    try:
        with path.open("rb") as stream:
            packed = stream.read(2) == b"\x1f\x8b"
            stream.seek(0)
            if not packed:
                return _bounded(path, stream, LARGEST_BYTES)
            limit = min(LARGEST_BYTES, max(USUAL_BYTES, LARGEST_RATIO * path.stat().st_size))
            with gzip.GzipFile(fileobj=stream) as unpacked:
                return _bounded(path, unpacked, limit)
    except (OSError, EOFError, zlib.error) as error:
        raise BadInput("files.cannot_read_visit", file=str(path), reason=str(error)) from error


def _bounded(path: Path, stream: IO[bytes] | gzip.GzipFile, limit: int) -> bytes:
    data = io.BytesIO()
    while piece := stream.read(_PIECE):
        if not data.tell() and piece.lstrip(b" \t\r\n")[:1] != b"{":
            raise BadInput("files.no_visit_file", file=str(path))
        if data.tell() + len(piece) > limit:
            raise BadInput("files.visit_file_too_large", file=str(path), limit_mb=limit / 1e6)
        data.write(piece)
    return data.getvalue()
