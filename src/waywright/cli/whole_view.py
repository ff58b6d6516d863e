"""The whole job of the demo in the terminal: as found, round by round, as left."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.cli import show
from waywright.cli.correct_view import print_correction
from waywright.cli.demo_view import print_truth
from waywright.cli.pass_view import PassView
from waywright.cli.results_view import print_results
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.capture import Watcher
    from waywright.jobs.begin import Begun
    from waywright.jobs.correct import Correction
    from waywright.jobs.practise_correct import RoundDone, WholeOutcome
    from waywright.visit import ReadingSink
    from waywright.visit.adjustment import NamedCause


def run(folder: Path, *, factor: float, as_json: bool) -> None:
    """Run the whole job and show what came of it."""
    from waywright.jobs.practise_correct import Told, run_whole_job

    if as_json:
        silent = Told(observe=lambda begun: ((), ()))
        show.print_json(asyncio.run(run_whole_job(folder, factor, silent)))
        return
    view = PassView()
    show.console().print(text("cli.demo_intro", factor=factor))

    def observe(begun: Begun) -> tuple[list[ReadingSink], list[Watcher]]:
        view.measures(begun)
        return [view], [view.look]

    with view:
        told = Told(observe=observe, armed=view.armed, planned=_print_plan, done=_print_round)
        outcome = asyncio.run(run_whole_job(folder, factor, told))
    _print_outcome(outcome)


def _print_plan(number: int, correction: Correction) -> None:
    page = show.console()
    page.print(f"\n[bold]{text('simulation.round_planned', number=number)}[/bold]")
    print_correction(correction)
    turned = ", ".join(each.support for each in correction.sheet.instructions)
    if turned:
        page.print("\n" + text("simulation.fitter_turns", supports=turned))


def _print_round(done: RoundDone) -> None:
    page = show.console()
    facts = {"before_um": done.value_before_um, "expected_um": done.expected_um, "value_um": done.value_um}
    page.print(f"\n[bold]{text('simulation.round_done', number=done.number, **facts)}[/bold]")
    if done.surprise:
        page.print(text("simulation.round_surprise"))
        for each in done.causes[:3]:
            page.print("- " + _cause(each))


def _cause(cause: NamedCause) -> str:
    facts = {"support": cause.support, "other": cause.other or "", "probability": cause.probability}
    return text(f"correct.{cause.kind}", **facts)


def _print_outcome(outcome: WholeOutcome) -> None:
    page = show.console()
    for key, results in (("as-found", outcome.as_found), ("as-left", outcome.as_left)):
        page.print(f"\n[bold]{text(f'report.state.{key}')}[/bold]")
        print_results(results)
    page.print(text(f"simulation.whole_{'reached' if outcome.reached else 'not_reached'}", goal_um=outcome.goal_um))
    page.print(f"\n[bold]{text('cli.files')}[/bold]")
    for path in (*outcome.files, outcome.archive):
        page.print(f"  {path}", soft_wrap=True)
    print_truth(outcome.truth)
