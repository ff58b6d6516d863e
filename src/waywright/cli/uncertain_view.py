"""Stated values and verdicts in the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from waywright.cli.show import console, table
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.jobs.stated_record import StatedResult
    from waywright.verdict import Decision


_FLOOR = {"flatness": "cli.stated_floor_surface"}


def print_stated(results: Sequence[StatedResult]) -> None:
    """Value with interval, noise floor, verdict, every row of the budget, and what would help most."""
    for result in results:
        low, high = result.interval
        unit = {"code": result.code, "unit": result.unit}
        figures = {"value": result.value, "expanded": result.expanded, "best": result.best, "k": result.coverage_factor}
        console().print()
        console().print(text("cli.stated", low=low, high=high, **figures, **unit))
        if result.noise_floor is not None:
            floor = {"floor": result.noise_floor, "upper": result.noise_floor_95}
            console().print(text(_FLOOR.get(result.what, "cli.stated_floor"), **floor, **unit))
        _print_verdict(result)
        _print_rows(result)
        for action in result.helps:
            figures = {"before": action.expanded_before_um, "after": action.expanded_after_um}
            console().print(text("cli.stated_help", action=text(action.key, **action.facts), **figures))


def _print_verdict(result: StatedResult) -> None:
    found = result.decision
    if found is not None and result.reason is not None:
        verdict = text(f"verdict.{found.verdict.name.lower()}")
        console().print(f"[bold]{text('cli.stated_verdict', code=result.code, verdict=verdict)}[/bold]")
        console().print(text(result.reason.key, **result.reason.facts))
        console().print(f"{text(f'verdict.burden_{found.burden.value}')} {text(followed(found))}")
        if found.burden != "simple":
            console().print(text("cli.stated_zone", unit=result.unit, **zone_of(found)))
        for key, risk in (("consumers", found.consumers_risk), ("producers", found.producers_risk)):
            if risk is not None:
                console().print(text(f"verdict.{key}_risk", risk=risk))
    for reason in result.unjudged:
        console().print(text(reason.key, **reason.facts))
    if result.warning is not None:
        console().print(text(result.warning.key, **result.warning.facts))


def zone_of(decision: Decision) -> dict[str, float]:
    """The guard band and the edges that it makes, as facts of a sentence."""
    return {
        "guard": decision.guard_band_um,
        "acceptance": decision.acceptance_um,
        "rejection": decision.rejection_um,
    }


def followed(decision: Decision) -> str:
    """The sentence that says what follows from a decision."""
    return {True: "cli.decide_accepted", False: "cli.decide_refused", None: "cli.decide_talk"}[decision.accepted]


def _print_rows(result: StatedResult) -> None:
    several = len({row.line for row in result.rows}) > 1
    page = table(
        "contribution", "value", "distribution", "freedom", "source", "sensitivity", f"contributes {result.unit}"
    )
    for row in sorted(result.rows, key=lambda row: -row.contribution):
        name = f"{row.name} ({row.line})" if several else row.name
        freedom = "∞" if row.degrees_of_freedom > 1e9 else f"{row.degrees_of_freedom:.0f}"
        value = f"{row.value:.3g} {row.unit}".removesuffix(" 1")
        page.add_row(
            name, value, row.distribution, freedom, row.source, f"{row.sensitivity:.3g}", f"{row.contribution:.2f}"
        )
    console().print(page)
    figures = {"combined": result.rows_combined, "k": result.rows_coverage_factor, "expanded": result.rows_expanded}
    freedom = "∞" if result.degrees_of_freedom > 1e9 else f"{result.degrees_of_freedom:.0f}"
    console().print(text("cli.stated_rows", freedom=freedom, unit=result.unit, **figures))
