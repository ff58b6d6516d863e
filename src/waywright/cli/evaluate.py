"""``waywright evaluate``: results from a readings table."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import App, Parameter

from waywright.cli.evaluate_more import COMMANDS

commands = App(name="evaluate", help="Evaluate readings tables.")
for _each in COMMANDS:
    commands.command(_each)

Reference = Literal["end-points", "least-squares", "minimum-zone"]


@commands.command
def straightness(
    file: Path,
    *,
    quantity: str | None = None,
    reference: Reference = "least-squares",
    window_mm: float | None = None,
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
    json
        Print JSON.
    """
    from waywright.cli import results_view, show
    from waywright.jobs import judge

    results = judge.straightness_of_table(file, quantity, reference, window_mm)
    if json:
        show.print_json({"file": file, "results": results})
    else:
        results_view.print_results(results)
