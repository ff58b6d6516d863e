"""What the database says went wrong, as a key and facts the technician understands."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError

from waywright.errors import ArchiveError

# Beginning of SQLite's result code (https://www.sqlite.org/rescode.html) -> key.
_KEYS = {
    "SQLITE_FULL": "archive.full",
    "SQLITE_IOERR": "archive.disk_failed",
    "SQLITE_READONLY": "archive.read_only",
    "SQLITE_PERM": "archive.read_only",
    "SQLITE_CANTOPEN": "archive.cannot_open",
    "SQLITE_BUSY": "archive.busy",
    "SQLITE_LOCKED": "archive.busy",
    "SQLITE_NOTADB": "archive.not_an_archive",
    "SQLITE_CORRUPT": "archive.damaged",
    "SQLITE_CONSTRAINT_TRIGGER": "archive.append_only",
}


@contextmanager
def told(place: str) -> Iterator[None]:
    """Raise ArchiveError instead of what the database or the file system raises inside."""
    try:
        yield
    except DBAPIError as error:
        raise _as_archive_error(error.orig or error, place) from error
    except (sqlite3.Error, OSError) as error:
        raise _as_archive_error(error, place) from error


def _as_archive_error(error: BaseException, place: str) -> ArchiveError:
    name = getattr(error, "sqlite_errorname", "")
    if isinstance(error, OSError):
        name = "SQLITE_READONLY" if isinstance(error, PermissionError) else "SQLITE_CANTOPEN"
    key = next((key for code, key in _KEYS.items() if name.startswith(code)), "archive.failed")
    return ArchiveError(key, path=place, detail=str(error))
