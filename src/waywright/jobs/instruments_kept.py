"""Instruments of the house: kept from the descriptions that were used, by serial number, with their certificates."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import NAMESPACE_URL, UUID, uuid5

from waywright.archive import Archive
from waywright.instruments import Instrument
from waywright.visit import Certificate, InstrumentUse, KeptInstrument, SetUp
from waywright.visit.sheet import MeasuringSheet

_UNITS = ("um", "um_per_m", "mm", "degc")


@dataclass(frozen=True, slots=True)
class InstrumentRow:
    """An instrument in a list: who kept it last, when and why, and in how many set-ups and sheets."""

    instrument: KeptInstrument
    recorded_utc: datetime
    by: str | None
    reason: str | None
    set_ups: int


def use_kept(archive: Archive, described: Instrument, by: UUID | None) -> InstrumentUse:
    """What a set-up records about an instrument; one with a serial number is kept, and the use refers to it.

    Without a serial number two of a kind cannot be told apart: such a one stands in the set-up only.
    """
    use = described.use()
    if not use.serial:
        return use
    identity = instrument_id(use.name, use.serial)
    known = next((each for each in archive.every(KeptInstrument) if each.id == identity), None)
    papers = with_certificates(known.certificates if known else (), _certificates(described))
    now = KeptInstrument(identity, use.name, use.title, use.serial, papers)
    if now != known:
        archive.save(now, by=by, reason=use.certificate or described.sha256)
    return replace(use, instrument_id=identity)


def instrument_id(name: str, serial: str) -> UUID:
    """The same on every computer, so that two laptops with one instrument agree about it."""
    return uuid5(NAMESPACE_URL, f"instrument:{name}:{serial}")


@dataclass(frozen=True, slots=True)
class InstrumentAtVisit:
    """An instrument of a visit with the certificate that held then (ISO dates); ``overdue`` says it was past due."""

    title: str
    serial: str | None
    certificate: str | None
    due: str | None
    overdue: bool
    instrument_id: UUID | None


def instruments_at(archive: Archive, uses: Iterable[InstrumentUse], day: str) -> tuple[InstrumentAtVisit, ...]:
    """Each instrument once, in the order used; one whose set-up names no certificate has that kept for the day."""
    kept = {each.id: each for each in archive.every(KeptInstrument)}
    return tuple(
        dict.fromkeys(_at(use, kept.get(use.instrument_id) if use.instrument_id else None, day) for use in uses)
    )


def _at(use: InstrumentUse, kept: KeptInstrument | None, day: str) -> InstrumentAtVisit:
    held = kept.certificate_on(day) if kept else None
    number, due = use.certificate, use.certificate_due
    if number is None and held is not None:
        number, due = held.number, held.due
    return InstrumentAtVisit(use.title, use.serial, number, due, due is not None and due < day, use.instrument_id)


def instrument_rows(archive: Archive) -> tuple[InstrumentRow, ...]:
    """Every instrument of the archive, by name and serial number."""
    names = {person.id: person.name for person in archive.people()}
    holders: tuple[SetUp | MeasuringSheet, ...] = (*archive.every(SetUp), *archive.every(MeasuringSheet))
    uses = [use.instrument_id for holder in holders for use in holder.instruments]
    found = []
    for each in sorted(archive.every(KeptInstrument), key=lambda item: (item.name, item.serial or "")):
        last = archive.history(each.id)[-1]
        by = names.get(last.recorded_by) if last.recorded_by else None
        found.append(InstrumentRow(each, last.recorded_utc, by, last.reason, uses.count(each.id)))
    return tuple(found)


def _certificates(described: Instrument) -> tuple[Certificate, ...]:
    """One for every uncertainty that a numbered certificate states, in its unit."""
    paper = described.description.certificate
    if paper is None or paper.number is None:
        return ()
    issued = paper.date.isoformat() if paper.date else None
    due = paper.due.isoformat() if paper.due else None
    plain = Certificate(paper.number, issued, due)
    stated = [(unit, getattr(paper, f"expanded_uncertainty_{unit}")) for unit in _UNITS]
    return tuple(
        replace(plain, unit=unit, expanded_uncertainty=value, coverage_factor=paper.k)
        for unit, value in stated
        if value is not None
    ) or (plain,)


def with_certificates(known: tuple[Certificate, ...], fresh: tuple[Certificate, ...]) -> tuple[Certificate, ...]:
    """Every certificate there has been; what a description says again in other words takes the place of the old."""
    held = {(each.number, each.unit): each for each in known}
    for each in fresh:
        old = held.get((each.number, each.unit), each)
        held[each.number, each.unit] = replace(
            each, issuer=each.issuer or old.issuer, attachment_id=each.attachment_id or old.attachment_id
        )
    return tuple(held.values())
