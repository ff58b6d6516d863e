"""Changing the test plan of a visit, each change an event with who, when and why."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from waywright.archive import Archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.jobs.people import person_named, who
from waywright.jobs.plans import added, the_plan, with_fields, with_tolerance
from waywright.jobs.visits import find_visit
from waywright.quantities import code
from waywright.verdict import Burden
from waywright.visit import VisitPlan

_REFERENCES = ("end-points", "least-squares", "minimum-zone")


@dataclass(frozen=True, slots=True)
class ItemEdit:
    """What is to change about one test: words by field name, the tolerance, or that it goes."""

    key: str
    fields: dict[str, str] = field(default_factory=dict)
    rule: str | None = None
    source: str | None = None
    confirmed_by: str | None = None
    remove: bool = False
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class PlanEdit:
    """What is to change about the plan as a whole: decision rule, state of the machine by field name."""

    burden: str | None = None
    confidence: float | None = None
    state: dict[str, str] = field(default_factory=dict)
    reason: str | None = None


def edit_plan(archive: Archive, visit: str | None, edit: ItemEdit, by: str | None) -> VisitPlan:
    """Change, add or remove a test. Raises BadInput for what cannot be."""
    plan = the_plan(archive, find_visit(archive, visit))
    after = _edited(archive, plan, edit)
    archive.save(after, by=who(archive, by), reason=edit.reason)
    return after


def edit_rules(archive: Archive, visit: str | None, edit: PlanEdit, by: str | None) -> VisitPlan:
    """Change the decision rule or the state of the machine; agreements are taken back."""
    plan = the_plan(archive, find_visit(archive, visit))
    if edit.burden is not None:
        check_burden(edit.burden)
    if edit.confidence is not None:
        check_confidence(edit.confidence)
    after = replace(
        plan,
        burden=edit.burden or plan.burden,
        confidence=edit.confidence or plan.confidence,
        state=replace(plan.state, **edit.state),
        agreements=(),
    )
    archive.save(after, by=who(archive, by), reason=edit.reason)
    return after


def check_burden(burden: str) -> None:
    """Raise BadInput for a burden of proof that nobody knows."""
    if burden not in list(Burden):
        raise BadInput("verdict.unknown_burden", burden=burden, known=", ".join(Burden))


def check_confidence(confidence: float) -> None:
    """Raise BadInput for what is no probability to decide at."""
    if not 0.5 < confidence < 1.0:
        raise BadInput("plan.bad_confidence", confidence=confidence)


def check_reference(reference: str) -> None:
    """Raise BadInput for a reference line that a plan cannot name."""
    if reference not in _REFERENCES:
        raise BadInput("plan.bad_reference", reference=reference, known=", ".join(_REFERENCES))


def _edited(archive: Archive, plan: VisitPlan, edit: ItemEdit) -> VisitPlan:
    if edit.remove:
        with_fields(plan, edit.key, {})  # there is such a test
        return plan.without(edit.key)
    if not edit.fields and edit.rule is None and edit.source is None and edit.confirmed_by is None:
        raise BadInput("plan.nothing_said")
    _check(edit.fields)
    if plan.item(edit.key) is None and "what" in edit.fields:
        plan = added(plan, edit.key, edit.fields["what"])
    if edit.fields:
        plan = with_fields(plan, edit.key, dict(edit.fields))
    if edit.rule is None and edit.source is None and edit.confirmed_by is None:
        return plan
    return _with_tolerance(archive, plan, edit)


def _check(fields: dict[str, str]) -> None:
    if "code" in fields:
        code(fields["code"])
    check_reference(fields.get("reference", _REFERENCES[0]))


def _with_tolerance(archive: Archive, plan: VisitPlan, edit: ItemEdit) -> VisitPlan:
    """Rule and source that were not named stay; another rule has to be confirmed again."""
    item = plan.item(edit.key)
    before = item.tolerance if item is not None else None
    rule = edit.rule or (before.rule if before else None)
    if rule is None:
        raise BadInput("plan.no_rule", key=edit.key)
    source = edit.source or (before.source if before else None)
    person = None if edit.confirmed_by is None else person_named(archive, edit.confirmed_by)
    return with_tolerance(plan, edit.key, rule, source, person, SystemClock())
