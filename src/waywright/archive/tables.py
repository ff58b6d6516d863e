"""The tables of the archive as they are now; how they came to be stands in ``migrations``.

subject
    every thing that records tell about (a machine, a visit, a pass ...), once.
record
    one revision of what is known about a subject; the newest is what holds, the earlier ones stay. ``parent`` is the
    thing it belongs to, ``replaces`` the revision it was written over, ``body`` JSON (NULL: withdrawn), ``computer``
    the mark of the computer that wrote it (NULL: before the second format).
reading, stream_block, pass_event
    what capture took. ``reading.body`` are the canonical bytes as sealed; the other columns repeat parts of it to
    search by.
content
    the bytes of attached files, each once, by their SHA-256.

All of them are append-only: triggers refuse to change or remove a row. One thing is let through: the name in earlier
revisions of a person may become empty once a revision says that it is blanked.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    Double,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Row,
    Table,
    Text,
    UniqueConstraint,
)

from waywright.archive.columns import NAMING, Id, Utc

METADATA = MetaData(naming_convention=NAMING)

SUBJECT = Table(
    "subject",
    METADATA,
    Column("id", Id, primary_key=True),
    Column("kind", Text, nullable=False),
    Index(None, "kind", "id"),
)

RECORD = Table(
    "record",
    METADATA,
    Column("id", Id, primary_key=True),
    Column("subject", Id, ForeignKey("subject.id"), nullable=False),
    Column("parent", Id),
    Column("replaces", Id, ForeignKey("record.id")),
    Column("recorded_utc", Utc, nullable=False),
    Column("recorded_by", Id),
    Column("reason", Text),
    Column("body", Text),
    Column("computer", Text),
    Index(None, "subject", "id"),
    Index(None, "parent"),
    Index(None, "replaces"),
)

READING = Table(
    "reading",
    METADATA,
    Column("id", Id, primary_key=True),
    Column("pass_id", Id, ForeignKey("subject.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("position_mm", Double, nullable=False),
    Column("began_utc", Utc, nullable=False),
    Column("previous_hash", LargeBinary(32), nullable=False),
    Column("hash", LargeBinary(32), nullable=False),
    Column("body", LargeBinary, nullable=False),
    Column("window", LargeBinary),
    Column("supersedes", Id),
    UniqueConstraint("pass_id", "number"),
    CheckConstraint("number >= 0", name="number"),
)

STREAM_BLOCK = Table(
    "stream_block",
    METADATA,
    Column("pass_id", Id, ForeignKey("subject.id"), primary_key=True),
    Column("source", Text, primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("channels", Text, nullable=False),
    Column("samples", Integer, nullable=False),
    Column("time_s", LargeBinary, nullable=False),
    Column("value", LargeBinary, nullable=False),
)

PASS_EVENT = Table(
    "pass_event",
    METADATA,
    Column("id", Id, primary_key=True),
    Column("pass_id", Id, ForeignKey("subject.id"), nullable=False),
    Column("made_utc", Utc, nullable=False),
    Column("body", Text, nullable=False),
    Index(None, "pass_id"),
)

CONTENT = Table(
    "content",
    METADATA,
    Column("sha256", LargeBinary(32), primary_key=True),
    Column("size", BigInteger, nullable=False),
    Column("body", LargeBinary, nullable=False),
)

AnyRow = Row[*tuple[Any, ...]]
