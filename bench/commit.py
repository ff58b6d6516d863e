"""Time from the last sample of a window to the committed reading, against plain SQL that commits the same bytes.

The archive seals a reading (SHA-256 of its canonical bytes), packs its window and commits; plain SQL is sqlite3 with
an INSERT and a COMMIT of bytes that are ready, same settings, same disk. The two alternate, so that a busy disk slows
both; the figures are medians.
"""

from __future__ import annotations

import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from bench.measure import Row
from waywright.archive import Archive, open_archive
from waywright.archive.windows import pack_window
from waywright.clocks import new_id
from waywright.machine import Machine
from waywright.quantities import Axes
from waywright.readings import ChannelValue, Reading, Trace, canonical_bytes, seal
from waywright.visit import Line, Pass, PassSettings, SetUp, Visit

CHANNELS = ("beam.vertical_um", "beam.side_um", "level.cross_um_per_m")
READINGS = 200
SAMPLES = 100


@dataclass(frozen=True)
class CommitTimes:
    """Medians over all readings, in seconds."""

    archive_s: float
    plain_s: float

    @property
    def ratio(self) -> float:
        return self.archive_s / self.plain_s


def measured(readings: int = READINGS, samples: int = SAMPLES, folder: Path | None = None) -> CommitTimes:
    """Commit readings of three channels with ``samples`` each, by the archive and by plain SQL in turn."""
    with tempfile.TemporaryDirectory(dir=folder) as place:
        archive = open_archive(Path(place) / "archive.sqlite", create=True)
        plain = _plain(Path(place) / "plain.sqlite")
        taken = _begun(archive)
        archive_s, plain_s = [], []
        sealed: Reading | None = None
        for reading in _windows(taken, readings, samples):
            began = time.perf_counter()
            sealed = seal(reading, sealed)
            archive.keep_reading(sealed)
            archive_s.append(time.perf_counter() - began)
            plain_s.append(_timed(_committing(plain, sealed)))
        archive.close()
        plain.close()
    return CommitTimes(statistics.median(archive_s), statistics.median(plain_s))


def _plain(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, isolation_level=None)
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}").close()
    connection.execute(
        "CREATE TABLE reading (id BLOB PRIMARY KEY, pass_id BLOB, number INTEGER, position_mm REAL, began_utc INTEGER, "
        "previous_hash BLOB, hash BLOB, body BLOB, window BLOB, UNIQUE (pass_id, number))"
    )
    return connection


def _committing(connection: sqlite3.Connection, reading: Reading) -> Callable[[], None]:
    row = (
        reading.id.bytes,
        reading.pass_id.bytes,
        reading.number,
        reading.position_mm,
        int(reading.began_utc.timestamp() * 1e6),
        reading.previous_hash,
        reading.hash,
        canonical_bytes(reading),
        pack_window(reading.window),
    )

    def commit() -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
        connection.execute("COMMIT")

    return commit


def _timed(step: Callable[[], None]) -> float:
    began = time.perf_counter()
    step()
    return time.perf_counter() - began


def _windows(taken: Pass, readings: int, samples: int) -> Iterator[Reading]:
    """Unsealed readings, as capture has them once the last sample of the window is in."""
    rng = np.random.default_rng(5)
    for number in range(readings):
        time_s = 7.0 * number + np.arange(samples) / 50
        window = tuple(Trace(channel, time_s, rng.normal(40.0, 0.8, samples)) for channel in CHANNELS)
        values = tuple(ChannelValue(t.channel, float(t.value.mean()), float(t.value.std()), samples) for t in window)
        began = taken.began_utc + timedelta(seconds=7 * number)
        ended = began + timedelta(seconds=samples / 50)
        position_mm = 240.0 * number
        yield Reading(new_id(), taken.id, number, position_mm, "forward", values, began, ended, window=window)


def _begun(archive: Archive) -> Pass:
    began = datetime.now(UTC)
    machine = Machine(new_id(), "HR-6", "roll lathe", Axes("-Y", "+X"), invented=True)
    visit = Visit(new_id(), machine.id, None, began, invented=True)
    line = Line(new_id(), visit.id, "carriage", "Z")
    setup = SetUp(new_id(), line.id)
    for record in (machine, visit, line, setup):
        archive.save(record)
    settings = PassSettings(2.0, 1.0, 20.0)
    taken = Pass(new_id(), line.id, setup.id, 1, "forward", "distance.position_mm", CHANNELS, began, settings)
    archive.begin_pass(taken)
    return taken


def rows() -> Iterator[Row]:
    times = measured()
    yield Row("last sample to committed reading (median)", times.archive_s, times.plain_s, "plain SQL, bytes ready")


if __name__ == "__main__":
    times = measured()
    print(f"archive {times.archive_s * 1e3:.2f} ms, plain SQL {times.plain_s * 1e3:.2f} ms, ratio {times.ratio:.2f}")
