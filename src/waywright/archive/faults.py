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

# Beginning of PostgreSQL's SQLSTATE (appendix A of its manual) -> key.
_OF_SERVER = {
    "08": "archive.link_lost",
    "57P": "archive.link_lost",
    "28": "archive.not_let_in",
    "3D": "archive.server_has_none",
    "42501": "archive.not_allowed",
    "53": "archive.full",
    "25006": "archive.read_only",
    "P0001": "archive.append_only",
}

_REFUSALS = ("password", "no pg_hba.conf entry", "authentication", "role ", "permission denied")

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
    except Exception as error:  # a driver of a server, which need not be installed
        if hasattr(error, "sqlstate"):
            raise _as_archive_error(error, place) from error
        raise


def _as_archive_error(error: BaseException, place: str) -> ArchiveError:
    if isinstance(error, OSError):
        key = _OF_SYSTEM.get(error.errno or 0, "archive.cannot_open")
    elif hasattr(error, "sqlstate"):
        key = _of_server(error)
    else:
        name = getattr(error, "sqlite_errorname", "")
        key = next((key for code, key in _KEYS.items() if name.startswith(code)), "archive.failed")
    return ArchiveError(key, path=place, detail=str(error))


def _of_server(error: BaseException) -> str:
    """A lost link has no code of the server: it can no longer say one."""
    state = getattr(error, "sqlstate", None)
    if state is None:
        return "archive.not_let_in" if any(word in str(error) for word in _REFUSALS) else "archive.link_lost"
    return next((key for code, key in _OF_SERVER.items() if state.startswith(code)), "archive.failed")
