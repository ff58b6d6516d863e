"""A typed line in the archive: every number is kept as soon as it is typed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.archive import Archive
from waywright.clocks import Clock
from waywright.errors import BadInput
from waywright.files.machine_file import read_machine
from waywright.files.setup_file import LineEntry
from waywright.jobs.begin import check_mark
from waywright.jobs.instruments_said import uses_said
from waywright.jobs.machines import find_machine
from waywright.jobs.people import who
from waywright.jobs.set_aside import leave_out
from waywright.jobs.typed import CHANNELS, append_typed, begin_typed_line, begin_typed_pass, end_typed_pass
from waywright.jobs.typing_in import Doubt, Typed, TypedColumn, typed_unit
from waywright.jobs.visits import find_visit
from waywright.machine import Machine
from waywright.quantities import Kind
from waywright.readings import Reading, standing
from waywright.visit import PositionZero

KINDS = {"height": Kind.DISPLACEMENT, "side": Kind.DISPLACEMENT, "roll": Kind.ANGLE}
"""What can be typed, and whether it is a displacement or an angle."""

TAKEN_BACK = "taken back while typing"


@dataclass(frozen=True, slots=True)
class TypeOrder:
    """What is going to be typed; see the options of ``waywright type``."""

    machine: str | None
    quantity: str
    unit: str
    division: float | None
    division_unit: str | None
    from_mm: float
    to_mm: float
    step_mm: float
    line: str
    axis: str
    direction: str
    technician: str | None
    visit: str | None = None
    instruments: tuple[str, ...] = ()
    zero: PositionZero | None = None


class TypedLine:
    """A new line with one typed pass. Raises BadInput for an order that does not fit, before anything is kept."""

    def __init__(self, archive: Archive, order: TypeOrder, clock: Clock) -> None:
        if order.quantity not in KINDS:
            raise BadInput("typing_in.quantity", said=order.quantity, allowed=", ".join(KINDS))
        if order.axis not in ("X", "Y", "Z"):
            raise BadInput("jobs.bad_axis", axis=order.axis)
        kind = KINDS[order.quantity]
        self._channel = next(name for name in CHANNELS if name.endswith(f".{order.quantity}_{kind.value}"))
        self.unit_name = order.unit
        places = planned_places(order.from_mm, order.to_mm, order.step_mm)
        ordered = places if order.direction == "forward" else places[::-1]
        self.column = TypedColumn(ordered, typed_unit(order.unit, kind, order.division, order.division_unit))
        self._archive, self._clock = archive, clock
        visit = None if order.visit is None else find_visit(archive, order.visit)
        machine = archive.load(Machine, visit.machine_id) if visit else _machine(archive, order.machine)
        check_mark(machine, order.zero)
        entry = LineEntry(name=order.line, axis=order.axis, from_mm=places[0], to_mm=places[-1])  # type: ignore[arg-type]
        line = begin_typed_line(archive, machine, entry, order.technician, clock, visit)
        self.instruments = uses_said(archive, order.instruments, who(archive, order.technician), files=True)
        self._pass = begin_typed_pass(
            archive, machine, line, order.direction, [self._channel], clock, self.instruments, order.zero
        )
        self._undone: dict[float, Reading] = {}

    def enter(self, said: str, sure: bool = False) -> Doubt | None:
        """A number for the next place; kept unless it is doubtful."""
        typed = self.column.enter(said, sure)
        if isinstance(typed, Doubt):
            return typed
        self._keep(typed)
        return None

    def paste(self, text: str) -> None:
        """A column for the next places."""
        for typed in self.column.paste(text):
            self._keep(typed)

    def undo(self) -> Typed | None:
        """Take the last value back. Its reading stays in the archive; the next value there supersedes it."""
        last = self.column.undo()
        if last is not None:
            found = standing(self._archive.readings(self._pass.id))
            self._undone[last.position_mm] = next(item for item in found if item.position_mm == last.position_mm)
        return last

    def end(self) -> int:
        """End the pass; values taken back and not typed again are left out of results. How many readings stand."""
        for reading in self._undone.values():
            leave_out(self._archive, reading.id, TAKEN_BACK, self._clock)
        end_typed_pass(self._archive, self._pass.id, self._clock)
        return len(self.column.typed)

    def _keep(self, typed: Typed) -> None:
        append_typed(self._archive, self._pass.id, typed.position_mm, {self._channel: typed.value}, self._clock)
        self._undone.pop(typed.position_mm, None)


def _machine(archive: Archive, said: str | None) -> Machine:
    """From a machine file; what is no file is a machine that the archive knows."""
    if said is None:
        raise BadInput("keep.machine_without_name")
    return read_machine(Path(said)) if Path(said).exists() else find_machine(archive, said)


def planned_places(from_mm: float, to_mm: float, step_mm: float) -> list[float]:
    """Places from one end to the other, the last one included. Raises BadInput for a step that does not lead there."""
    if not (step_mm > 0 and to_mm > from_mm):
        raise BadInput("typing_in.places")
    count = int((to_mm - from_mm) / step_mm + 1e-9)
    places = [float(place) for place in from_mm + step_mm * np.arange(count + 1)]
    return places if to_mm - places[-1] < 1e-6 * step_mm else [*places, to_mm]
