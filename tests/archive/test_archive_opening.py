"""Where an archive lies, how it is made, and what is not one."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from archive_samples import stay
from waywright.archive import default_path, open_archive
from waywright.errors import ArchiveError


def test_the_default_is_a_file_in_the_users_own_data(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))  # POSIX; elsewhere the system's own place
    path = default_path()
    assert path.name == "archive.sqlite"
    assert path.parent.name == "waywright"


def test_it_is_made_with_its_folder_only_when_asked(tmp_path: Path) -> None:
    path = tmp_path / "HR, Hälfte 50 %? #1" / "deeper" / "archive.sqlite"
    with pytest.raises(ArchiveError, match="There is no archive at"):
        open_archive(path)
    assert not path.parent.exists()
    open_archive(path, create=True).close()
    with open_archive(str(path)) as archive:
        assert archive.check().good
    assert [file.name for file in path.parent.iterdir()] == ["archive.sqlite"]


def test_making_an_existing_one_opens_it(tmp_path: Path) -> None:
    known = stay()
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        archive.save(known.machine)
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        assert archive.machines() == (known.machine,)


def test_a_file_whose_making_was_cut_off_can_be_made_again(tmp_path: Path) -> None:
    path = tmp_path / "a.sqlite"
    path.touch()
    with pytest.raises(ArchiveError, match="not an archive"):
        open_archive(path)
    open_archive(path, create=True).close()
    with open_archive(path) as archive:
        assert archive.check().good


@pytest.mark.parametrize("create", [True, False])
@pytest.mark.parametrize("content", [b"position_mm,EYZ_um\n0,1\n", b"SQLite format", bytes(4096)])
def test_another_file_is_refused_and_left_alone(tmp_path: Path, content: bytes, create: bool) -> None:
    path = tmp_path / "table.csv"
    path.write_bytes(content)
    with pytest.raises(ArchiveError, match=r"table\.csv is not an archive of this program"):
        open_archive(path, create=create)
    assert path.read_bytes() == content
    assert list(tmp_path.iterdir()) == [path]


def test_another_programs_database_is_refused_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite"
    raw = sqlite3.connect(path)
    raw.execute("CREATE TABLE reading (id)")
    raw.close()
    before = path.read_bytes()
    with pytest.raises(ArchiveError, match="not an archive of this program"):
        open_archive(path, create=True)
    assert path.read_bytes() == before


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ArchiveError, match="not an archive of this program"):
        open_archive(tmp_path, create=True)
