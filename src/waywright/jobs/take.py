"""Take: passes of a line, one after the other, from real or simulated instruments into the archive."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from waywright.archive import Archive
from waywright.capture import PassCapture, Watcher
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.instruments import InstrumentSource, Source
from waywright.jobs.begin import Begun
from waywright.jobs.orders import CaptureOrder
from waywright.jobs.screening import beside
from waywright.jobs.sources import OpenInstruments
from waywright.visit import Pass, PassSettings, ReadingSink

DIRECTIONS = ("forward", "backward")


@dataclass(frozen=True, slots=True)
class PassPlan:
    """One pass to take: a new one, or one to go on with."""

    taken: Pass
    travel_end_mm: float | None
    continuing: bool = False


class Taking:
    """Takes planned passes one after the other; make it, then await :meth:`run`.

    ``listeners`` hear of readings and events once the archive has them; ``watchers`` see the live state.
    """

    def __init__(
        self,
        archive: Archive,
        begun: Begun,
        plans: Sequence[PassPlan],
        clock: Clock,
        *,
        listeners: Sequence[ReadingSink] = (),
        watchers: Sequence[Watcher] = (),
        on_armed: Callable[[Pass], None] | None = None,
    ) -> None:
        self._archive = archive
        self._begun = begun
        self._plans = tuple(plans)
        self._clock = clock
        self._listeners = tuple(listeners)
        self._watchers = tuple(watchers)
        self._on_armed = on_armed
        self._capture: PassCapture | None = None
        self._stopped = False

    async def run(self) -> tuple[Pass, ...]:
        """Take the passes; those after a stopped one are not begun. Returns the ended records."""
        ended: list[Pass] = []
        instruments = [InstrumentSource(instrument, self._clock) for instrument in self._begun.instruments]
        async with OpenInstruments(instruments) as opened:
            for plan in self._plans:
                if self._stopped:
                    break
                self._capture = self._armed(plan, opened.sources)
                ended.append(await self._capture.run())
                self._stopped = self._stopped or ended[-1].outcome != "finished"
        return tuple(ended)

    def trigger(self) -> None:
        """Take a reading by hand, now."""
        if self._capture:
            self._capture.trigger()

    def temperature(self, place: str, value_degc: float) -> None:
        """Record a temperature with the pass that runs."""
        if self._capture:
            self._capture.temperature(place, value_degc)

    def finish(self) -> None:
        """End the pass that runs: its travel is complete."""
        if self._capture:
            self._capture.finish()

    def stop(self) -> None:
        """Stop everything; the pass that runs can be continued."""
        self._stopped = True
        if self._capture:
            self._capture.stop()

    def _armed(self, plan: PassPlan, sources: Sequence[Source]) -> PassCapture:
        archive = self._archive
        began_utc = plan.taken.began_utc if plan.continuing else self._clock.utc()
        taken = replace(plan.taken, began_utc=began_utc)
        blocks: dict[str, int] = {}
        for block in archive.stream(taken.id) if plan.continuing else ():
            blocks[block.source] = max(blocks.get(block.source, 0), block.number + 1)
        if self._on_armed:
            self._on_armed(taken)
        return PassCapture(
            taken,
            sources,
            self._clock,
            archive,
            listeners=self._listeners,
            watchers=self._watchers,
            continuing=plan.continuing,
            earlier=archive.readings(taken.id, with_window=True) if plan.continuing else (),
            blocks_before=blocks,
            travel_end_mm=_as_read(self._begun, plan.travel_end_mm),
            forward_sense=self._begun.interpretation.position_sense,
            beside=beside(archive, taken, self._begun.line, self._begun.setup, self._begun.interpretation),
        )


def planned(begun: Begun, order: CaptureOrder, clock: Clock, before: int = 0) -> tuple[PassPlan, ...]:
    """New passes as ordered, numbered after ``before`` earlier ones. Raises BadInput for an unknown direction."""
    settings = PassSettings(order.averaging_s, order.dwell_s, order.smallest_step_mm, clock.factor)
    plans = []
    for number, direction in enumerate(order.passes, start=before + 1):
        if direction not in DIRECTIONS:
            raise BadInput("passes.bad_direction", direction=direction)
        taken = Pass(
            id=new_id(clock.utc()),
            line_id=begun.line.id,
            setup_id=begun.setup.id,
            number=number,
            direction=direction,
            position_channel=begun.position_channel,
            channels=begun.channels,
            began_utc=clock.utc(),
            settings=settings,
            conditions=begun.conditions,
        )
        plans.append(PassPlan(taken, _end_of_travel(begun, direction)))
    return tuple(plans)


def unfinished(archive: Archive, begun: Begun) -> PassPlan:
    """The last pass of a line, to go on with. Raises BadInput if it was finished or there is none."""
    passes = archive.passes(begun.line.id)
    if not passes or passes[-1].outcome == "finished":
        raise BadInput("jobs.nothing_to_continue", line=begun.line.name)
    return PassPlan(passes[-1], _end_of_travel(begun, passes[-1].direction), continuing=True)


def _end_of_travel(begun: Begun, direction: str) -> float | None:
    return begun.line.to_mm if direction == "forward" else begun.line.from_mm


def _as_read(begun: Begun, position_mm: float | None) -> float | None:
    """A position of the line as the position source reads it."""
    if position_mm is None:
        return None
    return begun.interpretation.position_sense * position_mm + begun.interpretation.position_offset_mm
