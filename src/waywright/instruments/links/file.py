"""A text file that another program goes on writing."""

from __future__ import annotations

import asyncio
import os
from pathlib import Path

from waywright.clocks import Clock
from waywright.instruments.link_records import FileLink
from waywright.instruments.links.fed import Fed
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.reconnecting import Reconnecting

_LOOK_WALL_S = 0.05
_PIECE = 1 << 16


def file_link(stated: FileLink, clock: Clock, source: str, quiet_s: float) -> Reconnecting:
    """What is added to the file from now on. A file that is made anew is read from its beginning."""
    follower = _Follower(Path(stated.path))

    async def open_file(inbox: Inbox) -> None:
        await Fed.open(inbox, follower.follow)

    return Reconnecting(open_file, clock, source, stated.path, quiet_s)


class _Follower:
    """``_seen`` is the file that was followed (device and number of the file), ``_at`` how far it was read."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._seen: tuple[int, int] | None = None
        self._at = 0
        self._began = False

    async def follow(self, fed: Fed) -> None:
        """Feed what is added until the file is replaced, cut or removed."""
        with self._path.open("rb") as file:
            at = self._start(os.fstat(file.fileno()))
            file.seek(at)
            fed.opened()
            if at == 0:
                fed.feed_raw(b"\n")  # at the beginning of a file the first line is whole
            while True:
                piece = b"" if fed.full else file.read(_PIECE)
                if piece:
                    fed.feed_raw(piece)
                    self._at = file.tell()
                elif not fed.full:
                    self._check(file.fileno())
                await asyncio.sleep(0 if piece else _LOOK_WALL_S)

    def _start(self, found: os.stat_result) -> int:
        """Where to begin: at the end when first seen, where reading stopped before, or at the start of a new file."""
        same = self._seen == (found.st_dev, found.st_ino) and found.st_size >= self._at
        if not self._began:
            self._at = found.st_size
        elif not same:
            self._at = 0
        self._began = True
        self._seen = (found.st_dev, found.st_ino)
        return self._at

    def _check(self, opened: int) -> None:
        """Raises OSError if the file is not the one that was opened any more, or was cut."""
        there, here = self._path.stat(), os.fstat(opened)
        if (there.st_dev, there.st_ino) != (here.st_dev, here.st_ino) or here.st_size < self._at:
            raise ConnectionError("the file was begun anew")
