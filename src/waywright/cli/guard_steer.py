"""``waywright guard align --steer`` in the terminal: drive near, drive far, watch the steps, stop with a key."""

from __future__ import annotations

import asyncio
import contextlib
import signal
import sys
import threading
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.cli import show
from waywright.cli.guard_options import Kept, Steer
from waywright.errors import BadInput
from waywright.jobs.evidence import plain, sentences
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.jobs.steer import SteeredAlignment, SteeringJob, SteerOrder


def run(wanted: Steer, tolerance_um: float | None, kept: Kept) -> None:
    """Steer, and show every step and the alignment before and after."""
    from waywright.cli import guard_view
    from waywright.clocks import ScaledClock, SystemClock
    from waywright.jobs.steer import SteeringJob

    clock = SystemClock() if wanted.factor == 1.0 else ScaledClock(wanted.factor)
    order = _order(wanted, tolerance_um)
    found = asyncio.run(_steered(SteeringJob(order, clock), order, kept))
    if kept.json:
        show.print_json(plain(found))
        return
    for step in found.steered.steps:
        facts = {"told": step.told_um_per_m, "before": step.before_um, "after": step.after_um}
        show.console().print(text("guard_steer.say_step", channel=step.channel, **facts), soft_wrap=True)
    show.console().print(sentences([found.steered.why])[0], soft_wrap=True)
    guard_view.show_alignment(found.after or found.before, json=False)


async def _steered(job: SteeringJob, order: SteerOrder, kept: Kept) -> SteeredAlignment:
    from waywright.capture import BeamLostError
    from waywright.cli import guard_view

    keys = _Keys(job, order, quiet=kept.json)
    try:
        return await job.run(keys.ask, guard_view.where(kept))
    except BeamLostError as lost:
        raise BadInput("guard_steer.lost_at_once", channel=str(lost)) from lost


class _Keys:
    """Enter says that the carriage stands; at any other time it is the stop key, as the end of the input is."""

    def __init__(self, job: SteeringJob, order: SteerOrder, *, quiet: bool) -> None:
        self._job, self._order, self._quiet = job, order, quiet
        self._standing: asyncio.Future[None] | None = None
        loop = asyncio.get_running_loop()
        with contextlib.suppress(NotImplementedError):
            loop.add_signal_handler(signal.SIGINT, job.stop)
        self._say("guard_steer.say_keys", largest=job.largest_um_per_m)

        def read() -> None:
            for _ in sys.stdin:
                loop.call_soon_threadsafe(self._pressed)
            with contextlib.suppress(RuntimeError):  # the loop has ended meanwhile
                loop.call_soon_threadsafe(self._ended)

        threading.Thread(target=read, daemon=True, name="keys").start()

    async def ask(self, place: str) -> None:
        """Say where to drive, and wait."""
        self._say(f"guard_steer.say_{place}", near_m=self._order.near_m, far_m=self._order.far_m)
        self._standing = asyncio.get_running_loop().create_future()
        await self._standing

    def _pressed(self) -> None:
        if self._standing is not None and not self._standing.done():
            self._standing.set_result(None)
        else:
            self._job.stop()

    def _ended(self) -> None:
        self._job.stop()
        if self._standing is not None and not self._standing.done():
            self._standing.set_exception(BadInput("guard_steer.no_keys"))

    def _say(self, key: str, **facts: object) -> None:
        if not self._quiet:
            show.console().print(text(key, **facts), soft_wrap=True)


def _order(wanted: Steer, tolerance_um: float | None) -> SteerOrder:
    from waywright.jobs.steer import SteerOrder

    needed = {"detector": wanted.detector, "near-m": wanted.near_m, "far-m": wanted.far_m, "tolerance-um": tolerance_um}
    for name, value in needed.items():
        if value is None:
            raise BadInput("guard_steer.say", name=name)
    return SteerOrder(
        source=wanted.steer or Path(),
        detector=wanted.detector or Path(),
        near_m=wanted.near_m or 0.0,
        far_m=wanted.far_m or 0.0,
        tolerance_um=tolerance_um or 0.0,
        goal_um=wanted.goal_um,
        largest_um_per_m=wanted.step_um_per_m,
        timeout_s=wanted.timeout_s,
    )
