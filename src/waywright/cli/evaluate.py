"""``waywright evaluate``: results from readings tables and kept lines."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from cyclopts import App

from waywright.cli.evaluate_answer import PLAIN, Code, Reference, Table, Way
from waywright.cli.evaluate_more import COMMANDS
from waywright.cli.evaluate_parts import COMMANDS as PARTS

commands = App(name="evaluate", help="Evaluate readings tables and kept lines.")
for _each in (*COMMANDS, *PARTS):
    commands.command(_each)


@commands.command
def straightness(
    file: Table,
    *,
    quantity: Code = None,
    reference: Reference = "least-squares",
    window_mm: float | None = None,
    given: tuple[float, float] | None = None,
    target: Path | None = None,
    flip_share: float = 0.15,
    uncertainty: str | None = None,
    tolerance: str | None = None,
    burden: Literal["supplier", "customer", "shared", "simple"] = "supplier",
    way: Way = PLAIN,
) -> None:
    """Straightness of every quantity in a readings table, per pass and for the mean of the passes.

    Parameters
    ----------
    reference
        The reference line that the result is stated for; the other two stand beside it.
    window_mm
        Also judge straightness locally over this length, at every place along the line.
    given
        A given straight line: its height at 0 mm in µm, its slope in µm/m. The result is about it, the three beside.
    uncertainty
        A budget file, or a ready budget to begin with: beam, level, autocollimator or straightedge. The last result of
        each quantity is then stated with its interval and its whole budget.
    tolerance
        A tolerance rule in mm, for example "0.02 up to 1000, +0.01 per further 1000, max 0.05"; needs an uncertainty.
    burden
        Who has to prove: the supplier conformity, the customer non-conformity, shared, or simple acceptance as agreed.
    target
        A table of the curve that is wanted, `position_mm,EYZ_um`: deviations are then taken from it.
    flip_share
        Say that the reference line matters where its largest value exceeds the smallest by more than this share.
    """
    from waywright.cli import evaluate_answer, results_view, show, uncertain_view
    from waywright.jobs import uncertain
    from waywright.jobs.asked import Asked, answer_to

    options = {"file": file, "quantity": quantity, "reference": reference, "window_mm": window_mm, "target": target}
    asked = Asked("straightness", {**options, "given": given, "flip_share": flip_share})
    found = answer_to(asked, way.archive)
    order = uncertain.StatedOrder(budget=uncertainty, rule=tolerance, burden=burden, helps=True)
    stated = uncertain.stated_results(found.results, order)
    evaluate_answer.draw_and_keep(found, way)
    if way.json:
        show.print_json({"file": file, "results": found.results, "stated": stated})
        return
    results_view.print_results(found.results)
    results_view.print_bases(found.results)
    uncertain_view.print_stated(stated)
