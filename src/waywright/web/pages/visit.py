"""A visit: begun with what the report needs, its plan agreed before the first reading, its lines."""

from __future__ import annotations

from uuid import UUID

from fastapi import Response
from nicegui import ui

from waywright.clocks import SystemClock
from waywright.drawing import WayScene
from waywright.errors import BadInput, WaywrightError
from waywright.files.plan_template import template_names
from waywright.jobs.plan_edit import ItemEdit, edit_plan
from waywright.jobs.plan_whole import agree_to_seen, revision_of
from waywright.jobs.plans import PARTIES, begin_plan, missing, plan_of
from waywright.jobs.visits import new_visit, visit_at
from waywright.machine import Machine
from waywright.visit import PlanItem, Visit, VisitPlan
from waywright.web.desk import Desk
from waywright.web.display import as_now
from waywright.web.elements import Press, To, Words, box, field, note, tried
from waywright.web.frame import WayDrawing, head
from waywright.web.pages.start import line_row, sheet_row
from waywright.web.plain_page import nothing_here
from waywright.web.visit_file import visit_file_press
from waywright.wording import text


def register(desk: Desk) -> None:
    """The pages at ``/visit`` and ``/visit/<id>``."""

    @ui.page("/visit")
    def begin(machine: str = "") -> None:
        head(text("visit.new"), here="begin")
        with box("page one"):
            Words(text("visit.new"), tag="h1")
            with box("sheet form", "section"):
                _begin(desk, machine)

    @ui.page("/visit/{identity}")
    def visit(identity: str) -> Response | None:
        try:
            found = desk.archive.load(Visit, UUID(identity))
        except (WaywrightError, ValueError) as error:
            return nothing_here(error if isinstance(error, WaywrightError) else BadInput("visit.unknown"))
        machine = desk.archive.load(Machine, found.machine_id)
        head(text("visit.title"), machine=machine, here="visit")
        VisitPage(desk, machine, found)
        return None


def _begin(desk: Desk, wanted: str) -> None:
    """What the report needs: machine, purpose, who; a plan to start from. Everything may be added later."""
    Words(text("visit.new_words"), "mute", "p")
    machines = {str(machine.id): f"{machine.kind} {machine.name}".strip() for machine in desk.archive.machines()}
    if not machines:
        note(text("visit.no_machine"))
        To(text("web.new_machine"), "/machine", "press next")
        return
    given = ui.select(machines, label=text("web.machine"), value=wanted if wanted in machines else next(iter(machines)))
    given.props("outlined square stack-label")
    purpose, technician = field(text("web.fact.purpose")), field(text("web.fact.technician"))
    templates = {"": text("visit.plan_that_fits"), **{name: name for name in template_names()}}
    template = ui.select(templates, label=text("visit.template"), value="").props("outlined square stack-label")
    problem = note("", "bad")
    problem.set_visibility(False)

    def start() -> None:
        machine = desk.archive.load(Machine, UUID(str(given.value)))
        who = str(technician.value or "").strip() or None
        made = new_visit(desk.archive, machine, SystemClock(), str(purpose.value or "").strip() or None, who)
        begin_plan(desk.archive, made, str(template.value) or None, None, made.technician_id)
        desk.touched()
        ui.navigate.to(f"/visit/{made.id}")

    Press(text("visit.begin"), tried(start, problem), "next")


class VisitPage:
    """One open page."""

    def __init__(self, desk: Desk, machine: Machine, visit: Visit) -> None:
        self._desk, self._machine, self._visit = desk, machine, visit
        drawing = WayDrawing(machine, lambda support, at: None)
        drawing.show(WayScene())
        with box("page wide-left"):
            self._plan_place = box("stack")
            with box("stack"):
                self._lines_place = box("stack")
                visit_file_press(desk, visit.id, "quiet")  # outside of what is drawn anew
        self._plan: VisitPlan | None = None
        self._show("phase")
        desk.changed.subscribe(as_now(self._show))

    def _show(self, what: str) -> None:
        plan = plan_of(self._desk.archive, self._visit.id)
        if what == "phase" or plan != self._plan:
            self._plan = plan
            self._plan_place.clear()
            with self._plan_place:
                self._show_plan(plan)
        self._lines_place.clear()
        with self._lines_place:
            self._show_lines()

    # ------------------------------------------------------------------------------------- the plan

    def _show_plan(self, plan: VisitPlan | None) -> None:
        with box("row apart"):
            Words(text("visit.plan"), tag="h1")
            Words(text("visit.agreed" if plan is not None and plan.agreed else "visit.draft"), "mute")
        if plan is None:
            self._no_plan()
            return
        for item in plan.items:
            with box("sheet", "section"):
                self._item(plan, item)
        self._add()
        if plan.items:
            self._agree(plan)

    def _no_plan(self) -> None:
        with box("sheet", "section"):
            Words(text("visit.no_plan"), "mute", "p")
            problem = note("", "bad")
            problem.set_visibility(False)

            def draft() -> None:
                begin_plan(self._desk.archive, self._visit, None, None, self._visit.technician_id)
                self._desk.touched()

            Press(text("visit.draft_plan"), tried(draft, problem), "next")

    def _item(self, plan: VisitPlan, item: PlanItem) -> None:
        with box("row apart"):
            Words(f"{item.what} ({item.code})" if item.code else item.what, tag="h3")
            To(text("visit.measure"), f"/begin?visit={self._visit.id}&item={item.key}", "press quiet")
        rule = item.tolerance.rule if item.tolerance is not None else text("visit.no_rule")
        lacks = missing(plan, item)
        Words(f"{rule} · {text(f'web.reference.{item.reference}')}", "small")
        Words(text("visit.binds") if lacks is None else text(lacks), "small inside" if lacks is None else "small mute")
        with box("passes", "details"):
            Words(text("visit.change"), "small", "summary")
            self._change(item)

    def _change(self, item: PlanItem) -> None:
        before = item.tolerance
        with box("row"):
            rule = field(text("judge.rule"), before.rule if before is not None and not before.example else "", "rule")
            source = field(text("visit.source"), (before.source or "") if before is not None else "")
            looked_up = field(text("visit.confirmed_by"))
        problem = note("", "bad")
        problem.set_visibility(False)

        def keep(remove: bool = False) -> None:
            edit = ItemEdit(
                item.key, rule=_said(rule), source=_said(source), confirmed_by=_said(looked_up), remove=remove
            ) if not remove else ItemEdit(item.key, remove=True)  # fmt: skip
            edit_plan(self._desk.archive, str(self._visit.id), edit, None)
            self._desk.touched()

        with box("row"):
            Press(text("visit.keep"), tried(keep, problem))
            Press(text("visit.remove"), tried(lambda: keep(remove=True), problem), "quiet")

    def _add(self) -> None:
        with box("passes", "details"):
            Words(text("visit.add"), "small", "summary")
            with box("row"):
                key, what = field(text("visit.key")), field(text("visit.what"))
            problem = note("", "bad")
            problem.set_visibility(False)

            def add() -> None:
                edit = ItemEdit(str(key.value or "").strip(), fields={"what": str(what.value or "").strip()})
                edit_plan(self._desk.archive, str(self._visit.id), edit, None)
                self._desk.touched()

            Press(text("visit.keep"), tried(add, problem))

    def _agree(self, plan: VisitPlan) -> None:
        seen = revision_of(self._desk.archive, plan)
        with box("sheet", "section"):
            Words(text("visit.agreements"), tag="h3")
            names = {person.id: person.name for person in self._desk.archive.people()}
            for each in plan.agreements:
                facts = {"name": names.get(each.person_id, "–"), "party": text(f"visit.party_{each.party}")}
                Words(text("visit.agreement", time=f"{each.agreed_utc:%Y-%m-%d %H:%M}", **facts), "small", "p")
            with box("row"):
                who = field(text("visit.who"))
                parties = {party: text(f"visit.party_{party}") for party in PARTIES}
                party = ui.select(parties, label=text("visit.party"), value="customer")
                party.props("outlined square stack-label").classes("short")
            problem = note("", "bad")
            problem.set_visibility(False)

            def agreed() -> None:
                name = str(who.value or "")
                agree_to_seen(self._desk.archive, self._visit, seen, name, str(party.value), SystemClock())
                self._desk.touched()

            Press(text("visit.agree"), tried(agreed, problem))

    # ------------------------------------------------------------------------------------- the lines

    def _show_lines(self) -> None:
        known = visit_at(self._desk.archive, self._visit)
        with box("sheet", "section"):
            Words(text("visit.lines"), tag="h2")
            facts = [f"{self._visit.began_utc:%Y-%m-%d %H:%M} UTC", known.technician or text("web.technician_unknown")]
            Words(" · ".join([*facts, self._visit.purpose or text("visit.purpose_unknown")]), "small mute", "p")
            for line in known.lines:
                line_row(line, self._desk)
            for sheet in known.sheets:
                sheet_row(sheet)
            if not known.lines and not known.sheets:
                Words(text("web.nothing_taken"), "mute", "p")
            To(text("visit.another_line"), f"/begin?visit={self._visit.id}", "press")


def _said(written: ui.input) -> str | None:
    return str(written.value or "").strip() or None
