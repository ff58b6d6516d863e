"""Steering a source that tilts its own beam, over real TCP links: a source and a detector that know of each other."""

from __future__ import annotations

import asyncio
import json
import re
import subprocess
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path

import numpy as np
import pytest
from made_line import begin_line
from steering_peers import DETECTOR, FACTOR, FAR_M, NEAR_M, SOURCE, UM_PER_M, Bench, Served

from waywright.archive import open_archive
from waywright.capture import BeamLostError, Ended
from waywright.clocks import ScaledClock
from waywright.errors import BadInput
from waywright.jobs.evidence import Keep, listed
from waywright.jobs.steer import SteeredAlignment, SteeringJob, SteerOrder


def order(folder: Path, **other: object) -> SteerOrder:
    stated: dict[str, object] = {"source": folder / "source.toml", "detector": folder / "beam.toml", "near_m": NEAR_M,
                                 "far_m": FAR_M, "tolerance_um": 40.0, "goal_um": 6.0, "averaging_s": 1.0}  # fmt: skip
    return SteerOrder(**{**stated, **other})  # type: ignore[arg-type]


def steered(
    bench: Bench,
    folder: Path,
    meanwhile: Callable[[SteeringJob, Served], Awaitable[None]] | None = None,
    up: str = "up",
    where: Keep | None = None,
    **other: object,
) -> tuple[SteeredAlignment, Served]:
    async def run() -> tuple[SteeredAlignment, Served]:
        async with Served(bench, folder, up) as served:
            job = SteeringJob(order(folder, **other), ScaledClock(FACTOR))
            beside = asyncio.create_task(meanwhile(job, served)) if meanwhile else None
            found = await job.run(served.drive, where)
            if beside is not None:
                await beside
            return found, served

    return asyncio.run(asyncio.wait_for(run(), 60.0))


@pytest.mark.parametrize("gain", [0.6, 1.7])
def test_the_beam_is_brought_along_the_axis_in_bounded_steps(gain: float, tmp_path: Path) -> None:
    """120 and -60 um/m off; 8 arcsec (39 um/m) at a time; the real effect of a step may be other than stated."""
    bench = Bench(gain=gain)
    found, served = steered(bench, tmp_path)
    assert found.steered.ended is Ended.ALIGNED
    assert np.abs(bench.tilt).max() * (FAR_M - NEAR_M) < 8.0
    assert served.asked == ["near", "far", "near"]
    sizes = [abs(float(line.split()[2])) for line in bench.told]
    assert max(sizes) <= 8.0 + 1e-4
    assert all(line.startswith("TILT ") for line in bench.told)
    assert max(abs(step.told_um_per_m) for step in found.steered.steps) <= 8.0 * UM_PER_M + 1e-3
    assert found.before["beam.vertical_um"].tilt_um_per_m == pytest.approx(-120.0, abs=1.0)
    assert found.after is not None
    assert abs(found.after["beam.vertical_um"].tilt_um_per_m) < 2.0
    assert found.after["beam.vertical_um"].excursion_um < 8.0
    assert found.good


def test_it_stops_at_a_lost_beam_and_sends_nothing_more(tmp_path: Path) -> None:
    bench = Bench(lost_after=3)
    found, served = steered(bench, tmp_path)
    assert found.steered.ended is Ended.LOST
    assert len(bench.told) == 3
    assert found.after is None
    assert not found.good
    assert np.isnan(found.steered.steps[-1].after_um)
    assert served.asked == ["near", "far"]


def test_it_stops_when_time_is_up(tmp_path: Path) -> None:
    found, _ = steered(Bench(tilt=[400.0, 0.0]), tmp_path, timeout_s=8.0, largest_um_per_m=5.0)
    assert found.steered.ended is Ended.TIMEOUT
    assert 0 < len(found.steered.steps) < 20
    assert found.steered.lasted_s < 30.0


def test_it_stops_at_the_stop_key(tmp_path: Path) -> None:
    async def press(job: SteeringJob, served: Served) -> None:
        while len(served.bench.told) < 2:
            await asyncio.sleep(0.01)
        job.stop()

    bench = Bench()
    found, _ = steered(bench, tmp_path, press)
    assert found.steered.ended is Ended.STOPPED
    assert len(bench.told) == 2


def test_a_step_that_goes_the_wrong_way_is_the_last(tmp_path: Path) -> None:
    """The description says down where it is up."""
    bench = Bench(tilt=[180.0, 0.0])
    found, _ = steered(bench, tmp_path, up="down")
    assert found.steered.ended is Ended.WRONG_WAY
    assert len(bench.told) == 1


def test_a_step_without_effect_is_the_last(tmp_path: Path) -> None:
    bench = Bench(gain=0.0)
    found, _ = steered(bench, tmp_path)
    assert found.steered.ended is Ended.NO_EFFECT
    assert len(bench.told) == 1


def test_a_step_that_is_not_confirmed_is_the_last(tmp_path: Path) -> None:
    bench = Bench(mute_after=1)
    found, _ = steered(bench, tmp_path)
    assert found.steered.ended is Ended.NOT_CONFIRMED
    assert len(bench.told) == 2
    assert "confirm" in str(found.steered.why.facts["reason"]) or "answer" in str(found.steered.why.facts["reason"])


def test_what_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "a.sqlite"
    with open_archive(path, create=True) as archive:
        (tmp_path / "line").mkdir()
        begin_line(archive, tmp_path / "line")
    steered(Bench(lost_after=2), tmp_path, where=Keep(None, path))
    steered(Bench(), tmp_path, where=Keep(None, path))
    stopped, good = listed(Keep(None, path))
    assert (stopped.test, stopped.outcome, stopped.good) == ("steering", "stopped", False)
    assert (good.outcome, good.good) == ("good-enough", True)
    assert good.inputs["far_m"] == FAR_M
    assert len(good.figures["steered"]["steps"]) >= 4


def test_a_source_without_steering_is_refused(tmp_path: Path) -> None:
    (tmp_path / "source.toml").write_text(SOURCE.format(port=1, up="up").split("[[steering]]")[0])
    (tmp_path / "beam.toml").write_text(DETECTOR.format(port=2))
    with pytest.raises(BadInput, match="offers no steering"):
        SteeringJob(order(tmp_path), ScaledClock(FACTOR))


@pytest.mark.parametrize(
    ("old", "new", "word"),
    [
        ('command = "tilt_height"', 'command = "fire"', "one value and nothing else"),
        ('command = "tilt_height"', 'command = "tilt_roll"', "no command 'tilt_roll'"),
        ('unit = "arcsec"', 'unit = "um"', "the unit 'um'"),
        ('positive = "up"', 'positive = "operator-side-up"', "direction"),
    ],
)
def test_steering_is_an_angle_and_nothing_else(old: str, new: str, word: str, tmp_path: Path) -> None:
    (tmp_path / "source.toml").write_text(SOURCE.format(port=1, up="up").replace(old, new))
    (tmp_path / "beam.toml").write_text(DETECTOR.format(port=2))
    with pytest.raises(BadInput, match=re.escape(word)):
        SteeringJob(order(tmp_path), ScaledClock(FACTOR))


def test_the_command_steers_and_enter_says_that_the_carriage_stands(tmp_path: Path) -> None:
    """``guard align --steer`` as its own process; the drive follows what it prints."""

    async def run() -> tuple[int, str, Bench]:
        bench = Bench()
        async with Served(bench, tmp_path) as served:
            words = ["guard", "align", "--steer", "source.toml", "--detector", "beam.toml", "--near-m", str(NEAR_M),
                     "--far-m", str(FAR_M), "--tolerance-um", "40", "--goal-um", "6", "--factor", "10"]  # fmt: skip
            process = await asyncio.create_subprocess_exec(
                sys.executable, "-m", "waywright", *words, cwd=tmp_path, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
            )  # fmt: skip
            assert process.stdin is not None
            assert process.stdout is not None
            said = ""
            while line := (await process.stdout.readline()).decode():
                said += line
                if "press Enter" in line:
                    await served.drive("near" if "near the source" in line else "far")
                    process.stdin.write(b"\n")
            return await process.wait(), said, bench

    code, said, bench = asyncio.run(asyncio.wait_for(run(), 120.0))
    assert code == 0, said
    assert "lies along the axis" in said
    assert "moves nothing else" in said
    assert np.abs(bench.tilt).max() * (FAR_M - NEAR_M) < 8.0
    assert json.dumps(bench.told).count("TILT") == len(bench.told)


def test_nothing_is_steered_without_a_beam(tmp_path: Path) -> None:
    with pytest.raises(BeamLostError):
        steered(Bench(lost_after=0), tmp_path)


def test_an_archive_is_needed_to_keep_it(tmp_path: Path) -> None:
    with open_archive(tmp_path / "e.sqlite", create=True):
        pass
    bench = Bench()
    with pytest.raises(BadInput, match="nowhere"):
        steered(bench, tmp_path, where=Keep("nowhere", tmp_path / "e.sqlite"))
    assert bench.told == []
