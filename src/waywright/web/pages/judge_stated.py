"""Values with their uncertainty, noise floor, verdict and its reason, worked out beside the page."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import replace

from nicegui import ui

from waywright.drawing import plain_number
from waywright.errors import WaywrightError
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.line_stated import DEFAULT, ready_method, stated_line
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder
from waywright.machine import Machine
from waywright.quantities import code
from waywright.verdict import Decision
from waywright.web.desk import Desk
from waywright.web.display import amount, deviation, place, place_unit, unit_for
from waywright.web.elements import Words, box, note
from waywright.web.saying import heading_of
from waywright.wording import text

BUDGETS = ("beam", "level", "autocollimator", "straightedge")
_LOOKS = {"conforms": "inside", "does_not_conform": "outside", "undecided": "undecided"}
_SIGNS = {"conforms": "●", "does_not_conform": "○", "undecided": "◐"}


class StatedShelf:
    """What was worked out for a line as it stands, so that looking again costs nothing."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._known: dict[tuple[object, ...], tuple[StatedResult, ...]] = {}

    async def of(self, measured: MeasuredLine, order: StatedOrder, reference: str) -> tuple[StatedResult, ...]:
        """Raises BadInput like :func:`stated_line`."""
        key = (measured.line.id, self._desk.revision, reference, order)
        if key not in self._known:
            self._known[key] = await asyncio.to_thread(stated_line, measured, order, reference)
            for old in list(self._known)[:-8]:
                del self._known[old]
        return self._known[key]


def order_of(rule: str, budget: str, burden: str) -> StatedOrder:
    """What the page asks for; without a budget the ready one that fits."""
    return replace(DEFAULT, rule=rule.strip() or None, budget=budget or None, burden=burden, helps=False)


async def show_stated(
    shelf: StatedShelf,
    measured: MeasuredLine,
    results: dict[str, StraightnessResult],
    order: StatedOrder,
    still_wanted: Callable[[], bool],
) -> None:
    """Fill the place that is open now: first the values, then what is stated of them."""
    places = {name: _value(result, measured.machine) for name, result in results.items()}
    reference = next(iter(results.values())).reference
    asked = order if order.budget else replace(order, budget=ready_method(measured))
    try:
        found = await shelf.of(measured, asked, reference)
    except WaywrightError as error:
        if still_wanted():
            for beside in places.values():
                beside.clear()
            note(str(error), "bad")
        return
    if still_wanted():
        for stated in found:
            if stated.code in places:
                _fill(places[stated.code], stated)
        await _fill_helps(shelf, measured, replace(asked, helps=True), reference, places, still_wanted)


async def _fill_helps(
    shelf: StatedShelf,
    measured: MeasuredLine,
    order: StatedOrder,
    reference: str,
    places: dict[str, ui.element],
    still_wanted: Callable[[], bool],
) -> None:
    """What would help most takes some seconds more and comes below."""
    found = await shelf.of(measured, order, reference)
    if not still_wanted():
        return
    for stated in found:
        if stated.code in places and stated.helps:
            with places[stated.code]:
                _helps(stated)


def _helps(stated: StatedResult) -> None:
    quantity = code(stated.code)
    Words(text("judge.helps"), "small", "p")
    for action in stated.helps:
        Words(text("judge.help", action=text(action.key, **action.facts), unit=unit_for(quantity).word,
                   before=amount(quantity, action.expanded_before_um),
                   after=amount(quantity, action.expanded_after_um)), "small mute")  # fmt: skip


def _value(result: StraightnessResult, machine: Machine) -> ui.element:
    """The value about the chosen line, large; beside it a place for what is stated."""
    quantity, chosen = code(result.code), result.chosen
    with box("stated"):
        with box("stack"):
            Words(heading_of(quantity, machine), "mute")
            with box("figure"):
                Words(amount(quantity, chosen.value_um), "value")
                Words(unit_for(quantity).word, "unit")
            Words(text("judge.extremes", largest=deviation(quantity, chosen.largest_um),
                       largest_at=place(chosen.largest_at_mm), smallest=deviation(quantity, chosen.smallest_um),
                       smallest_at=place(chosen.smallest_at_mm), unit=place_unit()), "small mute")  # fmt: skip
        beside = box("stack grow")
    with beside:
        Words(text("judge.working_out"), "small mute")
    return beside


def _fill(beside: ui.element, stated: StatedResult) -> None:
    quantity = code(stated.code)
    unit = unit_for(quantity).word
    beside.clear()
    with beside:
        low, high = stated.interval
        Words(text("judge.stated", u=amount(quantity, stated.expanded), unit=unit, k=stated.coverage_factor,
                   low=amount(quantity, low), high=amount(quantity, high)), tag="p")  # fmt: skip
        if stated.noise_floor is not None:
            Words(text("judge.floor", floor=amount(quantity, stated.noise_floor), unit=unit,
                       upper=amount(quantity, stated.noise_floor_95 or 0.0)), "small", "p")  # fmt: skip
        _verdict(stated)
        with box("budget", "details"):
            Words(text("judge.budget", title=stated.budget), "small", "summary")
            rows = sorted(stated.rows, key=lambda row: -row.contribution)
            for row in rows:
                Words(text("judge.budget_row", name=row.name, contribution=plain_number(row.contribution, 2),
                           unit=stated.unit.replace("um", "µm"), source=row.source), "small mute")  # fmt: skip


def _verdict(stated: StatedResult) -> None:
    found = stated.decision
    if found is not None:
        name = found.verdict.name.lower()
        words = f"{_SIGNS[name]} {text(f'verdict.{name}')}"
        Words(f"{words} · {stated.tolerance}", f"verdict {_LOOKS[name]}")
        if stated.reason is not None:
            Words(text(stated.reason.key, **stated.reason.facts), "small", "p")
        _risks(stated, found)
    for reason in stated.unjudged:
        note(text(reason.key, **reason.facts))
    if stated.warning is not None:
        note(text(stated.warning.key, **stated.warning.facts), "bad")


def _risks(stated: StatedResult, found: Decision) -> None:
    """Guard band and the risk of what follows from the verdict."""
    quantity = code(stated.code)
    if found.burden != "simple":
        Words(text("judge.zone", unit=unit_for(quantity).word, guard=amount(quantity, found.guard_band_um),
                   acceptance=amount(quantity, found.acceptance_um),
                   rejection=amount(quantity, found.rejection_um)), "small mute", "p")  # fmt: skip
    for key, risk in (("consumers", found.consumers_risk), ("producers", found.producers_risk)):
        if risk is not None:
            Words(text(f"verdict.{key}_risk", risk=risk), "small mute", "p")
