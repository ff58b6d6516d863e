"""Instruments that speak to no computer: a frame level, an indicator, a square; kept as somebody says."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from uuid import UUID

from waywright.archive import Archive
from waywright.errors import BadInput
from waywright.instruments import read_instrument
from waywright.jobs.attach import attach
from waywright.jobs.instruments_kept import instrument_id, use_kept, with_certificates
from waywright.visit import Certificate, InstrumentUse, KeptInstrument


@dataclass(frozen=True, slots=True)
class InstrumentSaid:
    """What somebody says of an instrument; ``scan`` is the file of its certificate."""

    title: str
    serial: str
    certificate: Certificate | None = None
    scan: Path | None = None


def keep_instrument(archive: Archive, said: InstrumentSaid, by: UUID | None) -> KeptInstrument:
    """Keep an instrument, or a further certificate of one that is known by its serial number.

    Raises BadInput for dates that are none, a scan that cannot be read, or a scan without a certificate's number.
    """
    paper = said.certificate
    if said.scan is not None and paper is None:
        raise BadInput("keep.scan_without_number", file=str(said.scan))
    for day in (paper.issued, paper.due) if paper else ():
        _check_day(day)
    known = _known(archive, said.serial)
    name = known.name if known else re.sub(r"[^a-z0-9]+", "-", said.title.lower()).strip("-")
    identity = known.id if known else instrument_id(name, said.serial)
    if paper is not None and said.scan is not None:
        kept = attach(archive, identity, said.scan, "certificate", paper.number, by)
        paper = replace(paper, attachment_id=kept.id)
    papers = with_certificates(known.certificates if known else (), (paper,) if paper else ())
    made = KeptInstrument(identity, name, said.title, said.serial, papers)
    archive.save(made, by=by, reason=paper.number if paper else None)
    return made


def names_said(line: str) -> tuple[str, ...]:
    """Instruments written in one line, with semicolons between them."""
    return tuple(each.strip() for each in line.split(";") if each.strip())


def uses_said(
    archive: Archive, said: Iterable[str], by: UUID | None, *, files: bool = False
) -> tuple[InstrumentUse, ...]:
    """What a set-up or a sheet records of instruments named by serial number, or by a description file (``files``).

    Anything else stands as it was said, without a serial number: what is not known must not keep anybody from reading.
    """
    return tuple(_use(archive, each.strip(), by, files) for each in said if each.strip())


def _use(archive: Archive, said: str, by: UUID | None, files: bool) -> InstrumentUse:
    if files and said.endswith(".toml"):
        return use_kept(archive, read_instrument(Path(said)), by)
    known = _known(archive, said)
    if known is None:
        return InstrumentUse(said, said)
    return InstrumentUse(known.name, known.title, known.serial, instrument_id=known.id)


def _known(archive: Archive, serial: str) -> KeptInstrument | None:
    """The instrument of a serial number. Raises BadInput where two makers gave the same one."""
    found = [each for each in archive.every(KeptInstrument) if each.serial == serial]
    if len(found) > 1:
        raise BadInput("keep.which_instrument", serial=serial, found=", ".join(each.title for each in found))
    return found[0] if found else None


def _check_day(day: str | None) -> None:
    try:
        if day is not None:
            date.fromisoformat(day)
    except ValueError:
        raise BadInput("keep.bad_day", said=day) from None
