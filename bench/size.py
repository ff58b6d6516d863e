"""A large archive: how quickly it answers against plain SQL written by hand, and how large its file is.

``python -m bench.size FILE [--passes 100000] [--readings 100]`` makes the archive where it is not there or goes on with
it where it is not full (100 000 passes of 100 readings with their windows: 10 million readings), then measures: by the
clock, and by the processor's time, which other programs disturb less.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import sqlite3
import statistics
import struct
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

import msgspec

from bench.size_fill import CHANNELS, SAMPLES, fill
from waywright.archive import Archive, open_archive
from waywright.archive.kinds import Tally
from waywright.visit import Pass

REPEATS = 15

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
        kinds = ("machine", "site", "person", "visit", "line", "instrument", "plan", "sheet")
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


def quickest(do: Callable[[], Any]) -> tuple[float, float]:
    """Milliseconds of the quickest of several runs, by the clock and of the processor; the first is left out.

    What else runs on the computer only makes them slower.
    """
    do()
    times = []
    for _ in range(REPEATS):
        began, worked = time.perf_counter(), time.process_time()
        do()
        times.append((time.perf_counter() - began, time.process_time() - worked))
    return 1000 * min(by_clock for by_clock, _ in times), 1000 * min(work for _, work in times)


def against(here: Callable[[], Any], there: Callable[[], Any]) -> dict[str, float]:
    """The program against plain SQL, in turns: the median of the quickest."""
    pairs = [(quickest(here), quickest(there)) for _ in range(3)]
    (ms, cpu_ms), (plain_ms, plain_cpu_ms) = (
        [statistics.median(pair[side][which] for pair in pairs) for which in (0, 1)] for side in (0, 1)
    )
    return {"ms": ms, "plain_ms": plain_ms, "ratio": ms / plain_ms, "cpu_ratio": cpu_ms / plain_cpu_ms}


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
            told[name] = against(lambda h=here, a=asked: h(a), lambda t=there, a=asked: t(a))
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
    return {name: quickest(lambda after=after: archive.page(Pass, after, 50))[0] for name, after in starts.items()}


def main() -> None:
    """Make, measure, print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--passes", type=int, default=100_000)
    parser.add_argument("--readings", type=int, default=100)
    asked = parser.parse_args()
    fill(asked.file, asked.passes, asked.readings)
    print(msgspec.json.format(msgspec.json.encode(measure(asked.file, asked.readings)), indent=1).decode())


if __name__ == "__main__":
    main()
