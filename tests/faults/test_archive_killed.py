"""Killed at any instant, the archive holds every reading that was announced, none by half, and the pass goes on."""

from __future__ import annotations

import random
import sys
import time
from multiprocessing.connection import Connection
from pathlib import Path
from uuid import UUID

import pytest

from archive_children import NO_FORK, all_heard, capture_for_ever, child
from archive_samples import ended, some_readings, stay
from waywright.archive import open_archive

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason=NO_FORK)

INSTANTS = 50


def test_killed_at_fifty_instants(tmp_path: Path) -> None:
    """One pass, continued by fifty processes one after the other, each killed with SIGKILL at a random moment.

    The moment is a random number of readings after the start and a random part of the time that two readings take, so
    that it falls anywhere in the work on a reading, on fast and on slow disks.
    """
    known, path = stay(), tmp_path / "archive.sqlite"
    with open_archive(path, create=True) as archive:
        archive.begin_pass(known.taken)
    chance = random.Random(20260304)
    announced: list[UUID] = []
    for killed in range(1, INSTANTS + 1):
        with child(capture_for_ever, path, known.taken.id) as (process, hears):
            assert hears.recv_bytes() == b"ready"
            announced += _some_readings_later(hears, chance)
            process.kill()
            process.join()
            announced += [UUID(bytes=said) for said in all_heard(hears)]
        with open_archive(path) as archive:
            there = [reading.id for reading in archive.readings(known.taken.id, with_window=True)]
        assert set(announced) <= set(there)
        assert len(there) <= len(announced) + killed  # at most the one that was committed and not yet announced
    assert len(announced) > INSTANTS
    with open_archive(path) as archive:
        found = archive.check()
        assert found.good
        assert found.readings == len(there)
        before = archive.readings(known.taken.id)[-1]
        for reading in some_readings(known.taken.id, 3, before):
            archive.keep_reading(reading)
        archive.end_pass(ended(known.taken))
        assert archive.check().good
        assert [reading.number for reading in archive.readings(known.taken.id)] == list(range(len(there) + 3))


def _some_readings_later(hears: Connection, chance: random.Random) -> list[UUID]:
    count = chance.randrange(5)
    began_s = time.monotonic()
    heard = [UUID(bytes=hears.recv_bytes()) for _ in range(count)]
    each_s = (time.monotonic() - began_s) / count if count else 0.01
    time.sleep(chance.uniform(0.0, 2.0) * each_s)
    return heard
