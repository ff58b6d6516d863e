"""Make the stored archive of the present format: ``python tests/archive/make_format.py``.

Run once when a format is released and commit the file; later versions of the program must open it for ever.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from archive_samples import MOMENT, a_block, a_reading, an_event, ended, fixed_ids, stay
from waywright.archive import open_archive
from waywright.archive.format import FORMATS
from waywright.clocks import SystemClock
from waywright.visit import Exclusion

FOLDER = Path(__file__).parent / "formats"


class FixedClock(SystemClock):
    """Always the same moment."""

    def utc(self) -> datetime:
        return datetime(2026, 3, 4, 12, 0, 0, 123456, tzinfo=UTC)


def make(path: Path) -> None:
    """A visit with one pass of five readings, a repeat and an exclusion, and a mended set-up."""
    known = stay()
    ids = fixed_ids(2, 10)
    with open_archive(path, create=True, clock=FixedClock()) as archive:
        for record in known.all():
            archive.save(record)
        archive.begin_pass(known.taken)
        reading, first = None, None
        for number in range(5):
            supersedes = first.id if first and number == 4 else None
            reading = a_reading(known.taken.id, reading, samples=10, id=ids[number], supersedes=supersedes)
            first = first or reading
            archive.keep_reading(reading)
        archive.keep_stream(a_block(known.taken.id))
        archive.note(replace(an_event(known.taken.id), id=ids[5]))
        archive.end_pass(ended(known.taken))
        archive.save(Exclusion(ids[6], ids[2], "walked through the beam", MOMENT, known.person.id))
        archive.save(replace(known.setup, detector_side="work"), by=known.person.id, reason="detector on the bed")


if __name__ == "__main__":
    target = FOLDER / str(int(FORMATS[-1])) / "archive.sqlite"
    target.parent.mkdir(parents=True, exist_ok=True)
    if target.exists():
        sys.exit(f"{target} is there already: a released format is never made again.")
    make(target)
