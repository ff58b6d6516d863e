"""Machines of an archive: made from a file or a few facts, shown, edited by the names of the machine file."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import new_id
from waywright.errors import BadInput
from waywright.files.machine_file import machine_from, machine_text, read_machine
from waywright.jobs.people import who
from waywright.machine import Machine
from waywright.visit import Attachment, Site


@dataclass(frozen=True, slots=True)
class Change:
    """One entry in the history of a description: when, who, why, and which fields it changed from what to what."""

    recorded_utc: datetime
    by: str | None
    reason: str | None
    fields: dict[str, tuple[Any, Any]]


@dataclass(frozen=True, slots=True)
class MachineShown:
    """A machine with what belongs to it."""

    machine: Machine
    site: Site | None
    visits: int
    last_visit_utc: datetime | None
    attachments: tuple[Attachment, ...]
    changes: tuple[Change, ...]


def find_machine(archive: Archive, wanted: str) -> Machine:
    """The machine of a name, serial number or id (or its end). Raises BadInput unless exactly one fits."""
    machines = archive.machines()
    exact = [machine for machine in machines if wanted in (machine.name, machine.serial)]
    found = exact or [machine for machine in machines if str(machine.id).endswith(wanted.lower())]
    if len(found) != 1:
        known = ", ".join(machine.name for machine in machines)
        raise BadInput("keep.which_machine", wanted=wanted, found=len(found), known=known or "-")
    return found[0]


def keep_machine(archive: Archive, machine: Machine, by: str | None, reason: str | None = None) -> Machine:
    """Keep a machine that the archive does not have yet. Raises BadInput where it has one of that id or name."""
    taken = [known for known in archive.machines() if known.id == machine.id or known.name == machine.name]
    if taken:
        raise BadInput("keep.machine_exists", name=taken[0].name)
    archive.save(machine, by=who(archive, by), reason=reason)
    return machine


AS_THE_FILE_SAYS = "as the machine file says"


def keep_as_said(archive: Archive, machine: Machine, by: UUID | None) -> Machine:
    """Keep a machine as a file describes it. A file that names no site leaves the site that is known."""
    known = next((each for each in archive.machines() if each.id == machine.id), None)
    if known is None:
        archive.save(machine, by=by)
        return machine
    said = replace(machine, site_id=machine.site_id or known.site_id)
    if said != known:
        archive.save(said, by=by, reason=AS_THE_FILE_SAYS)
    return said


def machine_shown(archive: Archive, wanted: str) -> MachineShown:
    """A machine with its visits counted, its attachments and every change to it."""
    machine = find_machine(archive, wanted)
    visits = archive.visits(machine.id)
    sites = {site.id: site for site in archive.every(Site)}
    return MachineShown(
        machine=machine,
        site=sites.get(machine.site_id) if machine.site_id else None,
        visits=len(visits),
        last_visit_utc=visits[-1].began_utc if visits else None,
        attachments=archive.every(Attachment, machine.id),
        changes=changes_of(archive, machine.id),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineEdit:
    """What is to change, and why.

    ``said`` are ``name=value`` with the names of the machine file (``serial=0815``, ``bed.length_mm=6500``,
    ``support.3.locked=true``); ``file`` takes everything from a machine file; ``site`` is the name of a place.
    """

    said: Sequence[str] = ()
    file: Path | None = None
    site: str | None = None
    reason: str


def edit_machine(archive: Archive, wanted: str, edit: MachineEdit, by: str | None) -> Machine:
    """A machine with other values, kept as a new revision. Raises BadInput for what cannot be."""
    before = find_machine(archive, wanted)
    after = before if edit.file is None else replace(read_machine(edit.file), id=before.id, site_id=before.site_id)
    if edit.said:
        tables = tomllib.loads(machine_text(after))
        for each in edit.said:
            _set(tables, each)
        after = machine_from(tables, wanted)
    after = at_site(archive, after, edit.site)
    archive.save(after, by=who(archive, by), reason=edit.reason)
    return after


def at_site(archive: Archive, machine: Machine, site: str | None) -> Machine:
    """The machine at a site by its name; as it was without one."""
    return machine if site is None else replace(machine, site_id=site_named(archive, site, machine.invented).id)


def site_named(archive: Archive, name: str, invented: bool = False) -> Site:
    """The site of a name; made and kept if there is none yet."""
    known = next((site for site in archive.every(Site) if site.name == name.strip()), None)
    if known is not None:
        return known
    site = Site(new_id(), name.strip(), invented=invented)
    archive.save(site)
    return site


def changes_of(archive: Archive, subject: UUID) -> tuple[Change, ...]:
    """The history of a record: what each revision changed."""
    names = {person.id: person.name for person in archive.people()}
    before: dict[str, Any] = {}
    changes = []
    for revision in archive.history(subject):
        after = flat_fields(revision.record)
        fields = {
            name: (before.get(name), after.get(name))
            for name in dict.fromkeys([*before, *after])
            if before.get(name) != after.get(name)
        }
        by = names.get(revision.recorded_by) if revision.recorded_by else None
        changes.append(Change(revision.recorded_utc, by, revision.reason, fields if before else {}))
        before = after
    return tuple(changes)


def flat_fields(record: Any, prefix: str = "") -> dict[str, Any]:
    """Field names with dots; rows of a list by their name, or their number from 1. Nothing for what was withdrawn."""
    import msgspec

    if record is None:
        return {}
    plain = record if isinstance(record, dict) else msgspec.to_builtins(record)
    flat: dict[str, Any] = {}
    for name, value in plain.items():
        if isinstance(value, dict):
            flat |= flat_fields(value, f"{prefix}{name}.")
        elif isinstance(value, list | tuple) and value and isinstance(value[0], dict):
            for number, row in enumerate(value, start=1):
                flat |= flat_fields(row, f"{prefix}{name}.{row.get('name', row.get('key', number))}.")
        else:
            flat[f"{prefix}{name}"] = value
    return flat


def _set(tables: dict[str, Any], said: str) -> None:
    """``name=value`` into the tables of a machine file."""
    place, equals, value = said.partition("=")
    *path, last = place.strip().split(".")
    if not equals or not last:
        raise BadInput("keep.bad_change", said=said)
    if path and path[0] in ("support", "joint"):
        path = ["bed", *path]
    here: Any = tables
    for step in path:
        here = _row(here, step, said) if isinstance(here, list) else here.setdefault(step, {})
    if not isinstance(here, dict):
        raise BadInput("keep.bad_change", said=said)
    here[last] = value.strip() if last in _TEXTS else _value(value)


_TEXTS = ("name", "kind", "serial", "owner", "site_id", "row", "raise_turn", "load_felt", "axis")


def _row(rows: list[Any], name: str, said: str) -> Any:
    found = [row for row in rows if str(row.get("name", row.get("axis"))) == name]
    if len(found) != 1:
        known = ", ".join(str(row.get("name", row.get("axis"))) for row in rows)
        raise BadInput("keep.no_such_row", said=said, known=known or "-")
    return found[0]


def _value(said: str) -> Any:
    """A value as TOML has it; what is none is a text."""
    try:
        return tomllib.loads(f"value = {said}")["value"]
    except tomllib.TOMLDecodeError:
        return said.strip()
