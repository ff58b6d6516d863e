"""One program captures into an archive at a time; the others may read.

The lock is the operating system's, on a small file beside the archive, so it ends with its process however that ends.
The file says who holds it. One left behind by a process that died is no obstacle.
"""

from __future__ import annotations

import contextlib
import os
import sys
from datetime import UTC, datetime
from pathlib import Path

from waywright.errors import ArchiveError

if sys.platform == "win32":
    import msvcrt

    # Windows locks bytes against reading too: lock one far behind the text.
    _FAR = 1 << 20

    def _lock(handle: int) -> None:
        os.lseek(handle, _FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        os.lseek(handle, 0, os.SEEK_SET)

else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


class NoCapture:
    """Readings are taken into a laptop's own file, never over a network: a shared archive has no right to give."""

    def __init__(self, place: str) -> None:
        self._place = place

    def take(self) -> None:
        """Refuse. Raises ArchiveError."""
        raise ArchiveError("archive.capture_into_file", path=self._place)

    def give_back(self) -> None:
        """There is nothing to give back."""


class CaptureLock:
    """The right to capture into the archive at ``archive``."""

    def __init__(self, archive: Path) -> None:
        self._archive = archive
        self._path = archive.with_name(archive.name + ".capture")
        self._handle: int | None = None

    def take(self) -> None:
        """Take it, or keep it. Raises ArchiveError naming the process that holds it."""
        while self._handle is None:
            handle = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o666)
            try:
                _lock(handle)
            except OSError as error:
                holder, since = _holder(os.read(handle, 200))
                os.close(handle)
                raise ArchiveError("archive.in_use", path=str(self._archive), process=holder, since=since) from error
            if _is_at(handle, self._path):
                self._handle = handle
                self._sign(handle)
            else:  # its holder removed it between our opening and our locking
                os.close(handle)

    def give_back(self) -> None:
        """Let others capture."""
        if self._handle is not None:
            # Windows removes no open file: there it stays, unlocked.
            with contextlib.suppress(OSError):
                self._path.unlink()
            os.close(self._handle)
            self._handle = None

    def _sign(self, handle: int) -> None:
        # Who holds it is a courtesy; a full disk must not turn it into a failure of its own.
        with contextlib.suppress(OSError):
            os.ftruncate(handle, 0)
            os.write(handle, f"{os.getpid()} {datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ}".encode())


def _is_at(handle: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except OSError:
        return False


def _holder(written: bytes) -> tuple[str, str]:
    process, _, since = written.decode(errors="replace").partition(" ")
    return process or "?", since or "?"
