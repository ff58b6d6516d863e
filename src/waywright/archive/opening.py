"""Finding, making and opening an archive."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Engine

from waywright.archive.dialect import HEADER, is_empty, is_marked, sqlite_engine
from waywright.archive.faults import told
from waywright.archive.format import is_current, upgrade
from waywright.archive.server import is_address, server_engine, shown
from waywright.archive.store import Archive
from waywright.clocks import Clock, SystemClock
from waywright.errors import ArchiveError


def default_path() -> Path:
    """Where the archive of this user lies unless another file is named."""
    import platformdirs

    return platformdirs.user_data_path("waywright", appauthor=False) / "archive.sqlite"


def open_archive(path: str | Path, *, create: bool = False, clock: Clock | None = None) -> Archive:
    """Open the archive at ``path``; ``create`` makes it, and its folder, if it is not there.

    ``path`` may be the address of a department's archive (``postgresql://server/name``); nothing is captured there.

    An archive of an older format is brought to this program's. A file or folder that cannot be written is opened for
    reading; writing into it raises ArchiveError. Raises ArchiveError if there is no archive, the file is something
    else or damaged, or a newer program wrote it.
    """
    if is_address(path):
        return _open_server(str(path), create, clock or SystemClock())
    place = Path(path)
    with told(str(place)):
        if place.exists():
            _refuse_other_files(place)
        elif create:
            place.parent.mkdir(parents=True, exist_ok=True)
        else:
            raise ArchiveError("archive.missing", path=str(place))
    writable = _is_writable(place)
    _prepare(place, create, writable)
    _LOOKED_AT.add(_identity(place))
    return Archive(sqlite_engine(place, writable=writable), place, clock or SystemClock(), writable=writable)


def _open_server(address: str, create: bool, clock: Clock) -> Archive:
    place = shown(address)
    engine = server_engine(address)
    with told(place):
        try:
            if not _is_ready(engine, place, create):
                upgrade(engine)
        except BaseException:
            engine.dispose()
            raise
    return Archive(engine, place, clock)


def _is_writable(place: Path) -> bool:
    """SQLite needs the folder too: the log stands beside the file."""
    return os.access(place.parent, os.W_OK) and (not place.exists() or os.access(place, os.W_OK))


def _refuse_other_files(place: Path) -> None:
    if place.is_dir():
        raise ArchiveError("archive.not_an_archive", path=str(place), detail="")
    if _identity(place) in _LOOKED_AT:
        return
    with place.open("rb") as file:
        head = file.read(len(HEADER))
    if head not in (b"", HEADER):
        raise ArchiveError("archive.not_an_archive", path=str(place), detail="")


def _identity(place: Path) -> tuple[int, int]:
    found = place.stat()
    return found.st_dev, found.st_ino


_LOOKED_AT: set[tuple[int, int]] = set()
"""Files whose first bytes were seen, by device and number: never again in this process. Closing any handle of a file
drops every lock that the process has on it, those of an archive that is open included."""


def _prepare(place: Path, create: bool, writable: bool) -> None:
    """Look first; then make the tables or bring them up to date, with references not enforced meanwhile."""
    if not writable and not place.exists():
        raise ArchiveError("archive.read_only", path=str(place), detail="")
    with told(str(place)):
        with _engine(place, create=create, writable=writable, wal=False) as engine:
            if _is_ready(engine, place, create):
                return
        if not writable:
            raise ArchiveError("archive.read_only", path=str(place), detail="")
        with _engine(place, foreign_keys=False) as engine:
            upgrade(engine)


@contextmanager
def _engine(place: Path, **options: bool) -> Iterator[Engine]:
    engine = sqlite_engine(place, **options)
    try:
        yield engine
    finally:
        engine.dispose()


def _is_ready(engine: Engine, place: Path | str, create: bool) -> bool:
    """False if the tables are to be made or migrated. Raises ArchiveError for what is no archive or a newer one."""
    with engine.connect() as connection:
        if is_empty(connection):
            if create:
                return False
            key = "archive.not_an_archive" if isinstance(place, Path) else "archive.empty_database"
            raise ArchiveError(key, path=str(place), detail="")
        if not is_marked(connection):
            raise ArchiveError("archive.not_an_archive", path=str(place), detail="")
        return is_current(connection, str(place))
