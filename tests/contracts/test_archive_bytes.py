"""What outsiders rely on: a reading can be read and its seal recomputed with nothing but SQLite, zlib and SHA-256."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
import struct
import zlib
from collections.abc import Iterator
from pathlib import Path

import msgspec
import pytest

STORED = Path(__file__).parents[1] / "archive" / "formats" / "1" / "archive.sqlite"


@pytest.fixture
def raw(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(shutil.copy(STORED, tmp_path))
    yield connection
    connection.close()


def test_hashes_are_of_the_stored_bytes_and_make_a_chain(raw: sqlite3.Connection) -> None:
    previous = bytes(32)
    rows = raw.execute("SELECT body, hash, previous_hash FROM reading ORDER BY number").fetchall()
    assert len(rows) == 5
    for body, digest, before in rows:
        assert hashlib.sha256(body).digest() == digest
        assert body[-32:] == before == previous
        previous = digest


def test_the_documented_bytes_of_a_reading(raw: sqlite3.Connection) -> None:
    row = raw.execute(
        "SELECT id, pass_id, number, position_mm, began_utc, body FROM reading WHERE number = 3"
    ).fetchone()
    identity, pass_id, number, position_mm, began_utc, body = row
    assert body[:4] == b"WWR1"
    assert (body[4:20], body[20:36]) == (identity, pass_id)
    assert struct.unpack("<Id", body[36:48]) == (number, position_mm)
    assert struct.unpack("<I", body[48:52]) == (7,)
    assert body[52:59] == b"forward"
    assert body[63:73] == b"standstill"
    assert struct.unpack("<q", body[73:81]) == (began_utc,)


def test_the_samples_of_a_window(raw: sqlite3.Connection) -> None:
    """MessagePack of heads and numbers; float64 little-endian, grouped by byte, zlib."""
    (window,) = raw.execute("SELECT window FROM reading WHERE number = 1").fetchone()
    heads, blob = msgspec.msgpack.decode(window)
    assert heads == [["beam.vertical_um", 10], ["beam.side_um", 10]]
    grouped = zlib.decompress(blob)
    count = len(grouped) // 8
    assert count == 2 * (10 + 10)
    numbers = [struct.unpack("<d", grouped[at::count])[0] for at in range(count)]
    assert numbers[-1] == 40.17385754481805


def test_records_are_json_with_the_field_names(raw: sqlite3.Connection) -> None:
    question = "SELECT body FROM record JOIN subject ON subject.id = subject WHERE kind = 'line'"
    (body,) = raw.execute(question).fetchone()
    line = msgspec.json.decode(body)
    assert (line["name"], line["axis"], line["to_mm"]) == ("carriage Z", "Z", 5200.0)


def test_the_header_says_what_the_file_is(raw: sqlite3.Connection) -> None:
    assert raw.execute("PRAGMA application_id").fetchone() == (int.from_bytes(b"WWAR"),)
