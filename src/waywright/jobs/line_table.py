"""A kept line as a readings table, so that every evaluation of tables is one of kept lines too.

Values have the ISO sign. Remarks carry what a table cannot say in columns: how the axes lie, functional point, what was
left out, position zero, and where the joints of the bed come to lie on the line.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from waywright.files import ReadingsTable
from waywright.jobs.measured import MeasuredLine, MeasuredPass, joined
from waywright.machine import Machine
from waywright.readings import Floats
from waywright.visit import PositionZero


def table_of_line(measured: MeasuredLine) -> ReadingsTable:
    """The standing readings of every pass; a line of several segments is joined first and stands as one pass."""
    notes = _notes(measured)
    if len({single.setup.segment for single in measured.passes}) > 1:
        return _joined(measured, notes)
    passes, codes = measured.passes, measured.codes()
    began = passes[0].taken.began_utc
    return ReadingsTable(
        position_mm=_long([single.profile.position_mm for single in passes]),
        columns={name: _column(passes, name, "iso") for name in codes},
        pass_number=np.repeat([single.taken.number for single in passes], [_size(single) for single in passes]),
        direction=tuple(single.taken.direction for single in passes for _ in range(_size(single))),
        standard_deviation={name: _column(passes, name, "standard_deviation") for name in codes},
        samples_of={name: _column(passes, name, "samples").astype(np.int64) for name in codes},
        metadata=notes,
        time_s=_long(
            [np.array([(one.began_utc - began).total_seconds() for one in single.readings]) for single in passes]
        ),
    )


def joints_on_line(machine: Machine, zero: PositionZero | None) -> tuple[float, ...]:
    """Positions of the line at which the joints of the bed lie; none where the zero is not tied to a known mark."""
    mark = next((one for one in machine.marks if zero is not None and one.name == zero.mark), None)
    if machine.bed is None or mark is None or zero is None:
        return ()
    return tuple(zero.sense * (joint.bed_mm - mark.bed_mm - zero.offset_mm) for joint in machine.bed.joints)


def joints_within(measured: MeasuredLine) -> tuple[float, ...]:
    """Those that lie between the first and the last station of the line."""
    places = _long([single.profile.position_mm for single in measured.passes])
    zero = measured.passes[-1].setup.zero
    return tuple(at for at in joints_on_line(measured.machine, zero) if places.min() < at < places.max())


def _joined(measured: MeasuredLine, notes: dict[str, str]) -> ReadingsTable:
    whole = {name: joined(measured, name) for name in measured.codes()}
    first = next(iter(whole.values()))
    alike = {name: one for name, one in whole.items() if np.array_equal(one.position_mm, first.position_mm)}
    signs = {name: to_screen(measured, name) for name in alike}
    return ReadingsTable(
        first.position_mm, {name: signs[name] * one.mean for name, one in alike.items()}, metadata=notes
    )


def to_screen(measured: MeasuredLine, name: str) -> int:
    """Factor between the ISO sign of a quantity and the direction that screens call positive."""
    column = measured.passes[0].profile.column(name)
    return 1 if column is None else column.to_screen


def _notes(measured: MeasuredLine) -> dict[str, str]:
    axes, last = measured.machine.axes, measured.passes[-1].setup
    notes = {
        "machine": f"{measured.machine.kind} {measured.machine.name}",
        "line": measured.line.name,
        "state": measured.line.state,
        "up": axes.up,
        "operator": axes.operator,
    }
    if measured.machine.invented:
        notes["invented"] = "yes"
    places = {"functional_point": last.functional_point_mm, "detector": last.detector_offset_mm}
    for name, offset in places.items():
        if offset is not None:
            along, up, towards = offset
            notes[name] = f"{along:+g} mm along, {up:+g} mm up, {towards:+g} mm towards the operator"
    notes["segments"] = ", ".join(str(one) for one in sorted({each.setup.segment for each in measured.passes}))
    notes["excluded"] = "; ".join(why for each in measured.passes for why in each.excluded_why) or ""
    if last.zero is not None:
        notes |= {"zero mark": last.zero.mark, "zero offset mm": f"{last.zero.offset_mm:g}"}
        notes["positions grow"] = "left" if last.zero.sense < 0 else "right"
    if joints := joints_within(measured):
        notes["joints"] = ", ".join(f"{at:g}" for at in joints)
    return {key: " ".join(value.split()) for key, value in notes.items()}


def _column(passes: Sequence[MeasuredPass], name: str, field: str) -> Floats:
    return _long([np.asarray(getattr(single.profile.column(name), field), dtype=np.float64) for single in passes])


def _long(parts: Sequence[Floats]) -> Floats:
    return np.concatenate(parts)


def _size(single: MeasuredPass) -> int:
    return int(single.profile.position_mm.size)
