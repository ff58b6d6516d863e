"""``waywright evaluate``: results from readings tables and kept lines."""

from __future__ import annotations

from pathlib import Path

from cyclopts import App

from waywright.cli.evaluate_answer import PLAIN, UNASKED, Code, Reference, Table, Trust, Way
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
    trust: Trust = UNASKED,
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
    target
        A table of the curve that is wanted, `position_mm,EYZ_um`: deviations are then taken from it.
    flip_share
        Say that the reference line matters where its largest value exceeds the smallest by more than this share.
    """
    from waywright.cli import evaluate_answer, results_view, show, uncertain_view
    from waywright.jobs.asked import Asked, answer_to

    options = {"file": file, "quantity": quantity, "reference": reference, "window_mm": window_mm, "target": target}
    asked = Asked("straightness", {**options, "given": given, "flip_share": flip_share})
    found = answer_to(asked, way.archive)
    stated = evaluate_answer.stated_with(found, trust)
    evaluate_answer.draw_and_keep(found, way, trust)
    if way.json:
        show.print_json({"file": file, "results": found.results, "stated": stated})
        return
    results_view.print_results(found.results)
    results_view.print_bases(found.results)
    uncertain_view.print_stated(stated)
