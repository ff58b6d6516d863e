"""Set aside: a reading left out of results, by whom and why, or taken back in. The reading itself stays."""

from __future__ import annotations

from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.visit import Exclusion


def leave_out(archive: Archive, reading: UUID, reason: str, clock: Clock, by: UUID | None = None) -> Exclusion:
    """Leave a reading out of every result from now on. Raises BadInput without a reason."""
    if not reason.strip():
        raise BadInput("jobs.no_reason")
    now = clock.utc()
    exclusion = Exclusion(new_id(now), reading, reason.strip(), now, by)
    archive.save(exclusion, by=by, reason=exclusion.reason)
    return exclusion


def take_back(archive: Archive, pass_id: UUID, reading: UUID, by: UUID | None = None) -> int:
    """Let a reading count again; returns how many exclusions were withdrawn."""
    found = [item for item in archive.exclusions(pass_id) if item.reading_id == reading]
    for exclusion in found:
        archive.withdraw(exclusion.id, by=by)
    return len(found)
