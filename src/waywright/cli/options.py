"""Options that many commands share."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

ArchivePlace = Annotated[str | None, Parameter(name=["--archive", "-a"])]
"""An archive file, or the address of a department's archive."""

Json = Annotated[bool, Parameter(negative="")]
Instruments = Annotated[list[str] | None, Parameter(negative="")]
"""Serial numbers, description files or just names; said several times for several."""

ID_SHOWN = 6


def tail(identity: object) -> str:
    """The end of an id: enough to name it."""
    return str(identity)[-ID_SHOWN:]
