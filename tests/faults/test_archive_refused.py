"""Read-only files and folders, a second program, damaged files: each a clear sentence, and nothing is lost."""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from archive_children import NO_FORK, all_heard, as_somebody_else, child, hold
from archive_samples import a_reading, ended, some_readings, stay
from waywright.archive import open_archive
from waywright.errors import ArchiveError

POSIX = pytest.mark.skipif(sys.platform == "win32", reason=NO_FORK)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other users can reach; the test's own is private."""
    place = Path(tempfile.mkdtemp())
    yield place
    for folder in (place, place / "shop"):
        folder.chmod(0o755)
    shutil.rmtree(place)


def _taken(path: Path, readings: int = 4) -> Path:
    known = stay()
    with open_archive(path, create=True) as archive:
        archive.begin_pass(known.taken)
        for reading in some_readings(known.taken.id, readings):
            archive.keep_reading(reading)
        archive.end_pass(ended(known.taken))
    return path


# Rights of (folder, file).
RIGHTS = {"read-only file": (0o777, 0o444), "read-only folder": (0o555, 0o666)}


@POSIX
@pytest.mark.parametrize("case", RIGHTS)
def test_what_cannot_be_written_can_be_shown(open_folder: Path, case: str) -> None:
    folder_mode, file_mode = RIGHTS[case]
    path = _prepared(open_folder, folder_mode, file_mode)
    before = path.read_bytes()
    with child(as_somebody_else, path) as (process, hears):
        process.join(20)
        shown, sound, saved, begun, over, made = (said.decode() for said in all_heard(hears))
    assert (shown, sound) == ("4", "True")
    assert {saved, begun, over} == {"archive.read_only"}
    assert (made == "archive.read_only") == (case == "read-only folder")
    assert path.read_bytes() == before


@POSIX
def test_what_may_not_be_read_is_said(open_folder: Path) -> None:
    path = _prepared(open_folder, 0o755, 0o000)
    with child(as_somebody_else, path) as (process, hears):
        process.join(20)
        shown, *_ = (said.decode() for said in all_heard(hears))
    assert shown == "archive.read_only"


@POSIX
def test_a_closed_folder_is_said(open_folder: Path) -> None:
    path = _prepared(open_folder, 0o000, 0o644)
    with child(as_somebody_else, path) as (process, hears):
        process.join(20)
        shown, *_ = (said.decode() for said in all_heard(hears))
    assert shown == "archive.read_only"


def _prepared(place: Path, folder_mode: int, file_mode: int) -> Path:
    place.chmod(0o755)
    folder = place / "shop"
    folder.mkdir()
    path = _taken(folder / "archive.sqlite")
    path.chmod(file_mode)
    folder.chmod(folder_mode)
    return path


@POSIX
def test_a_second_program_is_told_who_captures_and_may_read(tmp_path: Path) -> None:
    known, path = stay(), _taken(tmp_path / "archive.sqlite")
    with child(hold, path, known) as (process, hears):
        assert hears.recv_bytes() == b"holding"
        with open_archive(path) as archive:
            last = archive.readings(known.taken.id)[-1]
            for call in (
                lambda: archive.begin_pass(known.taken),
                lambda: archive.keep_reading(a_reading(known.taken.id, last)),
                lambda: archive.end_pass(ended(known.taken)),
            ):
                with pytest.raises(ArchiveError, match=rf"already capturing into .* \(process {process.pid}, since 20"):
                    call()
            assert len(archive.readings(known.taken.id)) == 4
            process.kill()
            process.join()
            archive.begin_pass(known.taken)
            archive.keep_reading(a_reading(known.taken.id, last))
            archive.end_pass(ended(known.taken))
            assert len(archive.readings(known.taken.id)) == 5
            assert archive.check().good


def test_a_second_pass_of_the_same_process_is_refused_too(tmp_path: Path) -> None:
    known, path = stay(), _taken(tmp_path / "archive.sqlite")
    with open_archive(path) as first, open_archive(path) as second:
        first.begin_pass(known.taken)
        with pytest.raises(ArchiveError, match=rf"process {os.getpid()}"):
            second.begin_pass(known.taken)
        first.end_pass(ended(known.taken))
        second.begin_pass(known.taken)
        second.close()
        first.begin_pass(known.taken)


def test_the_right_to_capture_is_not_kept_by_a_refusal(tmp_path: Path) -> None:
    known, stranger, path = stay(), stay(seed=7), _taken(tmp_path / "archive.sqlite")
    with open_archive(path) as first, open_archive(path) as second:
        with pytest.raises(ArchiveError, match="holds no pass"):
            first.keep_reading(a_reading(stranger.taken.id, None))
        second.begin_pass(known.taken)


def _cut(data: bytes) -> bytes:
    return data[: len(data) // 3]


def _zeroed(data: bytes) -> bytes:
    return data[:8192] + bytes(len(data) - 8192)


def _scrambled(data: bytes) -> bytes:
    return data[:4096] + bytes(byte ^ 0x5A for byte in data[4096:])


def _header_only(data: bytes) -> bytes:
    return data[:100] + bytes(4096 - 100)


@pytest.mark.parametrize("damage", [_cut, _zeroed, _scrambled, _header_only])
def test_a_file_that_cannot_be_made_sense_of_is_refused(tmp_path: Path, damage: Callable[[bytes], bytes]) -> None:
    path = _taken(tmp_path / "archive.sqlite")
    damaged = damage(path.read_bytes())
    path.write_bytes(damaged)
    with pytest.raises(ArchiveError, match="is damaged"):
        open_archive(path)
    assert path.read_bytes() == damaged


def _end_zeroed(data: bytes) -> bytes:
    return data[:-40_960] + bytes(40_960)


def _end_scrambled(data: bytes) -> bytes:
    return data[:-40_960] + bytes(byte ^ 0x5A for byte in data[-40_960:])


@pytest.mark.parametrize("damage", [_end_zeroed, _end_scrambled])
def test_damage_among_the_readings_is_found(tmp_path: Path, damage: Callable[[bytes], bytes]) -> None:
    path = _taken(tmp_path / "archive.sqlite", readings=60)
    path.write_bytes(damage(path.read_bytes()))
    with open_archive(path) as archive:
        found = archive.check()
        with pytest.raises(ArchiveError):
            archive.readings(stay().taken.id, with_window=True)
    assert "archive.check_file" in {finding.key for finding in found.findings}
