"""How plans, templates and procedures are shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields

from waywright.archive import Archive
from waywright.cli import show
from waywright.files.plan_template import PlanTemplate
from waywright.files.procedures import Procedure
from waywright.jobs.plans import missing
from waywright.visit import PlanItem, VisitPlan
from waywright.wording import text


def show_templates(found: Sequence[PlanTemplate], json: bool) -> None:
    """A table of templates."""
    heads = ("template", "for", "tests", "look it up in")
    show.listing(
        found,
        json,
        heads,
        lambda each: (each.name, ", ".join(each.kinds), str(len(each.test)), ", ".join(each.standards)),
        "",
    )


def show_procedure(found: Procedure, json: bool) -> None:
    """Steps, what goes wrong, cautions."""
    if json:
        show.print_json(found)
        return
    console = show.console()
    console.print(found.title, style="bold")
    for number, step in enumerate(found.steps, start=1):
        console.print(f"{number}. {step}")
    for heading, sentences in (("plan.goes_wrong", found.wrong), ("plan.mind", found.cautions)):
        console.print(f"\n{text(heading)}", style="bold")
        for sentence in sentences:
            console.print(f"– {sentence}")


def show_plan(archive: Archive, plan: VisitPlan, json: bool) -> None:
    """The tests, what binds and what does not, and who agreed."""
    reasons = {item.key: missing(plan, item) for item in plan.items}
    if json:
        show.print_json({"plan": plan, "why_not": reasons})
        return
    console = show.console()
    rows = show.table("test", "what", "tolerance", "source", "", title=plan.title)
    for column in rows.columns[1:]:
        column.justify = "left"
    for item in plan.items:
        why = reasons[item.key]
        state = text("plan.binds") if why is None else text("plan.for_information")
        rows.add_row(item.key, _what(item), item.tolerance.rule if item.tolerance else "-", _source(item), state)
    console.print(rows)
    console.print(text("plan.decision", burden=plan.burden, confidence=plan.confidence))
    _state(plan)
    for why in dict.fromkeys(reason for reason in reasons.values() if reason is not None):
        keys = ", ".join(key for key, reason in reasons.items() if reason == why)
        console.print(f"{keys}: {text(why)}")
    people = {person.id: person.name for person in archive.people()}
    for given in plan.agreements:
        name, day = people.get(given.person_id, "-"), f"{given.agreed_utc:%Y-%m-%d}"
        console.print(text("plan.agreed_by", name=name, party=given.party, day=day))
    if not plan.agreed:
        console.print(text("plan.nobody_agreed"))


def show_item(archive: Archive, plan: VisitPlan, item: PlanItem, json: bool) -> None:
    """All about one test, and which procedure says how it is done."""
    why = missing(plan, item)
    if json:
        show.print_json({"item": item, "why_not": why})
        return
    said, agreed = item.tolerance, plan.binds(item)
    people = {person.id: person.name for person in archive.people()}
    looked_up = people.get(said.confirmed_by) if said is not None and said.confirmed_by else None
    rows = {
        "what": _what(item), "axis": item.axis, "measured against": item.datum, "the point": item.functional_point,
        "reference line": item.reference, "tolerance": said.rule if said else None, "source": _source(item),
        "looked up by": looked_up, "standard": item.standard, "procedure": (item.procedure or "").partition(".")[2],
        "line": item.line, "remark": item.remark,
        "verdict": text("plan.binds" if agreed else "plan.for_information"),
    }  # fmt: skip
    show.facts({name: value or "-" for name, value in rows.items()})
    if why is not None:
        show.console().print(text(why))


def _state(plan: VisitPlan) -> None:
    """The state that the machine is to be measured in, where something was said about it."""
    said = {field.name: getattr(plan.state, field.name) for field in fields(plan.state)}
    words = ", ".join(f"{name.replace('_', ' ')}: {value}" for name, value in said.items() if value)
    if words:
        show.console().print(text("plan.state", words=words), markup=False)


def _what(item: PlanItem) -> str:
    codes = f" ({item.code})" if item.code else ""
    return f"{item.what}{codes}"


def _source(item: PlanItem) -> str:
    if item.tolerance is not None and item.tolerance.example:
        return text("plan.example")
    if item.tolerance is not None and item.tolerance.source:
        return item.tolerance.source
    return "-"
