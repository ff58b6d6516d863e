"""Results in the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from waywright.cli.show import console, signed, table
from waywright.wording import text
from waywright.wording.said import sentence

if TYPE_CHECKING:
    from waywright.jobs.judge import StraightnessResult

_THREE = ("end-points", "least-squares", "minimum-zone")


def print_results(results: Sequence[StraightnessResult]) -> None:
    """A row per quantity and pass, then what was judged locally."""
    reference = results[0].reference
    more = [name for name in results[0].by_reference if name not in _THREE]
    names = [text(f"cli.column_{name}") for name in (*_THREE, *more)]
    page = table("", "pass", "n", "largest, at mm", "smallest, at mm", *names)
    for result in results:
        page.add_row(*_row(result, more))
    console().print(page)
    console().print(text("cli.results_reference", reference=text(f"cli.{reference}"), sign=_sign(results)))
    for result in results:
        for name in more:
            where, value_um = f"{result.code}, {pass_label(result)}", result.by_reference[name].value_um
            console().print(text(f"cli.to_{name}", where=where, value_um=value_um))
        if result.local is not None:
            console().print(_local_sentence(result))
    last = {result.code: result for result in results}
    for result in last.values():
        if result.flip is not None and result.flip.reason is not None:
            said = sentence(result.flip.reason.key, result.flip.reason.facts)
            console().print(text("cli.flip", code=result.code, label=pass_label(result), said=said))


def print_bases(results: Sequence[StraightnessResult]) -> None:
    """What the last result of every quantity rests on."""
    from waywright.jobs.told import sentence as told
    from waywright.jobs.told_parts import basis_told

    for result in {result.code: result for result in results}.values():
        if result.basis is not None:
            words = " ".join(told(said) for said in basis_told(result.basis))
            console().print(text("cli.basis", code=result.code, label=pass_label(result), said=words))


def _sign(results: Sequence[StraightnessResult]) -> str:
    """In which sense figures are positive: the ISO sign, or the physical direction of each quantity."""
    directions = {result.code: result.positive for result in results if result.positive}
    if not directions:
        return text("cli.iso_sign")
    named = [f"{name} {text('quantities.' + direction)}" for name, direction in directions.items()]
    return text("cli.physical_sign", directions=", ".join(named))


def _row(result: StraightnessResult, more: Sequence[str]) -> tuple[str, ...]:
    return (
        result.code,
        pass_label(result),
        str(result.stations),
        f"{signed(result.chosen.largest_um)}, {result.chosen.largest_at_mm:.0f}",
        f"{signed(result.chosen.smallest_um)}, {result.chosen.smallest_at_mm:.0f}",
        *(_value(result, name) for name in (*_THREE, *more)),
    )


def _value(result: StraightnessResult, reference: str) -> str:
    figure = f"{result.by_reference[reference].value_um:.1f}"
    return f"[bold]{figure}[/bold]" if reference == result.reference else figure


def pass_label(result: StraightnessResult) -> str:
    """Which pass, or the mean of how many."""
    if result.pass_number is None:
        return text("cli.mean_of", passes=result.passes)
    return text("cli.one_pass", number=result.pass_number, direction=result.direction or "").strip()


def _local_sentence(result: StraightnessResult) -> str:
    local = result.local
    assert local is not None
    where = f"{result.code}, {pass_label(result)}"
    if local.reason_key is not None:
        return text("cli.local_not_judged", where=where, reason=text(local.reason_key, **(local.reason_facts or {})))
    return text("cli.local", where=where, value_um=local.value_um, window_mm=local.window_mm, start_mm=local.start_mm)
