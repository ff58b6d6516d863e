"""Sharing: visit files, backups, and the archive of a department that laptops push to and pull from."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from uuid import UUID

from waywright import __version__
from waywright.archive import Archive, Conflict, Merged, default_path, open_archive
from waywright.archive.copying import CopyProgress, back_up
from waywright.archive.copying import restore as put_back
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.files.visit_file import read_visit_file, write_visit_file
from waywright.jobs.file_results import results_in
from waywright.jobs.machines import find_machine, flat_fields
from waywright.jobs.people import who
from waywright.jobs.remember import archive_place
from waywright.jobs.visits import find_visit

Place = Path | str | None


@dataclass(frozen=True, slots=True)
class Exported:
    """What was written."""

    file: str
    scope: str
    subject: UUID
    records: int
    passes: int
    readings: int
    results: int


@dataclass(frozen=True, slots=True)
class Received:
    """What one archive got from another: rows by table, and what it did not get."""

    added: dict[str, int]
    refused: dict[str, int] = field(default_factory=dict)
    forked_passes: tuple[UUID, ...] = ()
    damaged_passes: tuple[UUID, ...] = ()
    conflicts: int = 0


@dataclass(frozen=True, slots=True)
class Version:
    """One version of a description edited on two computers: when, who, why."""

    revision: UUID
    recorded_utc: datetime
    by: str | None
    reason: str | None


@dataclass(frozen=True, slots=True)
class ConflictShown:
    """Versions side by side: every field in which they differ, one value for each version."""

    subject: UUID
    kind: str
    name: str
    versions: tuple[Version, ...]
    fields: dict[str, tuple[object, ...]]


def export(place: Place, visit: str | None, machine: str | None, file: Path, progress: CopyProgress) -> Exported:
    """Write a visit (by default the newest), or a machine with all its visits, to a visit file."""
    if file.exists():
        raise BadInput("keep.file_exists", file=str(file))
    with open_archive(archive_place(place)) as archive:
        found = find_machine(archive, machine) if machine is not None else find_visit(archive, visit)
        scope = "visit" if machine is None else "machine"
        with archive.part(found.id, progress) as part:
            made = part.as_file(scope, found.id, f"waywright {__version__}")
            made = results_in(part, made, progress)
    write_visit_file(made, file)
    readings = sum(len(each.readings) for each in made.passes)
    return Exported(str(file), scope, found.id, len(made.records), len(made.passes), readings, len(made.results))


def bring_in(place: Place, file: Path, progress: CopyProgress) -> Received:
    """Add what a visit file holds to an archive; what it has already is left alone."""
    told = read_visit_file(file)
    with (
        open_archive(archive_place(place), create=True) as archive,
        Archive.of_file(told, str(file), SystemClock()) as part,
    ):
        return _received(archive, archive.receive(part, progress))


def backup(place: Place, target: Path, progress: CopyProgress) -> Path:
    """Copy the whole archive to a new file, and check the copy."""
    back_up(archive_place(place), target, progress)
    return target


def restore(backup_file: Path, place: Path | None, progress: CopyProgress, *, replace: bool) -> Path | None:
    """Put a backup in place; what was there is kept beside it, under the name that is returned."""
    stamp = f"{SystemClock().utc():%Y%m%dT%H%M%SZ}"
    target = default_path() if place is None else place
    return put_back(backup_file, target, progress, replace=replace, stamp=stamp)


def push(place: Place, address: str, progress: CopyProgress) -> Received:
    """Send to a department's archive what it lacks of this one."""
    with open_archive(archive_place(place)) as mine, open_archive(address) as shared:
        return _received(shared, shared.receive(mine, progress))


def pull(place: Place, address: str, progress: CopyProgress) -> Received:
    """Fetch from a department's archive what this one lacks."""
    with open_archive(address) as shared, open_archive(archive_place(place), create=True) as mine:
        return _received(mine, mine.receive(shared, progress))


def conflicts(archive: Archive) -> tuple[ConflictShown, ...]:
    """Descriptions edited on two computers, their versions side by side."""
    names = {person.id: person.name for person in archive.people()}
    return tuple(_shown(conflict, names) for conflict in archive.conflicts())


def _shown(conflict: Conflict, names: dict[UUID, str]) -> ConflictShown:
    flat = [flat_fields(version.record) for version in conflict.versions]
    fields = {name: tuple(each.get(name) for each in flat) for name in dict.fromkeys(n for each in flat for n in each)}
    return ConflictShown(
        subject=conflict.subject,
        kind=conflict.kind,
        name=str(next((each["name"] for each in reversed(flat) if "name" in each), "")),
        versions=tuple(
            Version(v.id, v.recorded_utc, names.get(v.recorded_by) if v.recorded_by else None, v.reason)
            for v in conflict.versions
        ),
        fields={name: values for name, values in fields.items() if any(value != values[0] for value in values)},
    )


def decide(archive: Archive, subject: str, version: int, reason: str, by: str | None) -> None:
    """Let the version of a number (from 1) hold. Raises BadInput where there is none such."""
    found = [each for each in archive.conflicts() if str(each.subject).endswith(subject.lower())]
    if len(found) != 1 or not 1 <= version <= len(found[0].versions):
        raise BadInput("keep.which_conflict", wanted=subject, version=version, found=len(found))
    archive.decide(found[0].subject, found[0].versions[version - 1].id, who(archive, by), reason)


def quiet(what: str, done: int, total: int) -> None:
    """No progress shown."""


def _received(archive: Archive, merged: Merged) -> Received:
    return Received(
        added=merged.added,
        refused=merged.refused,
        forked_passes=tuple(fork.pass_id for fork in merged.forks),
        damaged_passes=tuple(pass_id for pass_id, _ in merged.damaged),
        conflicts=len(archive.conflicts()),
    )
