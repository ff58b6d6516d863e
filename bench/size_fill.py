"""A large archive to measure: its tables made by the program, its rows in bulk, every reading sealed and chained.

The samples of a reading's window are those of one of 500 readings, so that they compress as noise does.
"""

from __future__ import annotations

import hashlib
import sqlite3
import struct
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import numpy as np

from waywright.archive import open_archive
from waywright.archive.kinds import Tally, encode, kind_of
from waywright.archive.windows import pack_window
from waywright.clocks import new_id, utc_microseconds
from waywright.machine import Bed, Machine, Mark
from waywright.quantities import Axes, Direction
from waywright.readings import ChannelValue, Reading, Trace, canonical_bytes
from waywright.visit import (
    ChannelMeaning,
    Interpretation,
    KeptResult,
    Line,
    Pass,
    PassSettings,
    SetUp,
    Visit,
)

CHANNELS = ("beam.vertical_um", "beam.side_um")
BEGAN = datetime(2020, 1, 6, 8, tzinfo=UTC)
SAMPLES = 20
VISITS, LINES, PASSES = 20, 2, 5  # a machine, a visit, a line
PATTERNS = 500


def patterns(readings: int) -> list[tuple[bytes, bytes]]:
    """Canonical bytes and windows of readings that all others are copies of, but for ids, chain and number."""
    rng = np.random.default_rng(1)
    made = []
    for number in range(max(PATTERNS, readings)):
        time_s = 7.0 * (number % readings) + np.arange(SAMPLES) / 10 + rng.normal(0, 1e-3, SAMPLES)
        window = tuple(Trace(channel, time_s, rng.normal(40.0, 0.8, SAMPLES)) for channel in CHANNELS)
        values = tuple(
            ChannelValue(t.channel, float(t.value.mean()), float(t.value.std(ddof=1)), SAMPLES) for t in window
        )
        began = BEGAN + timedelta(seconds=7 * number)
        reading = Reading(UUID(int=1), UUID(int=2), number % readings, 50.0 * (number % readings), "forward", values,
                          began, began + timedelta(seconds=2), window=window)  # fmt: skip
        made.append((canonical_bytes(reading), pack_window(window) or b""))
    return made


def sealed(pass_id: UUID, begin: datetime, readings: int, some: list[tuple[bytes, bytes]]) -> Iterator[tuple[Any, ...]]:
    """Rows of the readings of a pass, chained."""
    previous = bytes(32)
    for number in range(readings):
        body, window = some[(pass_id.int + number) % len(some)] if readings >= PATTERNS else some[number]
        identity = new_id(begin + timedelta(seconds=7 * number)).bytes
        body = body[:4] + identity + pass_id.bytes + body[36:-32] + previous
        (position_mm,) = struct.unpack_from("<d", body, 40)
        digest = hashlib.sha256(body).digest()
        (began,) = struct.unpack_from("<q", body, body.index(b"standstill") + 10)
        yield identity, pass_id.bytes, number, position_mm, began, previous, digest, body, window
        previous = digest


def records(machine_number: int, begin: datetime) -> Iterator[tuple[Any, ...]]:
    """Everything about a machine: (record, parent kind) in the order written; passes come with their ends."""
    machine = Machine(
        new_id(begin), f"M-{machine_number:04d}", "roll lathe", Axes("-Y", "+X"), Bed(6400.0),
        (Mark("tailstock stop", 6100.0),), serial=f"S{machine_number:05d}", owner="Hollin Reach",
        invented=True,
    )  # fmt: skip
    yield machine, None, begin
    for visit_number in range(VISITS):
        at = begin + timedelta(days=90 * visit_number)
        visit = Visit(new_id(at), machine.id, f"check {visit_number}", at, invented=True)
        yield visit, machine.id, at
        for line_number in range(LINES):
            line = Line(new_id(at), visit.id, f"way {line_number}", "Z", from_mm=0.0, to_mm=5000.0)
            setup = SetUp(new_id(at), line.id, detector_side="tool")
            meanings = (
                ChannelMeaning(CHANNELS[0], "EYZ", Direction.UP),
                ChannelMeaning(CHANNELS[1], "EXZ", Direction.AWAY),
            )
            yield line, visit.id, at
            yield setup, line.id, at
            yield Interpretation(new_id(at), setup.id, meanings), setup.id, at
            for number in range(PASSES):
                began = at + timedelta(minutes=20 * (PASSES * line_number + number))
                taken = Pass(new_id(began), line.id, setup.id, number + 1, "forward", "distance.position_mm", CHANNELS,
                             began, PassSettings(2.0, 1.0, 20.0))  # fmt: skip
                yield taken, line.id, began
            result = KeptResult(new_id(at), line.id, "EYZ", "least-squares", 20.0 + visit_number, "um", 2.0, 2.0, 0.95,
                                "1", "0" * 64, at, figures={"bow_um": 3.0})  # fmt: skip
            yield result, line.id, at


def fill(path: Path, passes: int, readings: int) -> None:
    """Make the archive, or go on where it was left: a machine with all its passes is one transaction."""
    open_archive(path, create=True).close()
    raw = sqlite3.connect(path)
    raw.execute("PRAGMA synchronous=OFF")
    raw.execute("PRAGMA cache_size=-400000")
    (there,) = raw.execute("SELECT count(*) FROM subject WHERE kind = 'machine'").fetchone()
    some = patterns(readings)
    machines = max(1, round(passes / (VISITS * LINES * PASSES)))
    began_s = time.monotonic()
    for number in range(there, machines):
        with raw:
            _machine(raw, number, readings, some)
        if number % 25 == 0:
            print(f"{number + 1} of {machines} machines, {time.monotonic() - began_s:.0f} s", flush=True)
    raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    raw.close()


def _machine(raw: sqlite3.Connection, number: int, readings: int, some: list[tuple[bytes, bytes]]) -> None:
    for record, parent, at in records(number, BEGAN + timedelta(minutes=number)):
        _keep(raw, record, parent, at)
        if isinstance(record, Pass):
            rows = list(sealed(record.id, record.began_utc, readings, some))
            raw.executemany("INSERT INTO reading VALUES (?,?,?,?,?,?,?,?,?,NULL)", rows)
            ended = record.began_utc + timedelta(minutes=15)
            _keep(raw, replace(record, ended_utc=ended, outcome="finished"), parent, ended, known=True)
            _keep(raw, Tally(new_id(ended), record.id, readings, rows[-1][6]), record.id, ended)


def _keep(raw: sqlite3.Connection, record: Any, parent: UUID | None, at: datetime, known: bool = False) -> None:
    if not known:
        raw.execute("INSERT INTO subject VALUES (?,?)", (record.id.bytes, kind_of(type(record)).name))
    values = (new_id(at).bytes, record.id.bytes, parent.bytes if parent else None, None, utc_microseconds(at))
    raw.execute("INSERT INTO record VALUES (?,?,?,?,?,NULL,NULL,?,NULL)", (*values, encode(record)))
