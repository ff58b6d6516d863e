"""Evidence of a line or a visit as a report or a page lists it: where, what, by whom, and "anyway" with its reason."""

from __future__ import annotations

from collections.abc import Iterator
from uuid import UUID

from waywright.archive import Archive
from waywright.jobs.evidence import sentences
from waywright.visit import Evidence, EvidenceEntry, Line, Statement


def evidence_of_visit(archive: Archive, visit: UUID) -> tuple[EvidenceEntry, ...]:
    """Tests and gates of a visit and everything in it, in the order made."""
    lines = archive.lines(visit)
    return _entries(archive, [(visit, Statement("guard_evidence.of_visit")), *_places(archive, lines)])


def evidence_of_lines(archive: Archive, *lines: Line) -> tuple[EvidenceEntry, ...]:
    """Tests and gates of some lines of a visit and of the visit itself, in the order made."""
    visits = dict.fromkeys(line.visit_id for line in lines)
    own = [(visit, Statement("guard_evidence.of_visit")) for visit in visits]
    return _entries(archive, [*own, *_places(archive, lines)])


def said(entry: EvidenceEntry) -> tuple[str, str, str, tuple[str, ...]]:
    """Place, title, outcome and reasons in words."""
    place, title, outcome = sentences([entry.place, entry.title, entry.outcome])
    return place, title, outcome, sentences(entry.evidence.why)


def _places(archive: Archive, lines: tuple[Line, ...]) -> Iterator[tuple[UUID, Statement]]:
    for line in lines:
        yield line.id, Statement("guard_evidence.of_line", {"line": line.name})
        for setup in archive.setups(line.id):
            facts: dict[str, str | float | int | bool | None] = {"line": line.name, "segment": setup.segment}
            yield setup.id, Statement("guard_evidence.of_setup", facts)
        for taken in archive.passes(line.id):
            yield taken.id, Statement("guard_evidence.of_pass", {"line": line.name, "number": taken.number})


def _entries(archive: Archive, places: list[tuple[UUID, Statement]]) -> tuple[EvidenceEntry, ...]:
    names = {person.id: person.name for person in archive.people()}
    found = [(item, place) for subject, place in places for item in archive.evidence(subject)]
    last = {(item.subject_id, item.test): item.id for item, _ in sorted(found, key=lambda pair: pair[0].made_utc)}
    entries = [_entry(item, place, names, last[item.subject_id, item.test] != item.id) for item, place in found]
    return tuple(sorted(entries, key=lambda entry: entry.evidence.made_utc))


def _entry(item: Evidence, place: Statement, names: dict[UUID, str], repeated: bool) -> EvidenceEntry:
    return EvidenceEntry(
        item,
        Statement(f"guard_evidence.test_{item.test}"),
        Statement(f"guard_evidence.outcome_{item.outcome}"),
        place,
        names.get(item.made_by) if item.made_by else None,
        names.get(item.anyway_by) if item.anyway_by else None,
        repeated,
    )
