"""An invented machine with a visit, and readings for it, as the archive tests use them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

import numpy as np

from waywright.clocks import new_id
from waywright.machine import Bed, Machine, Mark, Support, Travel
from waywright.quantities import Axes, Direction
from waywright.readings import ChannelValue, Reading, StreamBlock, Trace, seal
from waywright.visit import (
    ChannelMeaning,
    Conditions,
    InstrumentUse,
    Interpretation,
    Line,
    MachineState,
    Pass,
    PassEvent,
    PassSettings,
    Person,
    PositionZero,
    SetUp,
    SourceStand,
    Temperature,
    Visit,
)

MOMENT = datetime(2026, 3, 4, 5, 6, 7, 891011, tzinfo=UTC)
CHANNELS = ("beam.vertical_um", "beam.side_um")


@dataclass(frozen=True)
class Stay:
    """One of each descriptive record, belonging together."""

    person: Person
    machine: Machine
    visit: Visit
    line: Line
    setup: SetUp
    interpretation: Interpretation
    taken: Pass

    def all(self) -> tuple[Person | Machine | Visit | Line | SetUp | Interpretation | Pass, ...]:
        return (self.person, self.machine, self.visit, self.line, self.setup, self.interpretation, self.taken)


def stay(seed: int = 1) -> Stay:
    """The same ids for the same seed, so that a stored archive can be compared with it."""
    ids = iter(fixed_ids(seed, 7))
    person = Person(next(ids), "Åse Ní Example", "technician")
    machine = Machine(
        next(ids),
        "HR-6",
        "roll lathe",
        Axes(up="-Y", operator="+X"),
        Bed(6400.0, (Support("1", 150.0), Support("8", 150.0, "rear", "wedge shoe")), (0.0, 900.0), 620.0),
        (Mark("tailstock stop", 6100.0),),
        (Travel("Z", 1000.0, 6200.0),),
        serial="0007",
        owner="Hollin Reach",
        invented=True,
    )
    visit = Visit(next(ids), machine.id, "levelling «before»", MOMENT, person.id, (person.id,), invented=True)
    line = Line(next(ids), visit.id, "carriage Z", "Z", from_mm=0.0, to_mm=5200.0, guideway="front V")
    setup = SetUp(
        next(ids),
        line.id,
        detector_side="tool",
        source=SourceStand("bed", 6300.0),
        zero=PositionZero("tailstock stop", -50.5, -1),
        detector_offset_mm=(10.0, 120.0, -3.5),
        instruments=(
            InstrumentUse("beam", "two-axis beam position detector", "HR-BD-01", None, "2027-01-01", "ab" * 32),
        ),
        method="beam",
    )
    meanings = (
        ChannelMeaning(CHANNELS[0], "EYZ", Direction.UP),
        ChannelMeaning(CHANNELS[1], "EXZ", Direction.AWAY, 0.5),
    )
    interpretation = Interpretation(next(ids), setup.id, meanings, 12.25, -1, "direction test", MOMENT, person.id)
    return Stay(person, machine, visit, line, setup, interpretation, a_pass(next(ids), line, setup))


def a_pass(identity: UUID, line: Line, setup: SetUp) -> Pass:
    conditions = Conditions(
        MachineState("X at 300", "clamped", "snug", "off", "2 h"), (Temperature("air at the beam", 21.25, MOMENT),)
    )
    settings = PassSettings(2.0, 1.0, 20.0)
    return Pass(
        identity, line.id, setup.id, 1, "forward", "distance.position_mm", CHANNELS, MOMENT, settings, conditions
    )


def ended(taken: Pass, outcome: str = "finished") -> Pass:
    return replace(taken, ended_utc=taken.began_utc + timedelta(minutes=5), outcome=outcome)


def a_reading(pass_id: UUID, previous: Reading | None, samples: int = 20, **changes: object) -> Reading:
    """The sealed reading that follows ``previous``; values depend on its number alone."""
    number = 0 if previous is None else previous.number + 1
    rng = np.random.default_rng(number)
    began = MOMENT + timedelta(seconds=7 * number)
    time_s = 7.0 * number + np.arange(samples) / 10 + rng.normal(0, 1e-3, samples)
    window = tuple(Trace(channel, time_s, rng.normal(40.0, 0.8, samples)) for channel in CHANNELS)
    values = tuple(ChannelValue(t.channel, float(t.value.mean()), float(t.value.std(ddof=1)), samples) for t in window)
    fields: dict[str, object] = {
        "id": new_id(),
        "pass_id": pass_id,
        "number": number,
        "position_mm": 240.0 * number + float(rng.normal(0, 0.5)),
        "direction": "forward",
        "values": values,
        "began_utc": began,
        "ended_utc": began + timedelta(seconds=2),
        "window": window,
    }
    return seal(Reading(**(fields | changes)), previous)  # type: ignore[arg-type]


def some_readings(pass_id: UUID, count: int, previous: Reading | None = None, samples: int = 20) -> tuple[Reading, ...]:
    made: list[Reading] = []
    for _ in range(count):
        previous = a_reading(pass_id, previous, samples)
        made.append(previous)
    return tuple(made)


def a_block(pass_id: UUID, source: str = "beam", number: int = 0) -> StreamBlock:
    value = np.random.default_rng(number).normal(0, 1, (50, 2))
    value[3, 1] = np.nan
    return StreamBlock(pass_id, source, number, CHANNELS, number + np.arange(50) / 50, value)


def an_event(pass_id: UUID, seconds: float = 0.0) -> PassEvent:
    moment = MOMENT + timedelta(seconds=seconds)
    return PassEvent(new_id(), pass_id, moment, "capture.disturbed", 480.5, {"channel": CHANNELS[0], "spread_um": 3.0})


def fixed_ids(seed: int, count: int) -> tuple[UUID, ...]:
    """Ids of version 7 from a seed."""
    rng = np.random.default_rng(seed)
    tails = (int.from_bytes(rng.bytes(7)) for _ in range(count))
    return tuple(
        UUID(int=(1_770_000_000_000 + step) << 80 | 7 << 76 | 2 << 62 | tail) for step, tail in enumerate(tails)
    )


def same(first: Reading, second: Reading) -> bool:
    """Equal in everything that is sealed, bit for bit, samples included."""
    return first.hash == second.hash and [t.value.tobytes() + t.time_s.tobytes() for t in first.window] == [
        t.value.tobytes() + t.time_s.tobytes() for t in second.window
    ]
