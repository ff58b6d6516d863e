"""The workshop's own process: the world goes on, the instruments talk, commands are answered."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import Callable

import msgspec
import numpy as np

from waywright.clocks import Clock, ScaledClock
from waywright.simulation import protocol
from waywright.simulation.carriage import Carriage
from waywright.simulation.devices import devices
from waywright.simulation.operator import plan_programme
from waywright.simulation.peers import Peer, TcpPeer, open_line
from waywright.simulation.scenario import Scenario
from waywright.simulation.truth import carriage_form

_TICK_S = (0.004, 0.02)
_TICK_WORLD_S = 0.02
_CATCH_UP_WORLD_S = 0.5
_CATCH_UP_S = 0.05


class WorldTime:
    """The time of the workshop: that of its clock, less the moments when the process was held up.

    After a short delay the instruments catch up; after a long one (a busy or sleeping computer) the world has stood
    still: all of them were silent at once, and no stop of the carriage was missed. ``paused_s`` is what was left out.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._catch_up_s = max(_CATCH_UP_WORLD_S, _CATCH_UP_S * clock.factor)
        self._last_s = clock.monotonic_s()
        self.world_s = 0.0
        self.paused_s = 0.0

    def advance(self) -> None:
        """Go on to the present of the clock, within the bound."""
        now_s = self._clock.monotonic_s()
        step_s = min(now_s - self._last_s, self._catch_up_s)
        self.paused_s += now_s - self._last_s - step_s
        self.world_s += step_s
        self._last_s = now_s


class Hall:
    """Everything in the workshop, and its answers to commands."""

    def __init__(self, scenario: Scenario, clock: Clock) -> None:
        self.form = carriage_form(scenario)
        self.carriage = Carriage(plan_programme(scenario))
        self.devices = devices(scenario, self.form, self.carriage)
        self.time = WorldTime(clock)
        self.is_closing = asyncio.Event()

    def tick(self, peers: dict[str, Peer]) -> None:
        """Let the instruments say what happened since the last tick; the position first, the beam last."""
        self.time.advance()
        for name, peer in peers.items():
            peer.say(getattr(self.devices, name).lines(self.time.world_s, self.time.paused_s))

    def answer(self, line: bytes) -> protocol.Answer:
        """Do a command and say what came of it."""
        try:
            command = msgspec.json.decode(line, type=protocol.Command)
        except msgspec.DecodeError as problem:
            return protocol.Refused(str(problem))
        match command:
            case protocol.Drive():
                self.carriage.begin(self.time.world_s)
            case protocol.Stop():
                self.is_closing.set()
            case protocol.Truth(position_mm):
                return self._truth(position_mm)
            case protocol.State():
                return self._state()
        return protocol.Done(True)

    def _truth(self, position_mm: list[float]) -> protocol.TrueForm:
        place = np.asarray(position_mm, dtype=np.float64)
        shapes = (self.form.height, self.form.side, self.form.roll)
        return protocol.TrueForm(*(shape.at(place).tolist() for shape in shapes))

    def _state(self) -> protocol.WorkshopState:
        now_s = self.time.world_s
        return protocol.WorkshopState(
            driving=self.carriage.is_driving(now_s),
            finished=self.carriage.has_finished(now_s),
            position_mm=float(self.carriage.at(np.array([now_s])).position_mm[0]),
            direction=self.carriage.direction(now_s),
            time_s=now_s,
        )


async def serve(scenario: Scenario, factor: float) -> None:
    """Open the instruments, say where they are, and go on until told to stop or the input closes."""
    peers: dict[str, Peer] = {
        "distance": await open_line(),
        "level": await TcpPeer.open(),
        "beam": await TcpPeer.open(),
    }
    clock = ScaledClock(factor)
    hall = Hall(scenario, clock)
    endpoints = {name: peer.endpoint for name, peer in peers.items()}
    _say(protocol.Ready(endpoints, hall.carriage.programme.duration_s))
    _listen(lambda line: _say(hall.answer(line)), hall.is_closing)
    try:
        await _go_on(hall, peers, min(max(_TICK_WORLD_S / factor, _TICK_S[0]), _TICK_S[1]) * factor, clock)
    finally:
        for peer in peers.values():
            await peer.close()


async def _go_on(hall: Hall, peers: dict[str, Peer], tick_s: float, clock: Clock) -> None:
    while not hall.is_closing.is_set():
        hall.tick(peers)
        await clock.sleep(tick_s)


def _listen(answer: Callable[[bytes], None], is_closing: asyncio.Event) -> None:
    """Read commands in a thread: the one way that works for pipes on every system."""
    loop = asyncio.get_running_loop()

    def read() -> None:
        rest = b""
        # os.read holds no lock of the stdin object, so the thread may still wait when the process ends
        while chunk := os.read(0, 65_536):
            *lines, rest = (rest + chunk).split(b"\n")
            for line in lines:
                loop.call_soon_threadsafe(answer, line)
        loop.call_soon_threadsafe(is_closing.set)

    threading.Thread(target=read, daemon=True, name="commands").start()


def _say(message: protocol.Answer | protocol.Ready) -> None:
    sys.stdout.write(msgspec.json.encode(message).decode() + "\n")
    sys.stdout.flush()


def run(scenario: Scenario, factor: float) -> None:
    """Serve until told to stop. Ctrl-C is the parent's business: it reaches both, and the parent ends this process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        asyncio.run(serve(scenario, factor))
    except BrokenPipeError:
        # the parent is gone and nobody reads the answers; Python must not try to flush them again
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
