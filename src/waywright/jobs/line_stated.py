"""A kept line judged with its uncertainty: what the report and the pages print."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from waywright.archive import open_archive
from waywright.jobs.line_budget import judged_line
from waywright.jobs.measured import MeasuredLine, find_line, measured_line, results_of_line
from waywright.jobs.remember import archive_path
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, budget_of, stated_straightness

DEFAULT = StatedOrder(helps=True)


def stated_line(
    measured: MeasuredLine, order: StatedOrder = DEFAULT, reference: str = "least-squares"
) -> tuple[StatedResult, ...]:
    """Every straightness of a line, mean of the passes, as it is stated; positive as the screen says.

    Without a budget in ``order`` the ready one of the method is used; in both, what the visit has measured (scatter,
    repeatability) takes the place of what was only assumed. With ``order.rule`` every value is decided. Raises BadInput
    where there is nothing to judge, for a rule that cannot be read, and for a budget that does not fit.
    """
    wanted = order if order.budget is not None else replace(order, budget=ready_method(measured))
    wanted.wanted_rule()
    budget = budget_of(str(wanted.budget))
    last = {result.code: result for result in results_of_line(measured, reference, None)}
    averaging_s = measured.passes[-1].taken.settings.averaging_s
    return tuple(
        stated_straightness(result, judged_line(measured, name, budget), wanted, averaging_s)
        for name, result in last.items()
    )


def ready_method(measured: MeasuredLine) -> str:
    """The ready budget that fits: a beam where an instrument was connected, else indicator and straightedge."""
    return "beam" if measured.passes and measured.passes[-1].setup.instruments else "straightedge"


def stated_line_of(
    line: str | None, order: StatedOrder = DEFAULT, reference: str = "least-squares", path: Path | None = None
) -> tuple[StatedResult, ...]:
    """The same for a line by its name or id, by default the newest."""
    with open_archive(archive_path(path)) as archive:
        return stated_line(measured_line(archive, find_line(archive, line)), order, reference)
