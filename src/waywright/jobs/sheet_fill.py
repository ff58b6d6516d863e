"""Filling a sheet: number, Enter, next. Every value is in the archive before the next place is asked for."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.evaluate.sheet_rows import kind_of_row
from waywright.jobs.set_aside import leave_out
from waywright.jobs.sheet_doubt import doubt_of
from waywright.jobs.sheet_keep import Entry, entries, open_pass, values_of
from waywright.jobs.type_line import TAKEN_BACK
from waywright.jobs.typing_in import Doubt, Typed, TypedUnit, number_typed, typed_unit
from waywright.quantities import Kind
from waywright.readings import ChannelValue, Reading, seal
from waywright.visit.sheet import MeasuringSheet, SheetRow

CONFIRMED_BY = ("typed", "foot-switch", "spoken")
"""How a value was confirmed; kept with the reading."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A value as kept, in um or um/m, and as typed."""

    entry: Entry
    value: float
    said: str


class SheetFill:
    """The places of a sheet and the values that hold; ``here`` is the place that comes next.

    Made anew it stands where it stood: at the first place without a value after the last one typed.
    """

    def __init__(self, archive: Archive, sheet: MeasuringSheet, clock: Clock) -> None:
        self.sheet = sheet
        self.entries = entries(sheet)
        self._archive, self._clock = archive, clock
        self._held = values_of(archive, sheet)
        last = max(self._held.values(), key=lambda reading: reading.began_utc, default=None)
        known = {entry.channel: entry.index for entry in self.entries}
        self._here = self._next_empty(known.get(last.values[0].channel, -1) + 1 if last else 0)

    @property
    def here(self) -> Entry | None:
        """The place that comes next; None when every place has its value."""
        return None if self._here is None else self.entries[self._here]

    @property
    def here_index(self) -> int | None:
        """The number of the place that comes next."""
        return self._here

    @property
    def filled(self) -> int:
        """How many places have their value."""
        return sum(entry.channel in self._held for entry in self.entries)

    def value(self, entry: Entry) -> float | None:
        """The value that holds at a place, um or um/m."""
        reading = self._held.get(entry.channel)
        return None if reading is None else reading.values[0].mean

    def enter(self, said: str, *, sure: bool = False, by: str = "typed") -> Kept | Doubt:
        """A number for the next place; kept at once, unless it cannot be meant and nobody is ``sure``.

        Raises BadInput for something that is no number, an unknown way of confirming, or when the sheet is full.
        """
        entry = self.here
        if entry is None:
            raise BadInput("typing_in.full", places=len(self.entries))
        if by not in CONFIRMED_BY:
            raise BadInput("sheet.confirmed_by", by=by, allowed=", ".join(CONFIRMED_BY))
        number, used = number_typed(said), unit_of(entry.row)
        typed = Typed(entry.at_mm, said.strip(), number * used.inside_per_unit)
        held = {channel: reading.values[0].mean for channel, reading in self._held.items()}
        doubt = None if sure else doubt_of(entry, self.entries, held, typed, number, used)
        if doubt is not None:
            return doubt
        self._keep(entry, typed.value, by)
        self._here = self._next_empty(entry.index + 1)
        return Kept(entry, typed.value, typed.said)

    def paste(self, text: str) -> tuple[Kept, ...]:
        """A column of numbers for the next places, all or nothing. Raises BadInput naming the row that is no number."""
        rows = [row for row in re.split(r"[\s;]+", text.strip()) if row]
        empty = [entry for entry in self.entries if self._here is not None and entry.index >= self._here]
        if len(rows) > len(empty):
            raise BadInput("typing_in.too_many", rows=len(rows), places=len(empty))
        for at, said in enumerate(rows, start=1):
            try:
                number_typed(said)
            except BadInput as error:
                raise BadInput("typing_in.row", row=at, said=said) from error
        return tuple(kept for said in rows if isinstance(kept := self.enter(said, sure=True), Kept))

    def undo(self) -> Entry | None:
        """Take the newest value back, as a record; its place comes next. What stood there before holds again."""
        last = max(self._held.values(), key=lambda reading: (reading.began_utc, reading.id), default=None)
        if last is None:
            return None
        leave_out(self._archive, last.id, TAKEN_BACK, self._clock)
        self._held = values_of(self._archive, self.sheet)
        entry = next((each for each in self.entries if each.channel == last.values[0].channel), None)
        if entry is not None:
            self._here = entry.index
        return entry

    def go_to(self, row: str, place: str | None = None, state: str | None = None) -> Entry:
        """Make a place the next one: the first without a value in a row, or the one named. Raises BadInput."""
        there = [entry for entry in self.entries if entry.row.number == row]
        if place is not None:
            there = [entry for entry in there if entry.place == place and (state is None or entry.state == state)]
        if not there:
            raise BadInput("sheet.no_place", row=row, place=place or "-")
        empty = [entry for entry in there if entry.channel not in self._held] if place is None else []
        self._here = (empty or there)[0].index
        return self.entries[self._here]

    def stand_at(self, index: int) -> None:
        """Make the place of a number the next one, as a page that shows it wants. Raises BadInput for none."""
        if not 0 <= index < len(self.entries):
            raise BadInput("sheet.no_place", row=str(index), place="-")
        self._here = index

    def pass_over(self) -> Entry | None:
        """Leave the rest of this row; the next row comes next."""
        here = self.here
        if here is not None:
            after = [entry.index for entry in self.entries if entry.index > here.index and entry.row is not here.row]
            self._here = self._next_empty(after[0]) if after else None
        return self.here

    def _next_empty(self, start: int) -> int | None:
        """The first place without a value from ``start`` on, then from the beginning of the sheet."""
        order = [*self.entries[start:], *self.entries[:start]]
        return next((entry.index for entry in order if entry.channel not in self._held), None)

    def _keep(self, entry: Entry, value: float, by: str) -> None:
        taken = open_pass(self._archive, self.sheet, self._clock)
        earlier = self._archive.readings(taken.id)
        now = self._clock.utc()
        before = self._held.get(entry.channel)
        reading = Reading(
            new_id(now), taken.id, len(earlier), entry.at_mm, taken.direction,
            (ChannelValue(entry.channel, value, math.nan, 1),), now, now,
            taken_by=by, supersedes=before.id if before is not None and before.pass_id == taken.id else None,
        )  # fmt: skip
        sealed = seal(reading, earlier[-1] if earlier else None)
        self._archive.keep_reading(sealed)
        self._held[entry.channel] = sealed


def unit_of(row: SheetRow) -> TypedUnit:
    """What a number typed in a row is worth."""
    kind = kind_of_row(row).reads
    return typed_unit(row.unit or ("um/m" if kind is Kind.ANGLE else "um"), kind, row.division, row.division_unit)
