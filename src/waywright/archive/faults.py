"""What the database says went wrong, as a key and facts the technician understands."""

from __future__ import annotations

import errno
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

_OF_SYSTEM = {
    errno.ENOSPC: "archive.full",
    errno.EFBIG: "archive.full",
    errno.EACCES: "archive.read_only",
    errno.EPERM: "archive.read_only",
    errno.EROFS: "archive.read_only",
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
    if isinstance(error, OSError):
        key = _OF_SYSTEM.get(error.errno or 0, "archive.cannot_open")
    else:
        name = getattr(error, "sqlite_errorname", "")
        key = next((key for code, key in _KEYS.items() if name.startswith(code)), "archive.failed")
    return ArchiveError(key, path=place, detail=str(error))
