"""Whether a value typed into a sheet can be meant: asked about, never refused."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.sheet_rows import kind_of_row
from waywright.jobs.sheet_keep import Entry
from waywright.jobs.typing_in import Doubt, Typed, TypedUnit, doubt_about, doubt_by_neighbours
from waywright.quantities import Kind
from waywright.verdict import tolerance
from waywright.verdict.rule_records import Limit

ABSURD = {Kind.DISPLACEMENT: 2000.0, Kind.ANGLE: 5000.0}
"""Further off than this (um, um/m) nothing that an ordinary test reads lies."""
_TIMES_LIMIT = 10.0
_TIMES_RANGE = 12.0
_ZERO_STEPS = 4.0


def doubt_of(
    entry: Entry, every: Sequence[Entry], held: Mapping[str, float], typed: Typed, number: float, typed_in: TypedUnit
) -> Doubt | None:
    """What speaks against a value: its neighbours, the level's zero, the permissible deviation, or plain size.

    ``held`` maps channels to the values that hold, um or um/m.
    """
    row = [other for other in every if other.row is entry.row]
    known = [other for other in row if other.channel in held and other.channel != entry.channel]
    alike = [other for other in known if other.state == entry.state and other.index < entry.index]
    if entry.row.turned and entry.state == "turned" and kind_of_row(entry.row).layout.pairs:
        return _by_zero(entry, row, held, typed, number, typed_in)
    before = [held[other.channel] for other in alike]
    if len(before) >= 4:
        at = [other.at_mm for other in alike]
        places = at if len(set(at)) == len(at) else [float(other.index) for other in alike]
        here = entry.at_mm if places == at else float(entry.index)
        return doubt_by_neighbours(places, before, Typed(here, typed.said, typed.value), number, typed_in)
    return _by_size(entry, before, typed, number, typed_in)


def _by_zero(
    entry: Entry, row: Sequence[Entry], held: Mapping[str, float], typed: Typed, number: float, typed_in: TypedUnit
) -> Doubt | None:
    """The level turned round at one place reads twice its zero less what it read before: its zero moves little."""
    pairs = {other.place: held[other.channel] for other in row if other.state == "" and other.channel in held}
    turned = {other.place: held[other.channel] for other in row if other.state == "turned" and other.channel in held}
    zeros = [(pairs[place] + turned[place]) / 2.0 for place in turned if place in pairs and place != entry.place]
    if not zeros or entry.place not in pairs:
        return _by_size(entry, [], typed, number, typed_in)
    expected = 2.0 * float(np.median(zeros)) - pairs[entry.place]
    usual = max(float(np.ptp(zeros)), typed_in.inside_per_unit)
    return doubt_about(typed, number, expected, usual, typed_in, far=_ZERO_STEPS)


def _by_size(entry: Entry, before: Sequence[float], typed: Typed, number: float, typed_in: TypedUnit) -> Doubt | None:
    middle = float(np.median(before)) if before else 0.0
    limit = _limit(entry)
    if limit is not None:
        usual = max(limit, typed_in.inside_per_unit)
        return doubt_about(typed, number, middle, usual, typed_in, far=_TIMES_LIMIT)
    if len(before) >= 2:
        usual = max(float(np.ptp(before)), 2.0 * typed_in.inside_per_unit)
        return doubt_about(typed, number, middle, usual, typed_in, far=_TIMES_RANGE)
    absurd = doubt_about(typed, number, middle, ABSURD[kind_of_row(entry.row).reads], typed_in, far=1.0)
    return None if absurd is None else replace(absurd, likely=None)


def _limit(entry: Entry) -> float | None:
    """The permissible deviation in the unit of the readings, where the rule has a plain one."""
    row, kind = entry.row, kind_of_row(entry.row)
    if row.tolerance is None or kind.reads is not kind.gives:
        return None
    for part in tolerance(row.tolerance).parts:
        if isinstance(part, Limit) and part.window_mm is None:
            if kind.gives is Kind.ANGLE:
                return part.limit_um_per_m()
            try:
                return part.limit_um(kind.length_mm(row) or 1.0)
            except BadInput:
                return None
    return None
