"""Stated values and verdicts in the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from waywright.cli.show import console, table
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.jobs.uncertain import StatedResult


def print_stated(results: Sequence[StatedResult]) -> None:
    """Value with interval, noise floor, verdict, and every row of the budget."""
    for result in results:
        low, high = result.interval_um
        facts = {"value_um": result.value_um, "expanded_um": result.expanded_um, "best_um": result.best_um}
        console().print()
        console().print(text("cli.stated", code=result.code, low_um=low, high_um=high, **facts))
        if result.noise_floor_um is not None:
            floor = {"floor_um": result.noise_floor_um, "upper_um": result.noise_floor_95_um}
            console().print(text("cli.stated_floor", code=result.code, **floor))
        _print_verdict(result)
        _print_rows(result)


def _print_verdict(result: StatedResult) -> None:
    found = result.decision
    if found is not None:
        verdict = text(f"verdict.{found.verdict.name.lower()}")
        facts = {"limit_um": result.limit_um, "probability": found.probability_of_conformity}
        sentence = text("cli.stated_verdict", code=result.code, verdict=verdict, rule=result.tolerance, **facts)
        console().print(f"[bold]{sentence}[/bold]")
        console().print(text(f"verdict.burden_{found.burden.value}"))
    elif result.rule_reasons:
        for reason in result.rule_reasons:
            console().print(text(reason.key, **reason.facts))
    elif result.rule_holds is not None:
        key = "cli.stated_rule_holds" if result.rule_holds else "cli.stated_rule_broken"
        console().print(text(key, code=result.code, rule=result.tolerance))


def _print_rows(result: StatedResult) -> None:
    page = table("contribution", "value", "distribution", "source", "contributes µm")
    for row in sorted(result.rows, key=lambda row: -row.contribution_um):
        page.add_row(row.name, f"{row.value:g} {row.unit}", row.distribution, row.source, f"{row.contribution_um:.2f}")
    console().print(page)
