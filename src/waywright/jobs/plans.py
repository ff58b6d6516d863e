"""Plans: the agreed test plan of a visit, from a draft to what binds both sides.

Whoever judges or reports asks :func:`plan_of` for the plan of a visit and :func:`planned` for the test that a quantity
of a line answers.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.files.plan_template import items_of, template_for
from waywright.machine import Machine
from waywright.verdict import tolerance
from waywright.visit import Line, Person, PlanAgreement, PlanItem, PlanTolerance, Visit, VisitPlan

PARTIES = ("customer", "technician", "maker")


@dataclass(frozen=True, slots=True)
class Planned:
    """A test of a plan, and whether a verdict on it binds; ``why`` names what is missing (a key of ``wording``)."""

    plan: VisitPlan
    item: PlanItem
    binds: bool
    why: str | None


def plan_of(archive: Archive, visit_id: UUID) -> VisitPlan | None:
    """The plan of a visit as it stands, or None; of several the one recorded last."""
    found = archive.every(VisitPlan, visit_id)
    return found[-1] if found else None


def planned(archive: Archive, line: Line, quantity: str) -> Planned | None:
    """The test that a quantity of a line answers, or None where the visit has no plan or the plan no such test."""
    plan = plan_of(archive, line.visit_id)
    item = None if plan is None else item_for(plan, line, quantity)
    if plan is None or item is None:
        return None
    return Planned(plan, item, plan.binds(item), missing(plan, item))


def item_for(plan: VisitPlan, line: Line, quantity: str) -> PlanItem | None:
    """The test of a plan for a quantity (ISO code) of a line: one that names the line goes before one for any line."""
    fitting = [item for item in plan.items if item.code == quantity and item.line in (None, line.name)]
    return next((item for item in fitting if item.line is not None), fitting[0] if fitting else None)


def missing(plan: VisitPlan, item: PlanItem) -> str | None:
    """Why a verdict on a test is for information only, as a key of ``wording``; None where it binds."""
    if item.tolerance is None:
        return "plan.no_tolerance"
    if item.tolerance.example:
        return "plan.only_an_example"
    if item.tolerance.source is None:
        return "plan.no_source"
    if not item.tolerance.confirmed:
        return "plan.not_confirmed"
    return None if plan.agreed else "plan.not_agreed"


def with_tolerance(
    plan: VisitPlan, key: str, rule: str, source: str | None, confirmed_by: Person | None, clock: Clock
) -> VisitPlan:
    """The plan with a tolerance for one test. Raises BadInput for a rule that cannot be read, or a missing source.

    ``confirmed_by`` is who looked it up in the source.
    """
    item = the_item(plan, key)
    tolerance(rule)
    if confirmed_by is not None and not source:
        raise BadInput("plan.confirmed_without_source", key=key)
    who = None if confirmed_by is None else confirmed_by.id
    when = None if confirmed_by is None else clock.utc()
    stated = PlanTolerance(rule, source or None, confirmed_by is not None, who, when)
    return plan.changed(replace(item, tolerance=stated))


def with_fields(plan: VisitPlan, key: str, changes: dict[str, Any]) -> VisitPlan:
    """The plan with other words in one test (what, datum, functional_point, reference, line ...)."""
    return plan.changed(replace(the_item(plan, key), **changes))


def agree(
    archive: Archive, plan: VisitPlan, person: Person, party: str, clock: Clock, seen: UUID | None = None
) -> VisitPlan:
    """Keep that somebody agrees to the plan as it stands.

    Raises BadInput for a plan without tests and for an unknown side, ArchiveError where another revision than ``seen``
    holds by now.
    """
    if not plan.items:
        raise BadInput("plan.nothing_to_agree", title=plan.title)
    if party not in PARTIES:
        raise BadInput("plan.unknown_party", party=party[:40], known=", ".join(PARTIES))
    given = PlanAgreement(person.id, party, clock.utc())
    agreed = replace(plan, agreements=(*plan.agreements, given))
    archive.save(agreed, by=person.id, reason="agreed", over=seen)
    return agreed


def draft(visit_id: UUID, title: str, items: tuple[PlanItem, ...] = (), template: str | None = None) -> VisitPlan:
    """A plan that nobody has agreed to yet."""
    return VisitPlan(new_id(), visit_id, title, items, template=template)


def begin_plan(archive: Archive, visit: Visit, template: str | None, title: str | None, by: UUID | None) -> VisitPlan:
    """Keep a draft for a visit, by default from the template that fits its machine; without one it has no tests.

    Raises BadInput where the visit has a plan already.
    """
    if plan_of(archive, visit.id) is not None:
        raise BadInput("plan.there_already")
    machine = archive.load(Machine, visit.machine_id)
    name = template if template is not None else template_for(machine.kind)
    items = items_of(name, machine.axes) if name else ()
    plan = draft(visit.id, title or machine.name, items, name)
    archive.save(plan, by=by, reason="drafted")
    return plan


def the_plan(archive: Archive, visit: Visit) -> VisitPlan:
    """The plan of a visit. Raises BadInput where there is none."""
    found = plan_of(archive, visit.id)
    if found is None:
        raise BadInput("plan.none_yet")
    return found


def the_item(plan: VisitPlan, key: str) -> PlanItem:
    """The test of a short name. Raises BadInput where the plan has none of it."""
    found = plan.item(key)
    if found is None:
        raise BadInput("plan.no_such_test", key=key, known=", ".join(item.key for item in plan.items) or "-")
    return found


def added(plan: VisitPlan, key: str, what: str) -> VisitPlan:
    """The plan with one more test. Raises BadInput for a key that it has already."""
    if plan.item(key) is not None:
        raise BadInput("plan.key_taken", key=key)
    return plan.changed(PlanItem(key, what))
