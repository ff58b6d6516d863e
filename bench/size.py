"""A large archive: how quickly it answers against plain SQL written by hand, and how large its file is.

``python -m bench.size FILE [--passes 100000] [--readings 100]`` makes the archive if it is not there (100 000 passes of
100 readings with their windows: 10 million readings), then measures. Every reading is sealed and chained like a real
one; the samples of its window are those of one of 500 readings, so that they compress as noise does.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import sqlite3
import statistics
import struct
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import msgspec
import numpy as np

from waywright.archive import Archive, open_archive
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
REPEATS = 15


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


def make(path: Path, passes: int, readings: int) -> None:
    """Make the archive: its tables by the program, its rows in bulk."""
    open_archive(path, create=True).close()
    raw = sqlite3.connect(path)
    raw.execute("PRAGMA synchronous=OFF")
    raw.execute("PRAGMA cache_size=-400000")
    some = patterns(readings)
    machines = max(1, round(passes / (VISITS * LINES * PASSES)))
    began_s = time.monotonic()
    for number in range(machines):
        begin = BEGAN + timedelta(minutes=number)
        for record, parent, at in records(number, begin):
            _keep(raw, record, parent, at)
            if isinstance(record, Pass):
                rows = list(sealed(record.id, record.began_utc, readings, some))
                raw.executemany("INSERT INTO reading VALUES (?,?,?,?,?,?,?,?,?,NULL)", rows)
                ended = record.began_utc + timedelta(minutes=15)
                _keep(raw, replace(record, ended_utc=ended, outcome="finished"), parent, ended, known=True)
                _keep(raw, Tally(new_id(ended), record.id, readings, rows[-1][6]), record.id, ended)
        raw.commit()
        if number % 25 == 0:
            print(f"{number + 1} of {machines} machines, {time.monotonic() - began_s:.0f} s", flush=True)
    raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    raw.close()


def _keep(raw: sqlite3.Connection, record: Any, parent: UUID | None, at: datetime, known: bool = False) -> None:
    if not known:
        raw.execute("INSERT INTO subject VALUES (?,?)", (record.id.bytes, kind_of(type(record)).name))
    values = (new_id(at).bytes, record.id.bytes, parent.bytes if parent else None, None, utc_microseconds(at))
    raw.execute("INSERT INTO record VALUES (?,?,?,?,?,NULL,NULL,?,NULL)", (*values, encode(record)))


HOLDING = """
SELECT r.body FROM record r JOIN subject s ON s.id = r.subject
WHERE s.kind = ? AND r.parent = ? AND r.body IS NOT NULL
AND NOT EXISTS (SELECT 1 FROM record l WHERE l.subject = r.subject AND l.id > r.id) ORDER BY r.id
"""
OPEN_READINGS = "SELECT hash, body FROM reading WHERE pass_id = ? ORDER BY number"
SEARCH = """
SELECT r.body FROM subject s JOIN record r
ON r.id = (SELECT id FROM record l WHERE l.subject = s.id ORDER BY l.id DESC LIMIT 1)
WHERE s.kind = ? AND r.body IS NOT NULL AND r.body LIKE ? ORDER BY s.id DESC LIMIT 50
"""
TREND = """
SELECT r.body FROM record v JOIN record l ON l.parent = v.subject JOIN record r ON r.parent = l.subject
JOIN subject s ON s.id = r.subject WHERE v.parent = ? AND s.kind = 'result' AND r.body IS NOT NULL
AND NOT EXISTS (SELECT 1 FROM record x WHERE x.subject = r.subject AND x.id > r.id) ORDER BY r.id
"""


class Plain:
    """What somebody would write who knows the tables: sqlite3, one question each, values out of the bytes."""

    def __init__(self, path: Path) -> None:
        self._raw = sqlite3.connect(f"file:{path}?mode=ro", uri=True)

    def _bodies(self, kind: str, parent: UUID) -> list[Any]:
        return [json.loads(body) for (body,) in self._raw.execute(HOLDING, (kind, parent.bytes))]

    def line(self, line: UUID) -> int:
        count = 0
        for setup in self._bodies("setup", line):
            self._bodies("interpretation", UUID(setup["id"]))
        for taken in self._bodies("pass", line):
            rows = self._raw.execute(OPEN_READINGS, (UUID(taken["id"]).bytes,)).fetchall()
            count += len([_values(digest, body) for digest, body in rows])
        return count

    def visits(self, machine: UUID) -> int:
        return len(self._bodies("visit", machine))

    def search(self, word: str) -> int:
        kinds = ("machine", "site", "person", "visit", "line", "instrument", "plan")
        return len([body for kind in kinds for (body,) in self._raw.execute(SEARCH, (kind, f"%{word}%"))])

    def trend(self, machine: UUID) -> int:
        return len([json.loads(body) for (body,) in self._raw.execute(TREND, (machine.bytes,))])


def _values(digest: bytes, body: bytes) -> tuple[Any, ...]:
    """Position, times and values of a reading whose seal holds: both sides check it."""
    if hashlib.sha256(body).digest() != digest:
        raise ValueError("seal")
    number, position = struct.unpack_from("<Id", body, 36)
    at = 48
    texts = []
    for _ in range(2):
        (length,) = struct.unpack_from("<I", body, at)
        texts.append(body[at + 4 : at + 4 + length].decode())
        at += 4 + length
    began, ended = struct.unpack_from("<qq", body, at)
    at += 32
    (count,) = struct.unpack_from("<I", body, at)
    at += 4
    values = []
    for _ in range(count):
        (length,) = struct.unpack_from("<I", body, at)
        channel = body[at + 4 : at + 4 + length].decode()
        values.append((channel, *struct.unpack_from("<ddI", body, at + 4 + length)))
        at += 24 + length
    moments = [datetime.fromtimestamp(moment / 1e6, UTC) for moment in (began, ended)]
    return number, position, *texts, *moments, UUID(bytes=body[4:20]), tuple(values)


class Ours:
    """The same questions through the library."""

    def __init__(self, archive: Archive) -> None:
        self._archive = archive

    def line(self, line: UUID) -> int:
        for setup in self._archive.setups(line):
            self._archive.interpretation(setup.id)
        return sum(len(self._archive.readings(taken.id)) for taken in self._archive.passes(line))

    def visits(self, machine: UUID) -> int:
        return len(self._archive.visits(machine))

    def search(self, word: str) -> int:
        return len(self._archive.search(word))

    def trend(self, machine: UUID) -> int:
        return len(self._archive.results(machine))


def quickest(do: Callable[[], Any]) -> float:
    """The quickest of several runs, the first left out: what else runs on the computer only makes them slower."""
    do()
    times = []
    for _ in range(REPEATS):
        began = time.perf_counter()
        do()
        times.append(1000 * (time.perf_counter() - began))
    return min(times)


def measure(path: Path, readings: int) -> dict[str, Any]:
    """Ratios to plain SQL, the spread of pages, and the size of the file against float64."""
    told: dict[str, Any] = {}
    with open_archive(path) as archive:
        plain, ours = Plain(path), Ours(archive)
        machine = archive.machines()[len(archive.machines()) // 2]
        visit = archive.visits(machine.id)[3]
        line = archive.lines(visit.id)[0]
        for name, asked in (("line", line.id), ("visits", machine.id), ("search", machine.name), ("trend", machine.id)):
            here, there = getattr(ours, name), getattr(plain, name)
            assert here(asked) == there(asked), name
            pairs = [
                (quickest(lambda h=here, a=asked: h(a)), quickest(lambda t=there, a=asked: t(a))) for _ in range(3)
            ]
            ms, plain_ms = (statistics.median(pair[side] for pair in pairs) for side in (0, 1))
            told[name] = {"ms": ms, "plain_ms": plain_ms, "ratio": ms / plain_ms}
        told["pages"] = _pages(archive)
        passes = archive.every(Tally)
    numbers = sum(tally.readings for tally in passes) * (1 + 2 * len(CHANNELS) + 2 * SAMPLES * len(CHANNELS))
    size = path.stat().st_size
    told["size"] = {"bytes": size, "float64_bytes": 8 * numbers, "ratio": size / (8 * numbers)}
    told["readings"], told["passes"] = len(passes) * readings, len(passes)
    return told


def _pages(archive: Archive) -> dict[str, float]:
    """The first page of 50 passes, the one in the middle, and the last full one."""
    every = sorted(taken.id for taken in archive.every(Pass))
    starts = {"first": None, "middle": every[len(every) // 2], "last": every[-51]}
    return {name: quickest(lambda after=after: archive.page(Pass, after, 50)) for name, after in starts.items()}


def main() -> None:
    """Make, measure, print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--passes", type=int, default=100_000)
    parser.add_argument("--readings", type=int, default=100)
    asked = parser.parse_args()
    if not asked.file.exists():
        make(asked.file, asked.passes, asked.readings)
    print(msgspec.json.format(msgspec.json.encode(measure(asked.file, asked.readings)), indent=1).decode())


if __name__ == "__main__":
    main()
