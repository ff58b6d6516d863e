"""The workshop's own process: the world goes on, the instruments talk, commands are answered."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import Callable, Collection

import msgspec

from waywright.clocks import Clock, ScaledClock
from waywright.simulation import protocol
from waywright.simulation.further_peers import open_further
from waywright.simulation.hall import Hall
from waywright.simulation.peers import Peer, TcpPeer, open_line
from waywright.simulation.scenario import Scenario

_TICK_WORLD_S = 0.02
_TICK_S = (0.004, 0.02)


async def serve(scenario: Scenario, factor: float, further: Collection[str] = ()) -> None:
    """Open the instruments, say where they are, and go on until told to stop or the input closes.

    ``further`` names instruments beside distance meter, level and beam.
    """
    peers: dict[str, Peer] = {"distance": await open_line()}
    peers |= {name: await TcpPeer.open() for name in ("level", "beam")}
    peers |= {name: await open_further(name) for name in further}
    clock = ScaledClock(factor)
    hall = Hall(scenario, clock, further)
    endpoints = {name: peer.endpoint for name, peer in peers.items()}
    _say(protocol.Ready(endpoints, hall.carriage.programme.duration_s))
    _listen(lambda line: _reply(hall, line))
    try:
        await _go_on(hall, peers, clock)
    finally:
        for peer in peers.values():
            await peer.close()


async def _go_on(hall: Hall, peers: dict[str, Peer], clock: Clock) -> None:
    shortest_s, longest_s = _TICK_S
    tick_s = min(max(_TICK_WORLD_S / clock.factor, shortest_s), longest_s) * clock.factor
    while not hall.is_closing:
        for name, lines in hall.tick().items():
            if lines:
                peers[name].say(lines)
        await clock.sleep(tick_s)


def _reply(hall: Hall, line: bytes | None) -> None:
    """Answer a command; no command any more, or nobody who hears the answer, ends the process."""
    if line is None:
        hall.is_closing = True
        return
    try:
        _say(hall.answer(line))
    except OSError:
        hall.is_closing = True


def _listen(reply: Callable[[bytes | None], None]) -> None:
    """Read commands in a thread: the one way that works for pipes on every system."""
    loop = asyncio.get_running_loop()

    def read() -> None:
        rest = b""
        # os.read holds no lock of the stdin object, so the thread may still wait when the process ends
        while chunk := os.read(0, 65_536):
            *lines, rest = (rest + chunk).split(b"\n")
            for line in lines:
                loop.call_soon_threadsafe(reply, line)
        loop.call_soon_threadsafe(reply, None)

    threading.Thread(target=read, daemon=True, name="commands").start()


def _say(message: protocol.Answer | protocol.Ready) -> None:
    # unbuffered: nothing is left to flush when the parent is gone
    os.write(sys.stdout.fileno(), msgspec.json.encode(message) + b"\n")


def run(scenario: Scenario, factor: float, further: Collection[str] = ()) -> None:
    """Serve until told to stop. Ctrl-C is the parent's business: it reaches both, and the parent ends this process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    asyncio.run(serve(scenario, factor, further))
