"""A correction in the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from waywright.cli.show import console, table
from waywright.wording import text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from waywright.correct import TradeOff
    from waywright.correct.notes import Note
    from waywright.jobs.correct import Correction


def print_correction(found: Correction) -> None:
    """The choice, the plan, and the sheet for the fitter."""
    page, plan = console(), found.plan
    facts = {"machine": found.machine.name, "now_um": plan.value_now_um, "goal_um": plan.goal_um}
    page.print(text("cli.correct_now", **facts))
    _print_choice(found.trade_off, sum(move != 0 for move in plan.moves_um))
    low, high = plan.interval_um
    page.print(text("cli.correct_expected", value_um=plan.value_um, low_um=low, high_um=high))
    _print_notes("cli.correct_confirm", found.sheet.confirm)
    page.print(f"\n[bold]{text('cli.correct_sheet')}[/bold]")
    for each in found.sheet.instructions:
        page.print(f"{each.order}. " + " ".join(text(step.key, **step.facts) for step in each.steps), highlight=False)
    _print_notes("cli.correct_warnings", found.sheet.warnings)
    _print_notes("cli.correct_afterwards", found.sheet.afterwards)


def _print_choice(rows: Iterable[TradeOff], chosen: int) -> None:
    page = table(text("cli.correct_touched"), text("cli.correct_value"), text("cli.correct_bound"), "")
    for row in rows:
        mark = text("cli.correct_chosen") if row.supports == chosen else ""
        proven = text("cli.correct_proven") if row.proven else f"{row.at_least_um:.1f}"
        page.add_row(str(row.supports), f"{row.value_um:.1f}", proven, mark)
    console().print(page)


def _print_notes(heading: str, notes: Iterable[Note]) -> None:
    notes = tuple(notes)
    if notes:
        console().print(f"\n[bold]{text(heading)}[/bold]")
    for note in notes:
        console().print("- " + text(note.key, **note.facts))
