"""The test plan of a visit: what binds, what is for information only, and that no change is lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from archive_samples import Stay, stay
from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.jobs import plans
from waywright.visit import PlanItem, PlanTolerance, VisitPlan

CLOCK = SystemClock()
HEIGHT = PlanItem("height", "Height of the carriage along the bed", code="EYZ", axis="Z", datum="bed")
SIDE = PlanItem("side", "Side of the carriage along the bed", code="EXZ", axis="Z", line="carriage Z")


@pytest.fixture
def at(tmp_path: Path) -> Iterator[tuple[Archive, Stay, VisitPlan]]:
    made = stay()
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        for record in made.all():
            archive.save(record)
        plan = plans.draft(made.visit.id, "acceptance", (HEIGHT, SIDE))
        archive.save(plan, reason="drafted")
        yield archive, made, plan


def test_a_plan_binds_only_when_the_tolerance_is_confirmed_and_the_plan_agreed(
    at: tuple[Archive, Stay, VisitPlan],
) -> None:
    archive, made, plan = at
    reasons = [plans.missing(plan, plan.items[0])]
    rule = "0.02 up to 1000, +0.01 per further 1000 or part, max 0.05"
    example = PlanItem("height", HEIGHT.what, code="EYZ", tolerance=PlanTolerance(rule, "template", example=True))
    reasons.append(plans.missing(plan.changed(example), example))
    steps = [(None, None), ("contract 12, sheet 3", None), ("contract 12, sheet 3", made.person)]
    for source, who in steps:
        plan = plans.with_tolerance(plan, "height", rule, source, who, CLOCK)
        reasons.append(plans.missing(plan, plan.items[0]))
    plan = plans.agree(archive, plan, made.person, "customer", CLOCK)
    reasons.append(plans.missing(plan, plan.items[0]))
    assert reasons == [
        "plan.no_tolerance",
        "plan.only_an_example",
        "plan.no_source",
        "plan.not_confirmed",
        "plan.not_agreed",
        None,
    ]
    found = plans.planned(archive, made.line, "EYZ")
    assert found is not None
    assert found.binds
    assert found.plan == plan
    other = plans.planned(archive, made.line, "EXZ")
    assert other is not None
    assert not other.binds


def test_changing_an_agreed_plan_takes_the_agreement_back_and_history_keeps_it(
    at: tuple[Archive, Stay, VisitPlan],
) -> None:
    archive, made, plan = at
    agreed = plans.agree(archive, plan, made.person, "customer", CLOCK)
    changed = plans.with_fields(agreed, "side", {"datum": "tailstock end"})
    archive.save(changed, by=made.person.id, reason="datum was wrong")
    assert not changed.agreed
    kept = [revision.record.agreed for revision in archive.history(plan.id)]
    assert kept == [False, True, False]
    assert plans.plan_of(archive, made.visit.id) == changed


def test_a_test_that_names_the_line_goes_before_one_for_any_line() -> None:
    line = stay().line
    anywhere = PlanItem("any", "Side", code="EXZ")
    plan = plans.draft(line.visit_id, "two", (anywhere, SIDE))
    assert plans.item_for(plan, line, "EXZ") == SIDE
    assert plans.item_for(plan.without("side"), line, "EXZ") == anywhere
    assert plans.item_for(plan, line, "EYZ") is None


def test_refusals(at: tuple[Archive, Stay, VisitPlan]) -> None:
    archive, made, plan = at
    with pytest.raises(BadInput, match="height, side"):
        plans.with_fields(plan, "roll", {})
    with pytest.raises(BadInput, match="source"):
        plans.with_tolerance(plan, "height", "0.02", None, made.person, CLOCK)
    with pytest.raises(BadInput, match="two hundredths"):
        plans.with_tolerance(plan, "height", "about two hundredths", "x", None, CLOCK)
    with pytest.raises(BadInput, match="no tests yet"):
        plans.agree(archive, plans.draft(made.visit.id, "empty"), made.person, "customer", CLOCK)
