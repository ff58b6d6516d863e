"""Gates of a line from what is recorded about it: instruments, state of the machine, heat, like states."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise

from waywright.archive import open_archive
from waywright.guard import GateResult, State, instruments_gate, machine_gate, same_state, thermal_gate
from waywright.jobs.evidence import Judged, Keep, keep_at
from waywright.jobs.measured import MeasuredLine, find_line, measured_line
from waywright.jobs.remember import archive_path
from waywright.visit import Conditions, Temperature

_HOUR_S = 3600.0


def gates(where: Keep, *, keep: bool = False) -> tuple[GateResult, ...]:
    """Judge the gates of a line (the newest without a name), and keep them at it where asked to."""
    with open_archive(archive_path(where.archive)) as archive:
        line = find_line(archive, where.line)
        found = gates_of(measured_line(archive, line))
        for gate in found if keep else ():
            outcome = "open" if gate.open else "closed"
            keep_at(archive, Judged(gate.gate.value, outcome, gate.open, gate.objections, {}, gate), line.id, where.by)
    return found


def gates_of(measured: MeasuredLine) -> tuple[GateResult, ...]:
    """Instruments on the day of the last pass; its machine state; heat over all passes; each pass like the one before.

    Only passes with readings count; without any there is nothing to judge.
    """
    if not measured.passes:
        return ()
    last = measured.passes[-1]
    found = [
        instruments_gate(last.setup.instruments, last.taken.began_utc.date()),
        machine_gate(last.taken.conditions.machine),
        thermal_gate(change_k_per_h(measured), None),
    ]
    states = [State(one.taken.conditions.machine, bed_degc(one.taken.conditions)) for one in measured.passes]
    unlike = [result for pair in pairwise(states) if not (result := same_state(*pair)).open]
    return (*found, *unlike[:1])


def bed_degc(conditions: Conditions) -> float | None:
    """Temperature of the bed (its top, if several are recorded), by the name of the place; None if not recorded."""
    places = [item for item in conditions.temperatures if "bed" in item.place.lower()]
    top = [item for item in places if "top" in item.place.lower()]
    chosen = top or places
    return chosen[0].value_degc if chosen else None


def change_k_per_h(measured: MeasuredLine) -> float | None:
    """Fastest change of any one place between two readings of its temperature a quarter of an hour or more apart."""
    taken: dict[str, list[tuple[datetime, float]]] = {}
    for single in measured.passes:
        for item in single.taken.conditions.temperatures:
            taken.setdefault(item.place, []).append((_moment(item, single.taken.began_utc), item.value_degc))
    rates = [
        (b - a) / ((later - earlier).total_seconds() / _HOUR_S)
        for series in taken.values()
        for (earlier, a), (later, b) in pairwise(sorted(series))
        if (later - earlier).total_seconds() >= _HOUR_S / 4.0
    ]
    return max(rates, key=abs) if rates else None


def _moment(item: Temperature, otherwise: datetime) -> datetime:
    return item.taken_utc or otherwise
