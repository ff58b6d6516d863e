"""A line in an archive, made without instruments: known truth, two passes, one repeat. All of it invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock, new_id
from waywright.files.setup_file import LineEntry, SetUpEntry, SetUpFile
from waywright.instruments import read_instrument
from waywright.jobs.begin import Begun, keep
from waywright.machine import Machine, Mark
from waywright.quantities import Axes
from waywright.readings import ChannelValue, Reading, seal
from waywright.visit import Line, Pass, PassSettings, PositionZero

LATHE = Machine(
    new_id(), "HR-6", "roll lathe", Axes("-Y", "+X"), marks=(Mark("tailstock mark", 5950.0),),
    owner="Hollin Reach (invented)", invented=True,
)  # fmt: skip
STATIONS_MM = np.linspace(0.0, 5000.0, 21)
BEGAN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)

BEAM = """
format = 1
name = "beam"
title = "two-axis beam position detector"
serial = "HR-BD-01"
[link]
kind = "tcp"
host = "127.0.0.1"
port = 50001
[stream]
pattern = '^(?P<v>\\S+) (?P<s>\\S+)$'
rate_hz = 50
[[channel]]
name = "vertical"
group = "v"
kind = "displacement"
unit = "um"
positive = "up"
[[channel]]
name = "side"
group = "s"
kind = "displacement"
unit = "um"
positive = "towards-operator"
"""
DISTANCE = """
format = 1
name = "distance"
title = "distance meter"
[link]
kind = "serial"
port = "COM9"
[stream]
pattern = '^(?P<p>\\S+) mm$'
rate_hz = 10
[[channel]]
name = "position"
group = "p"
kind = "position"
unit = "mm"
"""


def height_um(position_mm: np.ndarray) -> np.ndarray:
    """Up positive: a bow of 30 um."""
    return 30 * np.sin(np.pi * position_mm / 5000)


def descriptions(folder: Path) -> tuple[Path, Path]:
    """Two description files."""
    for name, body in (("beam", BEAM), ("distance", DISTANCE)):
        (folder / f"{name}.toml").write_text(body)
    return folder / "beam.toml", folder / "distance.toml"


def begin_line(archive: Archive, folder: Path, mark: str = "tailstock mark") -> Begun:
    """A line at the lathe."""
    facts = SetUpFile(
        line=LineEntry(name="carriage", axis="Z", from_mm=0.0, to_mm=5000.0),
        set_up=SetUpEntry(detector_side="tool", zero=PositionZero(mark, sense=-1)),
    )
    instruments = tuple(read_instrument(path) for path in descriptions(folder))
    return keep(archive, LATHE, facts, instruments, "Mara Quill (invented)", SystemClock())


def take_pass(
    archive: Archive, begun: Begun, number: int, *, offset_um: float = 0.0, repeat: int | None = None
) -> Pass:
    """A finished pass: height as known, side a slope; reading ``repeat`` is taken again, its first being wrong."""
    direction = "forward" if number % 2 else "backward"
    began = BEGAN + timedelta(minutes=10 * number)
    taken = Pass(
        new_id(began), begun.line.id, begun.setup.id, number, direction, begun.position_channel, begun.channels,
        began, PassSettings(3.0, 1.5, 20.0),
    )  # fmt: skip
    archive.begin_pass(taken)
    stations = STATIONS_MM if number % 2 else STATIONS_MM[::-1]
    last: Reading | None = None
    for index, position_mm in enumerate(stations):
        wrong_um = 500.0 if index == repeat else 0.0
        height = float(height_um(position_mm)) + offset_um + 0.004 * position_mm
        last = _keep(archive, taken, last, float(position_mm), height + wrong_um, None)
        if index == repeat:
            last = _keep(archive, taken, last, float(position_mm), height, last)
    ended = replace(taken, ended_utc=began + timedelta(minutes=5), outcome="finished")
    archive.end_pass(ended)
    return ended


def _keep(
    archive: Archive, taken: Pass, last: Reading | None, position_mm: float, height_um: float, again: Reading | None
) -> Reading:
    number = 0 if last is None else last.number + 1
    began = taken.began_utc + timedelta(seconds=10 * number)
    values = (
        ChannelValue("beam.vertical_um", height_um, 0.5, 150),
        ChannelValue("beam.side_um", 0.002 * position_mm, 0.4, 150),
    )
    draft = Reading(
        new_id(began), taken.id, number, position_mm, taken.direction, values, began, began + timedelta(seconds=3),
        supersedes=again.id if again else None,
    )  # fmt: skip
    sealed = seal(draft, last)
    archive.keep_reading(sealed)
    return sealed


def two_passes(folder: Path, offset_um: float = 0.0) -> tuple[Path, Line]:
    """An archive with a line measured forward and back, the way back higher by ``offset_um``."""
    path = folder / "a.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, folder)
        take_pass(archive, begun, 1)
        take_pass(archive, begun, 2, offset_um=offset_um)
    return path, begun.line
