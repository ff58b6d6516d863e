"""``waywright capture`` in the terminal: readings come by themselves; keys take one by hand, end or stop."""

from __future__ import annotations

import asyncio
import contextlib
import math
import signal
import sys
import threading
from dataclasses import replace
from typing import TYPE_CHECKING

from waywright.cli import show
from waywright.cli.pass_view import PassView
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.archive import Archive
    from waywright.clocks import Clock
    from waywright.jobs.begin import Begun
    from waywright.jobs.orders import CaptureOrder
    from waywright.jobs.take import PassPlan, Taking
    from waywright.visit import Pass


def run(order: CaptureOrder, *, as_json: bool) -> None:
    """Take the passes of an order and show them."""
    ended = asyncio.run(_capture(order, PassView(quiet=as_json)))
    if as_json:
        show.print_json(ended)
        return
    where = "" if order.archive is None else f" --archive {order.archive}"
    show.console().print(text("cli.after_capture", where=where), soft_wrap=True)


async def _capture(order: CaptureOrder, view: PassView) -> tuple[Pass, ...]:
    from waywright.archive import open_archive
    from waywright.clocks import ScaledClock, SystemClock
    from waywright.jobs.begin import begin, resume
    from waywright.jobs.measured import find_line
    from waywright.jobs.remember import archive_path
    from waywright.jobs.take import Taking, planned

    clock = SystemClock() if order.factor == 1.0 else ScaledClock(order.factor)
    with open_archive(archive_path(order.archive), create=not order.continue_pass, clock=clock) as archive, view:
        if order.continue_pass:
            begun = resume(archive, find_line(archive, order.line), order.instruments)
            plans = _go_on(archive, begun, order, clock)
        else:
            begun = begin(archive, order, clock)
            plans = planned(begun, order, clock)
        view.measures(begun)
        taking = Taking(archive, begun, plans, clock, listeners=[view], watchers=[view.look], on_armed=view.armed)
        listen_to_keys(taking, view)
        stop_on_interrupt(taking)
        return await taking.run()


def _go_on(archive: Archive, begun: Begun, order: CaptureOrder, clock: Clock) -> tuple[PassPlan, ...]:
    """The interrupted pass if there is one, then what is asked for, under the conditions of the last pass.

    Raises BadInput if there is neither.
    """
    from waywright.jobs.take import planned, unfinished

    before = archive.passes(begun.line.id)
    finished = bool(before) and before[-1].outcome == "finished"
    interrupted = () if finished and order.passes else (unfinished(archive, begun),)
    conditions = before[-1].conditions if before else begun.conditions
    return interrupted + planned(replace(begun, conditions=conditions), order, clock, len(before))


def stop_on_interrupt(taking: Taking) -> None:
    """Ctrl-c stops the pass in order; where loops know no signals it breaks off, and nothing announced is lost."""
    with contextlib.suppress(NotImplementedError):
        asyncio.get_running_loop().add_signal_handler(signal.SIGINT, taking.stop)


def listen_to_keys(taking: Taking, view: PassView) -> None:
    """Enter takes a reading, e ends the pass, "bed top 20.4" is a temperature; read in a thread, because a terminal
    cannot be awaited everywhere.
    """
    loop = asyncio.get_running_loop()
    commands = {"": taking.trigger, "e": taking.finish}
    view.say(text("cli.keys"))

    def read() -> None:
        for line in sys.stdin:
            command = commands.get(line.strip().lower())
            typed = _temperature(line)
            if command is not None:
                loop.call_soon_threadsafe(command)
            elif typed is not None:
                loop.call_soon_threadsafe(taking.temperature, *typed)

    threading.Thread(target=read, daemon=True, name="keys").start()


def _temperature(line: str) -> tuple[str, float] | None:
    """A place and degrees, such as "bed top 20.4"; None for anything else."""
    place, _, written = line.strip().rpartition(" ")
    with contextlib.suppress(ValueError):
        degrees = float(written.replace(",", "."))
        return (place.strip(), degrees) if place and math.isfinite(degrees) else None
    return None
