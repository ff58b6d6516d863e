"""Remember: what the archive holds, in rows that a skin can show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from waywright.archive import Archive, CheckProgress, PassCount, default_path, is_address, open_archive
from waywright.errors import ArchiveError, BadInput
from waywright.machine import Machine
from waywright.readings import Reading
from waywright.visit import Line, Pass, PassEvent, Visit
from waywright.visit.sheet import MeasuringSheet
from waywright.wording import text

SHEET = "sheet"
_AT_A_TIME = 500


@dataclass(frozen=True, slots=True)
class PassEntry:
    """One pass in the list of an archive; the values of a sheet of tests are a pass whose ``state`` is "sheet"."""

    machine: str
    visit_id: UUID
    visit_began_utc: datetime
    invented: bool
    line: str
    line_id: UUID
    state: str
    pass_id: UUID
    number: int
    direction: str
    stations: int
    outcome: str | None


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading as shown: values in the order of the pass's channels, None where there is none."""

    number: int
    position_mm: float
    values: tuple[float | None, ...]
    standard_deviations: tuple[float | None, ...]
    samples: tuple[int, ...]
    began_utc: datetime
    taken_by: str
    remark: str
    hash: bytes


@dataclass(frozen=True, slots=True)
class PassDetail:
    """One pass with everything that happened during it."""

    entry: PassEntry
    channels: tuple[str, ...]
    rows: tuple[ReadingRow, ...]
    events: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CheckResult:
    """What a check of the archive found, in sentences."""

    sound: bool
    readings: int
    sentences: tuple[str, ...]


def archive_path(path: Path | None) -> Path:
    """The archive that is meant: the named one, otherwise the user's own."""
    return default_path() if path is None else path


def archive_place(place: Path | str | None) -> Path | str:
    """The same for a place that may be the address of a department's archive."""
    if place is None or is_address(place):
        return default_path() if place is None else str(place)
    return Path(place)


def overview(place: Path | str | None = None) -> tuple[PassEntry, ...]:
    """Every pass, machine by machine and visit by visit. Raises ArchiveError where there is no archive."""
    with open_archive(archive_place(place)) as archive:
        every = list(_every_entry(archive))
    return tuple(sorted(every, key=lambda each: (each.machine, each.visit_began_utc, each.line_id, each.number)))


@dataclass(frozen=True, slots=True)
class EntryPage:
    """Some passes in the order in which they began; ``after`` asks for the next ones, None at the end."""

    entries: tuple[PassEntry, ...]
    after: UUID | None


def overview_page(place: Path | str | None, after: str | None, size: int) -> EntryPage:
    """The next passes of a list, as quick at its end as at its beginning. Raises BadInput for an id that is none."""
    with open_archive(archive_place(place)) as archive:
        return _page(archive, None if after is None else _id(after), size, _Above(archive))


def _id(said: str) -> UUID:
    try:
        return UUID(said)
    except ValueError:
        raise BadInput("keep.bad_id", said=said) from None


def pass_detail(wanted: str, path: Path | str | None = None) -> PassDetail:
    """One pass, by its id or the end of it. Raises BadInput if none or several passes have such an id."""
    with open_archive(archive_place(path)) as archive:
        found = [taken for taken in archive.every(Pass) if _is_meant(taken.id, wanted)]
        if len(found) != 1:
            raise BadInput("jobs.which_pass", wanted=wanted, found=len(found))
        taken = found[0]
        entry = _Above(archive).entry(taken, archive.counts([taken.id]))
        readings = archive.readings(taken.id)
        replaced = {reading.supersedes: reading.number for reading in readings if reading.supersedes}
        excluded = {exclusion.reading_id: exclusion.reason for exclusion in archive.exclusions(taken.id)}
        rows = tuple(_row(reading, taken, _remark(reading, replaced, excluded)) for reading in readings)
        return PassDetail(entry, taken.channels, rows, tuple(map(event_sentence, archive.events(taken.id))))


def check(path: Path | str | None = None, progress: CheckProgress = lambda done, total: None) -> CheckResult:
    """Check the whole archive: its file, every seal, every chain."""
    with open_archive(archive_place(path)) as archive:
        found = archive.check(progress)
    if found.good:
        sentence = text("jobs.archive_sound", readings=found.readings, records=found.records, blocks=found.blocks)
        return CheckResult(True, found.readings, (sentence,))
    return CheckResult(False, found.readings, tuple(text(item.key, **_counted(item.facts)) for item in found.findings))


def _counted(facts: Mapping[str, object]) -> dict[str, object]:
    """People count readings and blocks from 1, the archive from 0."""
    number = facts.get("number")
    return {**facts, "number": number + 1} if isinstance(number, int) else dict(facts)


def event_sentence(event: PassEvent) -> str:
    """What happened, in words."""
    position = {} if event.position_mm is None else {"position_mm": event.position_mm}
    return text(event.key, **(position | event.facts))


def _every_entry(archive: Archive) -> Iterator[PassEntry]:
    above, after = _Above(archive), None
    while True:
        page = _page(archive, after, _AT_A_TIME, above)
        yield from page.entries
        if (after := page.after) is None:
            return


def _page(archive: Archive, after: UUID | None, size: int, above: _Above) -> EntryPage:
    page = archive.page(Pass, after, size)
    counts = archive.counts([taken.id for taken in page.items])
    return EntryPage(tuple(above.entry(taken, counts) for taken in page.items), page.after)


class _Above:
    """Lines, visits and machines above passes, each loaded once."""

    def __init__(self, archive: Archive) -> None:
        self._archive = archive
        self._known: dict[UUID, Any] = {}

    def entry(self, taken: Pass, counts: Mapping[UUID, PassCount]) -> PassEntry:
        line = self._line(taken.line_id)
        visit: Visit = self._of(Visit, line.visit_id)
        machine: Machine = self._of(Machine, visit.machine_id)
        return PassEntry(
            machine=machine.name,
            visit_id=visit.id,
            visit_began_utc=visit.began_utc,
            invented=visit.invented,
            line=line.name if isinstance(line, Line) else line.title,
            line_id=line.id,
            state=line.state if isinstance(line, Line) else SHEET,
            pass_id=taken.id,
            number=taken.number,
            direction=taken.direction,
            stations=counts[taken.id].standing if taken.id in counts else 0,
            outcome=taken.outcome,
        )

    def _line(self, identity: UUID) -> Line | MeasuringSheet:
        """What a pass belongs to: a line, or a sheet of tests."""
        found: Line | MeasuringSheet
        try:
            found = self._of(Line, identity)
        except ArchiveError:
            found = self._of(MeasuringSheet, identity)
        return found

    def _of(self, kind: type[Any], identity: UUID) -> Any:
        if identity not in self._known:
            self._known[identity] = self._archive.load(kind, identity)
        return self._known[identity]


def _is_meant(identity: UUID, wanted: str) -> bool:
    return bool(wanted) and (str(identity).endswith(wanted.lower()) or identity.hex.endswith(wanted.lower()))


def _remark(reading: Reading, replaced: dict[UUID, int], excluded: dict[UUID, str]) -> str:
    if reading.id in excluded:
        return text("jobs.excluded", reason=excluded[reading.id])
    if reading.id in replaced:
        return text("jobs.superseded_by", number=replaced[reading.id] + 1)
    return text("jobs.repeat") if reading.supersedes else ""


def _row(reading: Reading, taken: Pass, remark: str) -> ReadingRow:
    values = [reading.value(channel) for channel in taken.channels]
    return ReadingRow(
        number=reading.number,
        position_mm=reading.position_mm,
        values=tuple(value.mean if value else None for value in values),
        standard_deviations=tuple(value.standard_deviation if value else None for value in values),
        samples=tuple(value.samples if value else 0 for value in values),
        began_utc=reading.began_utc,
        taken_by=reading.taken_by,
        remark=remark,
        hash=reading.hash,
    )
