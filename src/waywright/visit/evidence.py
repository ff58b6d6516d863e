"""Evidence that a set-up can be trusted: what was tested, with what, what came out, and what was passed anyway."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID


@dataclass(frozen=True, slots=True)
class Statement:
    """A message for ``wording``: its key, and the facts that fill it (None where a figure was not finite)."""

    key: str
    facts: dict[str, str | float | int | bool | None] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Evidence:
    """One test or gate at a set-up (or a line, pass or visit: ``subject_id``).

    ``test`` is "direction", "alignment", "steadiness", "air", "bow", "effort", "level" or the name of a gate;
    ``outcome`` is the word of that test ("passed", "use", "believe", ...), ``good`` whether it lets the work go on.
    ``inputs`` and ``figures`` are what went in and came out, by field name, units included. ``anyway`` is why the work
    went on although it was not good, ``anyway_by`` and ``anyway_utc`` who said so and when; the objections stay.
    """

    id: UUID
    subject_id: UUID
    test: str
    outcome: str
    good: bool
    inputs: dict[str, Any]
    figures: dict[str, Any]
    why: tuple[Statement, ...]
    made_utc: datetime
    made_by: UUID | None = None
    anyway: str | None = None
    anyway_by: UUID | None = None
    anyway_utc: datetime | None = None

    @property
    def stands_in_the_way(self) -> bool:
        """Not good, and nobody has said "go on anyway"."""
        return not self.good and self.anyway is None


@dataclass(frozen=True, slots=True)
class EvidenceEntry:
    """Evidence as a report or page lists it.

    ``place`` says where it belongs (visit, line, set-up, pass), people are by name. ``repeated``: a later test of the
    same kind at the same place stands in its stead.
    """

    evidence: Evidence
    title: Statement
    outcome: Statement
    place: Statement
    made_by: str | None = None
    anyway_by: str | None = None
    repeated: bool = False
