"""Options that many commands share."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

if TYPE_CHECKING:
    from waywright.archive import Archive

ArchivePlace = Annotated[str | None, Parameter(name=["--archive", "-a"])]
"""An archive file, or the address of a department's archive."""

Json = Annotated[bool, Parameter(negative="")]
Instruments = Annotated[list[str] | None, Parameter(negative="")]
"""Serial numbers, description files or just names; said several times for several."""

ID_SHOWN = 6


def tail(identity: object) -> str:
    """The end of an id: enough to name it."""
    return str(identity)[-ID_SHOWN:]


@contextmanager
def opened_archive(place: str | None, *, create: bool = False) -> Iterator[Archive]:
    """The archive that a command is about, open while it works."""
    from waywright.archive import open_archive
    from waywright.jobs.remember import archive_place

    with open_archive(archive_place(place), create=create) as opened:
        yield opened
