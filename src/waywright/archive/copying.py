"""Backup and restore: a whole copy, checked before it counts, put in place in one step."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from waywright.archive.faults import told
from waywright.archive.opening import open_archive
from waywright.archive.server import is_address
from waywright.errors import ArchiveError

CopyProgress = Callable[[str, int, int], None]
"""Told what is being done ("copy", "check" or the name of a table), how much of it, and how much there is."""

_PAGES = 2000


def back_up(place: str | Path, target: Path, progress: CopyProgress) -> None:
    """Copy an archive to a new file while it may be in use, and check the copy.

    A department's archive is copied row by row. Raises ArchiveError if ``target`` is there already, for a copy that is
    not sound, and when a disk fails; then there is no target.
    """
    if target.exists():
        raise ArchiveError("archive.target_exists", path=str(target))
    fresh = target.with_name(target.name + ".part")
    fresh.unlink(missing_ok=True)
    try:
        if is_address(place):
            _by_rows(str(place), fresh, progress)
        else:
            _by_pages(Path(place), fresh, progress)
        _check(fresh, progress)
        _settle(fresh, target)
    finally:
        for ending in ("", "-wal", "-shm"):
            fresh.with_name(fresh.name + ending).unlink(missing_ok=True)


def restore(backup: Path, target: Path, progress: CopyProgress, *, replace: bool, stamp: str) -> Path | None:
    """Put a backup in place of an archive; what was there is kept beside it, and its new name returned.

    Raises ArchiveError for a backup that is not sound, and if there is an archive and ``replace`` is not said.
    """
    if target.exists() and not replace:
        raise ArchiveError("archive.target_exists", path=str(target))
    with told(str(target)):
        target.parent.mkdir(parents=True, exist_ok=True)
    fresh = target.with_name(target.name + ".restored")
    fresh.unlink(missing_ok=True)
    back_up(backup, fresh, progress)
    aside = _set_aside(target, stamp) if target.exists() else None
    _settle(fresh, target)
    return aside


def _by_pages(place: Path, fresh: Path, progress: CopyProgress) -> None:
    open_archive(place).close()  # says in plain words what is wrong with it
    with told(str(fresh)), closing(_connected(place, "ro")) as source, closing(_connected(fresh, "rwc")) as copy:
        source.backup(copy, pages=_PAGES, progress=lambda _s, left, total: progress("copy", total - left, total))
        copy.execute("PRAGMA journal_mode=DELETE").close()


def _connected(path: Path, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode={mode}", uri=True)


def _by_rows(address: str, fresh: Path, progress: CopyProgress) -> None:
    with open_archive(address) as source, open_archive(fresh, create=True) as copy:
        copy.receive(source, progress)


def _check(path: Path, progress: CopyProgress) -> None:
    with open_archive(path) as copy:
        found = copy.check(lambda done, total: progress("check", done, total))
    if not found.good:
        raise ArchiveError("archive.copy_not_sound", path=str(path), findings=len(found.findings))


def _settle(fresh: Path, target: Path) -> None:
    """On the disk first, then under its name: a cut leaves the whole copy or none."""
    with told(str(target)):
        with fresh.open("rb+") as file:
            os.fsync(file.fileno())
        fresh.replace(target)


def _set_aside(target: Path, stamp: str) -> Path:
    with told(str(target)):
        open_archive(target).close()  # brings its log into the file, so that one file is all of it
        aside = target.with_name(f"{target.name}.before-{stamp}")
        target.rename(aside)
        for ending in ("-wal", "-shm"):
            target.with_name(target.name + ending).unlink(missing_ok=True)
    return aside
