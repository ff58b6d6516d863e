"""The demo in the terminal."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.cli import show
from waywright.cli.pass_view import PassView
from waywright.cli.results_view import print_results
from waywright.quantities import code
from waywright.wording import text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from waywright.capture import Watcher
    from waywright.jobs.begin import Begun
    from waywright.jobs.practise import DemoOutcome, TruthComparison
    from waywright.visit import ReadingSink


def run(folder: Path, *, real_time: bool, as_json: bool) -> None:
    """Run the demo and show what came of it."""
    from waywright.jobs import practise

    factor = 1.0 if real_time else practise.DEMO_FACTOR
    if as_json:
        show.print_json(asyncio.run(practise.run_demo(folder, factor, lambda begun: ((), ()))))
        return
    view = PassView()
    page = show.console()
    page.print(text("cli.demo_intro", factor=factor))

    def observe(begun: Begun) -> tuple[list[ReadingSink], list[Watcher]]:
        view.measures(begun)
        return [view], [view.look]

    with view:
        outcome = asyncio.run(practise.run_demo(folder, factor, observe, view.armed))
    _print_outcome(outcome)


def _print_outcome(outcome: DemoOutcome) -> None:
    page = show.console()
    page.print()
    print_results(outcome.results)
    page.print(f"\n[bold]{text('cli.files')}[/bold]")
    for path in (*outcome.files, outcome.archive):
        page.print(f"  {path}", soft_wrap=True)
    print_truth(outcome.truth)


def print_truth(compared: Sequence[TruthComparison]) -> None:
    """What was measured against what only the workshop knew."""
    page = show.console()
    page.print(f"\n[bold]{text('cli.truth')}[/bold]")
    for item in compared:
        unit = "µm/m" if code(item.code).is_rotation else "µm"
        facts = {"measured": item.measured, "true": item.true, "difference": item.largest_difference}
        page.print("  " + text("cli.truth_line", code=item.code, unit=unit, **facts))
