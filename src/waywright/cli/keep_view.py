"""How machines, visits and attached files are shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from waywright.cli import show
from waywright.cli.options import tail
from waywright.jobs.instruments_kept import InstrumentAtVisit, InstrumentRow
from waywright.jobs.machines import Change, MachineShown
from waywright.jobs.visits import LineAtVisit, SheetAtVisit, VisitPage, VisitShown
from waywright.machine import Machine
from waywright.visit import Attachment, InstrumentUse, IssuedReport, KeptInstrument, Person
from waywright.wording import text

T = TypeVar("T")


def show_machines(machines: Sequence[Machine], json: bool) -> None:
    """A table of machines."""
    heads = ("machine", "kind", "serial", "owner", "id")
    show.listing(
        machines,
        json,
        heads,
        lambda each: (each.name, each.kind, _said(each.serial), _said(each.owner), tail(each.id)),
        text("keep.empty"),
    )


def show_machine(found: MachineShown, json: bool) -> None:
    """What is known about a machine, and its history."""
    if json:
        show.print_json(found)
        return
    machine, bed = found.machine, found.machine.bed
    last = f"{found.last_visit_utc:%Y-%m-%d}" if found.last_visit_utc else "-"
    rows = {
        "machine": machine.name,
        "kind": machine.kind,
        "serial": _said(machine.serial),
        "owner": _said(machine.owner),
        "site": _said(found.site.name if found.site else None),
        "axes": f"{machine.axes.up} up, {machine.axes.operator} towards the operator",
        "bed": "-" if bed is None else f"{bed.length_mm:g} mm on {len(bed.supports)} supports",
        "marks": ", ".join(f"{mark.name} at {mark.bed_mm:g} mm" for mark in machine.marks) or "-",
        "visits": f"{found.visits}, the last {last}",
        "id": str(machine.id),
    }
    show.facts(rows)
    _attachments(found.attachments)
    _changes(found.changes)


def show_visits(page: VisitPage, json: bool) -> None:
    """A page of visits."""
    if json:
        show.print_json(page)
        return
    rows = show.table("machine", "began", "purpose", "technician", "lines", "sheets", "id")
    for row in page.visits:
        visit = row.visit
        began, said = f"{visit.began_utc:%Y-%m-%d %H:%M}", _who(row.technician)
        counts = (str(row.lines), str(row.sheets))
        rows.add_row(row.machine, began, _said(visit.purpose), said, *counts, tail(visit.id))
    show.console().print(rows if page.visits else text("keep.empty"))
    if page.after is not None:
        show.console().print(text("keep.more", after=page.after))


def show_visit(found: VisitShown, json: bool) -> None:
    """A visit with its lines."""
    if json:
        show.print_json(found)
        return
    visit, plan = found.at.visit, found.at.plan
    show.facts(
        {
            "machine": found.machine.name,
            "began": f"{visit.began_utc:%Y-%m-%d %H:%M} UTC",
            "purpose": _said(visit.purpose),
            "technician": _who(found.at.technician),
            "plan": "-" if plan is None else f"{plan.title}: {len(plan.items)} tests",
            "id": str(visit.id),
        }
    )
    _lines(found.at.lines)
    _sheets(found.at.sheets)
    _instruments(found.instruments)
    _attachments(found.attachments)
    _reports(found.reports)


def show_instruments(found: Sequence[InstrumentRow], json: bool) -> None:
    """A table of instruments: certificate, how often used, who kept it last and when."""

    def row(each: InstrumentRow) -> tuple[str, ...]:
        kept, when = each.instrument, f"{each.recorded_utc:%Y-%m-%d %H:%M}"
        return (kept.title, _said(kept.serial), *_certificate(kept), str(each.set_ups), when, _who(each.by))

    heads = ("instrument", "serial", "certificate", "due", "used", "kept", "by")
    show.listing(found, json, heads, row, text("keep.no_instruments"))


def show_people(found: Sequence[Person], json: bool) -> None:
    """A table of people."""
    heads = ("name", "role", "id")
    show.listing(
        found,
        json,
        heads,
        lambda each: (_who(each.name), each.role or "-", tail(each.id)),
        text("keep.empty"),
    )


def show_attached(made: Attachment, json: bool) -> None:
    """A file that was just kept."""
    show.answer(made, text("keep.attached", name=made.name, size_kb=made.size / 1000, id=tail(made.id)), json)


def _said(value: str | None) -> str:
    return value or text("keep.not_recorded")


def _who(name: str | None) -> str:
    """A person's name; nobody recorded and a name that was taken out are not the same."""
    return "-" if name is None else name or text("keep.blank_name")


def _some(found: Sequence[T], headings: Sequence[str], row: Callable[[T], Sequence[str]]) -> None:
    """A table; nothing where there is nothing."""
    if found:
        show.listing(found, False, headings, row, "")


def _lines(lines: Sequence[LineAtVisit]) -> None:
    def row(each: LineAtVisit) -> tuple[str, ...]:
        line = each.line
        return line.name, line.axis, line.state, str(len(each.passes)), str(each.stations), tail(line.id)

    _some(lines, ("line", "axis", "state", "passes", "stations", "id"), row)


def _attachments(files: Sequence[Attachment]) -> None:
    heads = ("file", "what", "caption", "kB", "id")
    _some(
        files, heads, lambda each: (each.name, each.role, each.caption or "", f"{each.size / 1000:.0f}", tail(each.id))
    )


def _sheets(sheets: Sequence[SheetAtVisit]) -> None:
    def row(each: SheetAtVisit) -> tuple[str, ...]:
        return each.sheet.title, text("keep.filled", filled=each.filled, places=each.places), tail(each.sheet.id)

    _some(sheets, ("sheet", "filled", "id"), row)


def show_uses(uses: Sequence[InstrumentUse]) -> None:
    """What was recorded of the instruments named: a serial number that is not known stands out here."""
    for use in uses:
        show.console().print(text("keep.reads", title=use.title, serial=_said(use.serial)), markup=False)


def _instruments(instruments: Sequence[InstrumentAtVisit]) -> None:
    def row(each: InstrumentAtVisit) -> tuple[str, ...]:
        due = text("keep.overdue", due=each.due) if each.overdue else each.due or "-"
        return each.title, _said(each.serial), _said(each.certificate), due

    _some(instruments, ("instrument", "serial", "certificate", "due"), row)


def _certificate(kept: KeptInstrument) -> tuple[str, str]:
    """Number and due date of the one issued last."""
    last = kept.certificate_on("9999-12-31")
    return (last.number, last.due or "-") if last else (text("keep.not_recorded"), "-")


def _reports(reports: Sequence[IssuedReport]) -> None:
    def row(each: IssuedReport) -> tuple[str, ...]:
        facts, when = each.facts, f"{each.issued_utc:%Y-%m-%d %H:%M}"
        number, signatures = _said(facts.get("number")), str(facts.get("signatures", "-"))
        file = "-" if each.attachment_id is None else tail(each.attachment_id)
        return number, str(facts.get("revision", "-")), when, signatures, each.sha256[:12], file

    _some(reports, ("report", "revision", "written", "signatures", "sha256", "kept file"), row)


def _changes(changes: Sequence[Change]) -> None:
    """Who changed what, when and why; the first entry made the record."""
    rows = show.table("changed", "by", "why", "what")
    for column in rows.columns[1:]:
        column.justify = "left"
    for change in changes:
        what = "; ".join(f"{name}: {_short(old)} → {_short(new)}" for name, (old, new) in change.fields.items())
        rows.add_row(f"{change.recorded_utc:%Y-%m-%d %H:%M}", _who(change.by), change.reason or "-", what)
    show.console().print(rows)


def _short(value: Any) -> str:
    return "-" if value is None else str(value)
