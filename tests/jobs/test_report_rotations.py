"""A rotation of a line in its report: uncertainty and verdict where the agreed plan has a rule for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
from made_line import begin_line, take_pass

from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock, new_id
from waywright.files.budget_file import ready_budget
from waywright.jobs import plans
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.jobs.report_judged import FOR_ROTATIONS, read_order
from waywright.jobs.report_line import line_content
from waywright.jobs.report_order import ReportOrder
from waywright.jobs.report_turned import judges_rotations
from waywright.quantities import Direction, code
from waywright.report import QuantityContent
from waywright.visit import Column, Person, PlanItem, VisitPlan

ROLL_UM_PER_M = 50.0
"""The carriage turns by that over the 5 m of the line."""


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Archive]:
    with open_archive(tmp_path_factory.mktemp("rotations") / "a.sqlite", create=True) as opened:
        yield opened


@pytest.fixture(scope="module")
def line(archive: Archive, tmp_path_factory: pytest.TempPathFactory) -> MeasuredLine:
    """Two passes with a roll beside height and side."""
    begun = begin_line(archive, tmp_path_factory.mktemp("files"))
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2, offset_um=1.0)
    measured = measured_line(archive, begun.line)
    scatter = np.random.default_rng(3)
    passes = []
    for single in measured.passes:
        place = single.profile.position_mm
        roll = ROLL_UM_PER_M * place / 5000.0 + scatter.normal(0.0, 0.5, place.size)
        column = Column(
            code("ECZ"), roll, np.full_like(roll, 0.5), np.full_like(roll, 100), Direction.OPERATOR_SIDE_UP, -1
        )
        profile = replace(single.profile, columns=(*single.profile.columns, column))
        passes.append(replace(single, profile=profile))
    return replace(measured, passes=tuple(passes))


def plan_with(line: MeasuredLine, rule: str) -> VisitPlan:
    person = Person(new_id(), "Mara Quill (invented)")
    item = PlanItem("roll", "Roll of the carriage", test="angle", code="ECZ", axis="Z")
    made = plans.with_tolerance(
        plans.draft(line.visit.id, "agreed", (item,)), "roll", rule, "contract", person, SystemClock()
    )
    return made


def roll_of(archive: Archive, line: MeasuredLine, order: ReportOrder, plan: VisitPlan | None) -> QuantityContent:
    found = line_content(archive, line, order, plan).quantity("ECZ")
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("rule", "limit", "verdict"),
    [("0.08/1000", 80.0, "conforms"), ("0.02/1000", 20.0, "does-not-conform"), ("0.0505/1000", 50.5, "undecided")],
)
def test_a_rule_of_the_plan_decides(
    archive: Archive, line: MeasuredLine, rule: str, limit: float, verdict: str
) -> None:
    found = roll_of(archive, line, ReportOrder(), plan_with(line, rule))
    stated, decided = found.uncertainty, found.verdict
    assert stated is not None
    assert decided is not None
    assert (decided.verdict, decided.limit, decided.source) == (verdict, pytest.approx(limit), "contract")
    assert (decided.binding, decided.why_not_binding.key if decided.why_not_binding else None) == (
        False,
        "plan.not_agreed",
    )
    assert stated.interval[0] < ROLL_UM_PER_M < stated.interval[1]
    assert stated.interval[1] - stated.interval[0] < 6.0
    assert stated.budget == ready_budget(FOR_ROTATIONS).title
    measured = [row for row in stated.rows if row.source == "measured"]
    assert {row.name for row in measured} == {"scatter of a reading", "repeatability of the axis"}
    assert {row.unit for row in measured} == {"um/m"}


def test_a_rule_of_lengths_is_not_judged_and_says_why(archive: Archive, line: MeasuredLine) -> None:
    found = roll_of(archive, line, ReportOrder(), plan_with(line, "0.06"))
    assert found.verdict is not None
    assert found.verdict.verdict is None
    assert [said.key for said in found.verdict.reasons] == ["verdict.not_judged_needs_angle"]


def test_without_a_rule_of_the_plan_a_rotation_stays_as_read(archive: Archive, line: MeasuredLine) -> None:
    for order, plan in (
        (ReportOrder(rule="0.06"), None),
        (ReportOrder(uncertainty=False), plan_with(line, "0.08/1000")),
    ):
        found = roll_of(archive, line, order, plan)
        assert (found.uncertainty, found.verdict) == (None, None)


def test_the_budget_of_rotations_travels_with_the_order(line: MeasuredLine) -> None:
    plan = plan_with(line, "0.08/1000")
    assert judges_rotations([line], plan)
    assert not judges_rotations([line], None)
    assert set(read_order(ReportOrder(), [line], rotations=True).budget_texts) == {"beam", FOR_ROTATIONS}
    assert set(read_order(ReportOrder(budget="beam"), [line], rotations=True).budget_texts) == {"beam", FOR_ROTATIONS}
    assert set(read_order(ReportOrder(), [line]).budget_texts) == {"beam"}
