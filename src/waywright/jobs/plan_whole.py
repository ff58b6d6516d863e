"""A test plan written as a whole, over the revision that the writer has seen: nothing of somebody else's is lost."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import Clock
from waywright.errors import ArchiveError, BadInput
from waywright.jobs.people import person_named, who
from waywright.jobs.plan_edit import check_burden, check_confidence, check_reference
from waywright.jobs.plans import agree, the_plan
from waywright.quantities import code
from waywright.verdict import tolerance
from waywright.visit import PlanItem, PlanTolerance, Visit, VisitPlan
from waywright.visit.conditions import MachineState


@dataclass(frozen=True, slots=True)
class WholePlan:
    """What a plan is to say. A tolerance marked as confirmed is confirmed by ``by``, now, unless it stood so already;
    what else a tolerance says about who confirmed it and when is not taken from here. Agreements are taken back."""

    title: str
    items: tuple[PlanItem, ...] = ()
    burden: str = "supplier"
    confidence: float = 0.95
    state: MachineState = field(default_factory=MachineState)
    remark: str | None = None
    by: str | None = None
    reason: str | None = None


def revision_of(archive: Archive, plan: VisitPlan) -> UUID:
    """The revision that a plan stands in."""
    return archive.history(plan.id)[-1].id


def write_plan(archive: Archive, visit: Visit, wanted: WholePlan, seen: UUID, clock: Clock) -> VisitPlan:
    """Keep a plan over the revision ``seen``.

    Raises ArchiveError where another revision holds by now, BadInput for a plan that cannot be, or where there is none.
    """
    before = the_plan(archive, visit)
    if revision_of(archive, before) != seen:
        raise ArchiveError("archive.written_meanwhile", id=before.title)
    _check(wanted)
    by = who(archive, wanted.by)
    after = replace(
        before,
        title=wanted.title,
        items=tuple(_with_confirmation(item, before.item(item.key), by, clock) for item in wanted.items),
        burden=wanted.burden,
        confidence=wanted.confidence,
        state=wanted.state,
        remark=wanted.remark,
        agreements=(),
    )
    archive.save(after, by=by, reason=wanted.reason, over=seen)
    return after


def agree_to_seen(archive: Archive, visit: Visit, seen: UUID, name: str, party: str, clock: Clock) -> VisitPlan:
    """Keep that somebody agrees to the revision ``seen``. Raises as :func:`write_plan` does."""
    plan = the_plan(archive, visit)
    if revision_of(archive, plan) != seen:
        raise ArchiveError("archive.written_meanwhile", id=plan.title)
    if not name.strip():
        raise BadInput("visit.nobody")
    return agree(archive, plan, person_named(archive, name), party, clock, seen)


def _check(wanted: WholePlan) -> None:
    check_burden(wanted.burden)
    check_confidence(wanted.confidence)
    for key, times in Counter(item.key for item in wanted.items).items():
        if times > 1:
            raise BadInput("plan.key_taken", key=key)
        if not key.strip():
            raise BadInput("plan.no_key")
    for item in wanted.items:
        check_reference(item.reference)
        if item.code is not None:
            code(item.code)
        if item.tolerance is not None:
            tolerance(item.tolerance.rule)


def _with_confirmation(item: PlanItem, before: PlanItem | None, by: UUID | None, clock: Clock) -> PlanItem:
    """The confirmation that stood stays where rule and source are the same; a new one is by whoever writes."""
    given, stood = item.tolerance, before.tolerance if before is not None else None
    if given is None:
        return item
    plain = PlanTolerance(given.rule, given.source or None, example=given.example)
    if given.confirmed and stood is not None and stood.confirmed and _says(stood) == _says(plain):
        return replace(item, tolerance=stood)
    if not given.confirmed:
        return replace(item, tolerance=plain)
    if plain.source is None:
        raise BadInput("plan.confirmed_without_source", key=item.key)
    sure = replace(plain, confirmed=True, confirmed_by=by, confirmed_utc=clock.utc(), example=False)
    return replace(item, tolerance=sure)


def _says(tolerance: PlanTolerance) -> tuple[str, str | None]:
    return tolerance.rule, tolerance.source
