"""The visit itself, its people, and readings set aside."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who takes part. Other records refer to people by id, never by name.

    ``blanked``: the name was taken out on request, also from earlier revisions; the id stays.
    """

    id: UUID
    name: str
    role: str | None = None
    blanked: bool = False


@dataclass(frozen=True, slots=True)
class Visit:
    """One stay at a machine."""

    id: UUID
    machine_id: UUID
    purpose: str | None
    began_utc: datetime
    technician_id: UUID | None = None
    people: tuple[UUID, ...] = ()
    invented: bool = False


@dataclass(frozen=True, slots=True)
class Exclusion:
    """A reading that is left out of results, by whom and why; the reading itself stays."""

    id: UUID
    reading_id: UUID
    reason: str
    made_utc: datetime
    made_by: UUID | None = None
