"""A full disk stops the pass with a sentence; what was announced is there, and the pass goes on when there is space."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from uuid import UUID

import pytest
from sqlalchemy import event

from archive_children import NO_FORK, all_heard, capture_until_it_fails, child
from archive_samples import Stay, a_reading, ended, some_readings, stay
from waywright.archive import Archive, open_archive
from waywright.errors import ArchiveError
from waywright.readings import Reading

POSIX = pytest.mark.skipif(sys.platform == "win32", reason=NO_FORK)


@pytest.fixture
def known() -> Stay:
    return stay()


def _made(path: Path, known: Stay) -> Path:
    with open_archive(path, create=True) as archive:
        archive.begin_pass(known.taken)
    return path


def _goes_on(path: Path, known: Stay, announced: list[UUID]) -> None:
    """Everything announced is there and sound, and the next reading can be kept."""
    with open_archive(path) as archive:
        readings = archive.readings(known.taken.id, with_window=True)
        assert [reading.id for reading in readings] == announced
        assert archive.check().good
        archive.keep_reading(a_reading(known.taken.id, readings[-1]))
        archive.end_pass(ended(known.taken))
        assert archive.check().good


@POSIX
def test_a_limit_on_the_size_of_files(tmp_path: Path, known: Stay) -> None:
    path = _made(tmp_path / "archive.sqlite", known)
    with child(capture_until_it_fails, path, known.taken.id, 300_000) as (process, hears):
        process.join(20)
        *ids, sentence = all_heard(hears)
    assert sentence.startswith((b"archive.disk_failed: ", b"archive.full: "))
    assert b"Every reading that was announced is saved" in sentence
    assert len(ids) > 10
    _goes_on(path, known, [UUID(bytes=said) for said in ids])


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A real file system of half a megabyte, where this user may mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=512k", "tmpfs", str(place)]
    try:
        subprocess.run(mount, check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("this user may not mount a small disk; the other two tests stand for it")
    yield place
    subprocess.run(["umount", str(place)], check=True)


@POSIX
def test_a_disk_that_is_really_full(small_disk: Path, tmp_path: Path, known: Stay) -> None:
    path = _made(small_disk / "archive.sqlite", known)
    (ballast := small_disk / "ballast").write_bytes(bytes(120_000))
    with child(capture_until_it_fails, path, known.taken.id, 0) as (process, hears):
        process.join(20)
        *ids, sentence = all_heard(hears)
    assert sentence.startswith(b"archive.full: The disk that holds ")
    assert len(ids) > 5
    ballast.unlink()
    _goes_on(path, known, [UUID(bytes=said) for said in ids])


def test_a_full_database_refuses_and_goes_on_in_the_same_process(tmp_path: Path, known: Stay) -> None:
    path = _made(tmp_path / "archive.sqlite", known)
    announced: list[UUID] = []
    with open_archive(path) as archive:

        @event.listens_for(archive._engine, "connect")
        def limit(connection, _record) -> None:  # type: ignore[no-untyped-def]
            connection.execute("PRAGMA max_page_count=60")

        readings = some_readings(known.taken.id, 60, samples=200)
        with pytest.raises(ArchiveError, match=r"is full\. Every reading that was announced is saved"):
            announced.extend(_kept(archive, reading) for reading in readings)
        refused = readings[len(announced)]
        with pytest.raises(ArchiveError, match="is full"):
            archive.keep_reading(refused)
        with archive._engine.connect() as connection:
            connection.exec_driver_sql("PRAGMA max_page_count=100000")
        announced.append(_kept(archive, refused))
    assert len(announced) > 10
    _goes_on(path, known, announced)


def _kept(archive: Archive, reading: Reading) -> UUID:
    archive.keep_reading(reading)
    return reading.id
