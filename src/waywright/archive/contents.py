"""Bytes of attached files, each kept once by its SHA-256."""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection, insert, select

from waywright.archive.tables import CONTENT
from waywright.errors import ArchiveError


def add_content(connection: Connection, data: bytes) -> str:
    """Keep bytes and return their SHA-256 in hexadecimal; what is there already is not kept twice."""
    digest = hashlib.sha256(data).digest()
    if not has_content(connection, digest.hex()):
        connection.execute(insert(CONTENT).values(sha256=digest, size=len(data), body=data))
    return digest.hex()


def has_content(connection: Connection, sha256: str) -> bool:
    """Whether the bytes of a SHA-256 are kept."""
    wanted = select(CONTENT.c.size).where(CONTENT.c.sha256 == bytes.fromhex(sha256))
    return connection.execute(wanted).first() is not None


def content_of(connection: Connection, sha256: str) -> bytes:
    """The bytes of a SHA-256. Raises ArchiveError where they are not there, or not what they were."""
    row = connection.execute(select(CONTENT.c.body).where(CONTENT.c.sha256 == bytes.fromhex(sha256))).one_or_none()
    if row is None:
        raise ArchiveError("archive.unknown", kind="content", id=sha256)
    body = bytes(row.body)
    if hashlib.sha256(body).hexdigest() != sha256:
        raise ArchiveError("archive.check_content", sha256=sha256)
    return body
