"""``waywright capture`` against the workshop's peers: killed in the middle, continued, readings by hand."""

import contextlib
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from waywright.archive import open_archive
from waywright.jobs.measured import find_line
from waywright.jobs.practise import write_practice_files
from waywright.simulation import Workshop

FACTOR = 20.0
PATIENCE_S = 120.0


class Capture:
    """A capturing process and what it has printed so far."""

    def __init__(self, folder: Path, *options: str) -> None:
        names = [str(folder / f"{name}.toml") for name in ("beam", "distance", "level")]
        command = [sys.executable, "-u", "-m", "waywright", "capture", *names, "--factor", str(FACTOR)]
        archive = ["--archive", str(folder / "a.sqlite"), "--averaging-s", "3", *options]
        pipe = subprocess.PIPE
        self.process = subprocess.Popen(
            [*command, *archive], stdin=pipe, stdout=pipe, stderr=subprocess.STDOUT, text=True
        )
        self.lines: list[str] = []
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        self.lines.extend(iter(self.process.stdout.readline, ""))

    @property
    def announced(self) -> int:
        """Readings that it said were taken."""
        return sum(line.strip()[:1].isdigit() and "±" in line for line in list(self.lines))

    def wait_for(self, what: str, done: object) -> None:
        assert callable(done)
        until = time.monotonic() + PATIENCE_S
        while not done():
            gone = self.process.poll() is not None and what != "the end"
            assert not gone, f"it ended instead of {what}:\n" + "".join(self.lines)
            assert time.monotonic() < until, f"waited for {what}:\n" + "".join(self.lines)
            time.sleep(0.02)

    def type(self, line: str) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(line + "\n")
        self.process.stdin.flush()

    def has_said(self, words: str) -> bool:
        return any(words in line for line in list(self.lines))


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Workshop]:
    with Workshop.start("calm-hall", FACTOR, tmp_path) as running:
        yield running


@pytest.fixture
def files(tmp_path: Path) -> list[str]:
    machine, setup = write_practice_files("calm-hall", tmp_path)
    return ["--machine", str(machine), "--set-up", str(setup)]


@contextlib.contextmanager
def capturing(folder: Path, *options: str) -> Iterator[Capture]:
    running = Capture(folder, *options)
    try:
        yield running
    finally:
        running.process.kill()
        running.process.wait()


def test_a_killed_pass_loses_nothing_and_goes_on(workshop: Workshop, files: list[str], tmp_path: Path) -> None:
    with capturing(tmp_path, *files) as first:
        first.wait_for("all instruments", lambda: first.has_said("distance is connected"))
        workshop.drive()
        first.wait_for("five readings", lambda: first.announced >= 5)
        first.process.send_signal(signal.SIGKILL)
        first.process.wait()
        announced = first.announced
    with open_archive(tmp_path / "a.sqlite") as archive:
        [taken] = archive.passes(find_line(archive, None).id)
        kept = archive.readings(taken.id, with_window=True)
        assert len(kept) >= announced
        assert taken.outcome is None
        assert archive.check().good
    with capturing(tmp_path, *files, "--continue", "--passes", "backward") as second:
        second.wait_for("all instruments again", lambda: second.has_said("distance is connected"))
        workshop.drive()  # a slow computer may have missed the rest of the first drive
        second.wait_for("more readings", lambda: second.announced >= 3)
        second.type("e")
        second.wait_for("the pass asked for", lambda: second.has_said("pass 2, backward: armed"))
        second.type("e")
        second.wait_for("the end", lambda: second.process.poll() is not None)
        assert second.process.returncode == 0
    with open_archive(tmp_path / "a.sqlite") as archive:
        [taken, added] = sorted(archive.passes(find_line(archive, None).id), key=lambda single: single.number)
        assert (added.direction, added.number, added.conditions) == ("backward", 2, taken.conditions)
        everything = archive.readings(taken.id)
        assert [reading.number for reading in everything] == list(range(len(everything)))
        assert len(everything) >= len(kept) + 3
        assert [reading.hash for reading in everything[: len(kept)]] == [reading.hash for reading in kept]
        assert taken.outcome == "finished"
        assert archive.check().good


def test_a_reading_by_hand_and_an_orderly_stop(workshop: Workshop, files: list[str], tmp_path: Path) -> None:
    with capturing(tmp_path, *files) as running:
        running.wait_for("the first standstill", lambda: running.announced >= 1)
        running.type("")
        running.wait_for("the reading by hand", lambda: running.announced >= 2)
        running.process.send_signal(signal.SIGINT)
        running.wait_for("the end", lambda: running.process.poll() is not None)
        assert running.process.returncode == 0
        assert running.has_said("stopped; it can be continued")
    with open_archive(tmp_path / "a.sqlite") as archive:
        [taken] = archive.passes(find_line(archive, None).id)
        assert taken.outcome == "stopped"
        by_hand = archive.readings(taken.id)[1]
        assert by_hand.taken_by == "hand"
        assert by_hand.supersedes == archive.readings(taken.id)[0].id


def test_what_a_pass_knows_is_kept(workshop: Workshop, files: list[str], tmp_path: Path) -> None:
    with capturing(tmp_path, *files, "--technician", "Mara Quill (invented)") as running:
        running.wait_for("the first standstill", lambda: running.announced >= 1)
        running.type("e")
        running.wait_for("the end", lambda: running.process.poll() is not None)
    with open_archive(tmp_path / "a.sqlite") as archive:
        line = find_line(archive, None)
        [setup], [taken], [person] = archive.setups(line.id), archive.passes(line.id), archive.people()
    scenario = workshop.scenario
    assert (line.name, line.axis, line.to_mm) == ("carriage along the bed", "Z", 5200.0)
    assert (setup.detector_side, setup.source, setup.zero) == ("tool", scenario.source, scenario.zero)
    assert setup.functional_point_mm == scenario.functional_point_mm
    assert [use.name for use in setup.instruments] == ["beam", "distance", "level"]
    assert all(len(use.description_sha256 or "") == 64 for use in setup.instruments)
    assert taken.conditions.machine.anchor_bolts == "final"
    assert taken.conditions.temperatures[0].place == "air at the beam"
    assert person.name == "Mara Quill (invented)"
