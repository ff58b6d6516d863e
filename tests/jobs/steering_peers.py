"""A source that tilts its own beam and a detector along it, as TCP peers; whatever goes wrong with them. Invented."""

from __future__ import annotations

import asyncio
import re
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

NEAR_M, FAR_M = 0.5, 5.5
FACTOR = 10.0

SOURCE = """
format = 1
name = "source"
title = "steerable source"
[link]
kind = "tcp"
host = "127.0.0.1"
port = {port}
[stream]
pattern = '^T (?P<t>\\S+)$'
rate_hz = 5
[[channel]]
name = "inside"
group = "t"
kind = "temperature"
unit = "degC"
[[command]]
name = "tilt_height"
send = "TILT H {{by:.4f}}\\n"
answer = "^OK$"
[[command.value]]
name = "by"
unit = "arcsec"
range = [-20.0, 20.0]
[[command]]
name = "tilt_side"
send = "TILT S {{by:.4f}}\\n"
answer = "^OK$"
[[command.value]]
name = "by"
unit = "arcsec"
range = [-20.0, 20.0]
[[command]]
name = "fire"
send = "POWER\\n"
[[steering]]
command = "tilt_height"
value = "by"
positive = "{up}"
largest_step = 8.0
[[steering]]
command = "tilt_side"
value = "by"
positive = "away-from-operator"
largest_step = 8.0
"""
DETECTOR = """
format = 1
name = "beam"
title = "two-axis detector"
[link]
kind = "tcp"
host = "127.0.0.1"
port = {port}
[stream]
pattern = '^V(?P<v>\\S+) S(?P<s>\\S+)$'
rate_hz = 50
[[channel]]
name = "vertical"
group = "v"
kind = "displacement"
unit = "um"
positive = "up"
range = [-2500.0, 2500.0]
lost = ["9999.9"]
[[channel]]
name = "side"
group = "s"
kind = "displacement"
unit = "um"
positive = "towards-operator"
range = [-2500.0, 2500.0]
lost = ["9999.9"]
"""
UM_PER_M = 4.8481  # of one arcsec


@dataclass
class Bench:
    """The beam: offset (um) and tilt (um/m) in height and side, positive up and towards the operator."""

    offset: list[float] = field(default_factory=lambda: [40.0, -25.0])
    tilt: list[float] = field(default_factory=lambda: [120.0, -60.0])
    place_m: float = NEAR_M
    gain: float = 1.0
    lost_after: int | None = None
    mute_after: int | None = None
    told: list[str] = field(default_factory=list)

    def readings(self, rng: np.random.Generator) -> str:
        if self.lost_after is not None and len(self.told) >= self.lost_after:
            return "V9999.9 S9999.9"
        beam = [o + t * self.place_m for o, t in zip(self.offset, self.tilt, strict=True)]
        v, s = (-one + float(rng.normal(0.0, 0.8)) for one in beam)
        return f"V{v:+.2f} S{s:+.2f}"

    def hear(self, line: str) -> str | None:
        self.told.append(line)
        told = re.fullmatch(r"TILT ([HS]) (\S+)", line)
        if told is None:
            return None
        at, sign = (0, 1.0) if told[1] == "H" else (1, -1.0)
        self.tilt[at] += sign * self.gain * float(told[2]) * UM_PER_M
        return None if self.mute_after is not None and len(self.told) > self.mute_after else "OK"


class Served:
    """Both peers on loopback, their description files, and the drive between near and far."""

    def __init__(self, bench: Bench, folder: Path, up: str = "up") -> None:
        self.bench, self.folder, self.up = bench, folder, up
        self.asked: list[str] = []

    async def __aenter__(self) -> Served:
        self._servers = [await asyncio.start_server(one, "127.0.0.1", 0) for one in (self._source, self._detector)]
        ports = [server.sockets[0].getsockname()[1] for server in self._servers]
        (self.folder / "source.toml").write_text(SOURCE.format(port=ports[0], up=self.up))
        (self.folder / "beam.toml").write_text(DETECTOR.format(port=ports[1]))
        return self

    async def __aexit__(self, *_: object) -> None:
        for server in self._servers:
            server.close()

    async def drive(self, place: str) -> None:
        self.asked.append(place)
        self.bench.place_m = NEAR_M if place == "near" else FAR_M
        await asyncio.sleep(0.2)  # the carriage stands for a while before anybody says so

    async def _source(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        async def chatter() -> None:
            while True:
                writer.write(b"T 31.5\n")
                await asyncio.sleep(0.2 / FACTOR)

        talking = asyncio.create_task(chatter())
        try:
            while line := await reader.readline():
                answer = self.bench.hear(line.decode().strip())
                if answer is not None:
                    writer.write(f"{answer}\n".encode())
        except (ConnectionError, asyncio.CancelledError):
            pass
        finally:
            talking.cancel()
            writer.close()

    async def _detector(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        rng = np.random.default_rng(3)
        try:
            while True:
                writer.write(f"{self.bench.readings(rng)}\n".encode())
                await writer.drain()
                await asyncio.sleep(0.02 / FACTOR)
        except (ConnectionError, asyncio.CancelledError):
            pass
        finally:
            writer.close()
