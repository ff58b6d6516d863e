"""``waywright evaluate``: results from a readings table."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import App, Parameter

from waywright.cli.evaluate_more import COMMANDS
from waywright.cli.evaluate_parts import COMMANDS as PARTS

commands = App(name="evaluate", help="Evaluate readings tables.")
for _each in (*COMMANDS, *PARTS):
    commands.command(_each)

Reference = Literal["end-points", "least-squares", "minimum-zone"]


@commands.command
def straightness(
    file: Path,
    *,
    quantity: str | None = None,
    reference: Reference = "least-squares",
    window_mm: float | None = None,
    target: Path | None = None,
    uncertainty: str | None = None,
    tolerance: str | None = None,
    burden: Literal["supplier", "customer", "shared", "simple"] = "supplier",
    json: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Straightness of every quantity in a readings table, per pass and for the mean of the passes.

    Parameters
    ----------
    file
        A readings table (CSV): `position_mm,EYZ_um,...`, optionally `pass` and `direction`.
    quantity
        Only this ISO 230-1 code, for example EYZ.
    reference
        The reference line that the result is stated for; the other two stand beside it.
    window_mm
        Also judge straightness locally over this length, at every place along the line.
    uncertainty
        A budget file, or a ready budget to begin with: beam, level, autocollimator or straightedge. The last result of
        each quantity is then stated with its interval and its whole budget.
    tolerance
        A tolerance rule in mm, for example "0.02 up to 1000, +0.01 per further 1000, max 0.05"; needs an uncertainty.
    burden
        Who has to prove: the supplier conformity, the customer non-conformity, shared, or simple acceptance as agreed.
    target
        A table of the curve that is wanted, `position_mm,EYZ_um`: deviations are then taken from it.
    json
        Print JSON.
    """
    from waywright.cli import results_view, show, uncertain_view
    from waywright.jobs import judge, uncertain

    results = judge.straightness_of_table(file, quantity, reference, window_mm, target)
    order = uncertain.StatedOrder(budget=uncertainty, rule=tolerance, burden=burden, helps=True)
    stated = uncertain.stated_results(results, order)
    if json:
        show.print_json({"file": file, "results": results, "stated": stated})
        return
    results_view.print_results(results)
    uncertain_view.print_stated(stated)
