"""Steer: read near, read far, tilt the source in a closed loop, read near again; judged and kept."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from pathlib import Path

from waywright.capture import BeamSteering, Listening, Steered, SteeringWish, Tilt
from waywright.clocks import Clock
from waywright.errors import BadInput
from waywright.guard import Alignment, Detector, Ready, alignment
from waywright.instruments import Instrument, InstrumentSource, read_instrument
from waywright.instruments.description import Channel
from waywright.instruments.line_records import Steering
from waywright.jobs.evidence import Judged, Keep, checked_place, keep
from waywright.jobs.sources import OpenInstruments
from waywright.jobs.trust import range_um
from waywright.quantities import Direction, Kind, unit

_OPPOSITE = {
    Direction.UP: Direction.DOWN,
    Direction.TOWARDS: Direction.AWAY,
    Direction.RIGHT: Direction.LEFT,
}
_OPPOSITE |= {other: one for one, other in _OPPOSITE.items()}
_WAIT_S = 30.0

Ask = Callable[[str], Awaitable[None]]
"""Awaited with "near" or "far": the carriage is to be driven there; returns when it stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SteerOrder:
    """What is to be steered: description files of the source and the detector (the same file, if they are one)."""

    source: Path
    detector: Path
    near_m: float
    far_m: float
    tolerance_um: float
    goal_um: float = 10.0
    largest_um_per_m: float | None = None
    averaging_s: float = 2.0
    timeout_s: float = 180.0


@dataclass(frozen=True, slots=True)
class SteeredAlignment:
    """How the steering went, and the alignment by channel before and after it (None where it was stopped)."""

    steered: Steered
    before: dict[str, Alignment]
    after: dict[str, Alignment] | None

    @property
    def good(self) -> bool:
        """Whether the beam lies along the axis well enough."""
        return self.after is not None and all(one.ready is Ready.GOOD_ENOUGH for one in self.after.values())


class SteeringJob:
    """One steering; make it, then await :meth:`run`. Raises BadInput for a source that offers no fitting steering."""

    def __init__(self, order: SteerOrder, clock: Clock) -> None:
        self._order, self._clock = order, clock
        self._source = read_instrument(order.source)
        same = order.source.resolve() == order.detector.resolve()
        self._detector = self._source if same else read_instrument(order.detector)
        self._pairs = _pairs(self._source, self._detector)
        self._steering: BeamSteering | None = None
        self._stopped = False
        if not order.far_m > order.near_m > 0.0:
            raise BadInput("guard.far_not_beyond_near", near_m=order.near_m, far_m=order.far_m)

    @property
    def largest_um_per_m(self) -> float:
        """The largest step of any direction."""
        return max(self._tilt(*pair, 0.0).largest_um_per_m for pair in self._pairs)

    def stop(self) -> None:
        """The stop key."""
        self._stopped = True
        if self._steering is not None:
            self._steering.stop()

    async def run(self, ask: Ask, where: Keep | None = None) -> SteeredAlignment:
        """Do it; ``ask`` has the carriage driven. Raises BeamLostError where there is no beam to begin with."""
        if where is not None:
            checked_place(where)
        teller = InstrumentSource(self._source, self._clock)
        heard = teller if self._detector is self._source else InstrumentSource(self._detector, self._clock)
        names = [channel for channel, _, _ in self._pairs]
        async with (
            OpenInstruments(tuple(dict.fromkeys([heard, teller]))) as opened,
            Listening(opened.sources[:1], names, self._clock) as listening,
        ):
            found = await self._steered(listening, teller, ask)
        if where is not None:
            keep(_judged(self._order, found), where)
        return found

    async def _steered(self, listening: Listening, teller: InstrumentSource, ask: Ask) -> SteeredAlignment:
        await ask("near")
        near = await self._average(listening)
        await ask("far")
        far = await self._average(listening)
        before = self._alignments(near, far)
        tilts = [self._tilt(channel, stated, steering, near[channel]) for channel, stated, steering in self._pairs]
        order = self._order
        wish = SteeringWish(
            order.near_m, order.far_m, order.goal_um, order.averaging_s, order.averaging_s / 2.0,
            timeout_s=order.timeout_s,
        )  # fmt: skip
        self._steering = BeamSteering(listening, teller, tilts, wish, self._clock)
        if self._stopped:
            self._steering.stop()
        steered = await self._steering.run()
        if not steered.aligned:
            return SteeredAlignment(steered, before, None)
        far = await self._average(listening)
        await ask("near")
        return SteeredAlignment(steered, before, self._alignments(await self._average(listening), far))

    async def _average(self, listening: Listening) -> dict[str, float]:
        until_s = self._clock.monotonic_s() + _WAIT_S + self._order.averaging_s

        def check() -> None:
            if self._clock.monotonic_s() > until_s:
                raise BadInput("guard_steer.nothing_heard", title=self._detector.description.title)

        heard = await listening.samples(self._order.averaging_s, check)
        return {name: float(value.mean()) for name, value in heard.items()}

    def _alignments(self, near: dict[str, float], far: dict[str, float]) -> dict[str, Alignment]:
        return {
            name: alignment(
                [self._order.near_m, self._order.far_m],
                [near[name], far[name]],
                detector=Detector(range_um([self._detector], name)),
                tolerance_um=self._order.tolerance_um,
            )
            for name in near
        }

    def _tilt(self, channel: str, stated: Channel, steering: Steering, near_um: float) -> Tilt:
        """The step of the description, or less where less is wanted; never beyond the command's own range."""
        value = next(item for item in self._source.description.command if item.name == steering.command).value[0]
        of_one = unit(Kind.ANGLE, value.unit).inside(1.0)
        allowed = min(steering.largest_step, abs(value.range[0]), abs(value.range[1])) * of_one
        largest = min(allowed, self._order.largest_um_per_m or allowed)
        sign = 1.0 if steering.positive == stated.positive else -1.0
        return Tilt(channel, steering.command, steering.value, sign / of_one, largest, near_um)


def _pairs(source: Instrument, detector: Instrument) -> list[tuple[str, Channel, Steering]]:
    """The detector's channels with the steering that moves them."""
    found = []
    for name, stated in zip(detector.channels, detector.description.channel, strict=True):
        for steering in source.description.steering:
            if stated.positive in (steering.positive, _OPPOSITE.get(steering.positive)):
                found.append((name, stated, steering))
    if not found:
        facts = {"source": source.description.title, "detector": detector.description.title}
        raise BadInput("guard_steer.no_steering", **facts)
    return found


def _judged(order: SteerOrder, found: SteeredAlignment) -> Judged:
    outcome = "good-enough" if found.good else "align" if found.after is not None else "stopped"
    why = [found.steered.why, *(one.why for one in (found.after or found.before).values())]
    inputs = {name: getattr(order, name) for name in ("near_m", "far_m", "tolerance_um", "goal_um", "largest_um_per_m")}
    return Judged("steering", outcome, found.good, tuple(why), inputs, found)
