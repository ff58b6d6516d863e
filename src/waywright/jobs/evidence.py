"""Evidence kept: tests and gates as records of a set-up, and "go on anyway" with its reason."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date, datetime
from enum import Enum
from pathlib import Path
from typing import Any
from uuid import UUID

from waywright.archive import Archive, open_archive
from waywright.clocks import Clock, SystemClock, new_id
from waywright.errors import BadInput
from waywright.evaluate.results import Reason
from waywright.jobs.measured import find_line
from waywright.jobs.remember import archive_path
from waywright.visit import Evidence, Line, Person, Statement, Visit
from waywright.wording import text


@dataclass(frozen=True, slots=True)
class Keep:
    """Where evidence is kept: at the newest set-up of a line. ``by`` is a person's name; without it the technician."""

    line: str | None = None
    archive: Path | None = None
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Judged:
    """What a test came to, before it is kept."""

    test: str
    outcome: str
    good: bool
    why: tuple[Reason, ...]
    inputs: Mapping[str, object]
    result: object


def keep(judged: Judged, where: Keep, clock: Clock | None = None) -> Evidence:
    """Keep a test at the newest set-up of a line (at the line, where it has none)."""
    with open_archive(archive_path(where.archive)) as archive:
        return keep_at(archive, judged, _subject(archive, find_line(archive, where.line)), where.by, clock)


def checked_place(where: Keep) -> None:
    """Whether there is such a line to keep a test at, before anything is done. Raises BadInput."""
    with open_archive(archive_path(where.archive)) as archive:
        find_line(archive, where.line)


def keep_at(
    archive: Archive, judged: Judged, subject: UUID, by: str | UUID | None = None, clock: Clock | None = None
) -> Evidence:
    """Keep a test of a set-up, line, pass or visit."""
    now = (clock or SystemClock()).utc()
    evidence = Evidence(
        id=new_id(now),
        subject_id=subject,
        test=judged.test,
        outcome=judged.outcome,
        good=judged.good,
        inputs=plain(dict(judged.inputs)),
        figures=plain(judged.result),
        why=statements(judged.why),
        made_utc=now,
        made_by=person_named(archive, by, now),
    )
    archive.save(evidence, by=evidence.made_by)
    return evidence


def go_on_anyway(archive: Archive, evidence: UUID, reason: str, by: str | UUID | None, clock: Clock) -> Evidence:
    """Let the work go on although a test or gate was not good; a new revision, the objections stay.

    Raises BadInput without a reason, or where nothing stands in the way.
    """
    found = archive.load(Evidence, evidence)
    if not reason.strip():
        raise BadInput("guard.no_reason", test=found.test)
    if found.good:
        raise BadInput("guard.nothing_in_the_way", test=found.test, outcome=found.outcome)
    now = clock.utc()
    person = person_named(archive, by, now)
    passed = replace(found, anyway=reason.strip(), anyway_by=person, anyway_utc=now)
    archive.save(passed, by=person, reason=passed.anyway)
    return passed


def evidence_of_line(archive: Archive, line: Line) -> tuple[Evidence, ...]:
    """All tests and gates of a line: of its visit, the line itself, its set-ups and its passes; in the order made."""
    subjects = [line.visit_id, line.id]
    subjects += [setup.id for setup in archive.setups(line.id)] + [taken.id for taken in archive.passes(line.id)]
    found = [item for subject in subjects for item in archive.evidence(subject)]
    return tuple(sorted(found, key=lambda item: item.made_utc))


def listed(where: Keep) -> tuple[Evidence, ...]:
    """The evidence of a line (without a name of the newest line) in an archive."""
    with open_archive(archive_path(where.archive)) as archive:
        return evidence_of_line(archive, find_line(archive, where.line))


def passed_anyway(wanted: str, reason: str, where: Keep) -> Evidence:
    """:func:`go_on_anyway` by the end of an id. Raises BadInput unless exactly one test of the line has it."""
    with open_archive(archive_path(where.archive)) as archive:
        line = find_line(archive, where.line)
        found = [item for item in evidence_of_line(archive, line) if wanted and str(item.id).endswith(wanted.lower())]
        if len(found) != 1:
            raise BadInput("guard.which_test", wanted=wanted, found=len(found))
        by = where.by or archive.load(Visit, line.visit_id).technician_id
        return go_on_anyway(archive, found[0].id, reason, by, SystemClock())


def sentences(why: Iterable[Reason | Statement]) -> tuple[str, ...]:
    """In words; a figure that was not finite reads as nan."""
    return tuple(
        text(item.key, **{name: math.nan if fact is None else fact for name, fact in item.facts.items()})
        for item in why
    )


def statements(why: Iterable[Reason]) -> tuple[Statement, ...]:
    """Reasons as they are kept."""
    return tuple(Statement(reason.key, plain(dict(reason.facts))) for reason in why)


def plain(value: Any) -> Any:
    """Records, enums, arrays and numbers as JSON values; what is not finite becomes None."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if isinstance(value, Enum | datetime | date | Path | UUID):
        return value.value if isinstance(value, Enum) else str(value)
    if hasattr(value, "tolist"):
        return plain(value.tolist())
    return None if isinstance(value, float) and not math.isfinite(value) else value


def _subject(archive: Archive, line: Line) -> UUID:
    setups = archive.setups(line.id)
    return setups[-1].id if setups else line.id


def person_named(archive: Archive, by: str | UUID | None, now: datetime) -> UUID | None:
    """The id of a person by name; a new one is recorded."""
    if by is None or isinstance(by, UUID):
        return by
    known = next((person.id for person in archive.people() if person.name == by), None)
    if known is not None:
        return known
    person = Person(new_id(now), by)
    archive.save(person)
    return person.id
