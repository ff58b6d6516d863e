"""Steering the beam of a source that can tilt itself, in a closed loop: small steps, watched by the detector.

Only the commands that the source's description names for steering are ever sent, each an angle within its limits and
no larger than the largest step. It ends when the beam lies along the axis, and at once when the beam is lost, time is
up, somebody stops it, a step is not confirmed, or a step does not do what it should; then nothing more is sent.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from waywright.capture.listening import BeamLostError, Listening
from waywright.capture.noise import standard_error
from waywright.clocks import Clock
from waywright.errors import InstrumentError
from waywright.evaluate.results import Reason
from waywright.guard import steering_step

_CLEAR = 6.0  # standard errors that a step must be worth before its effect is judged
_NO_EFFECT, _TOO_MUCH = 0.2, 5.0


class Ended(StrEnum):
    """How the steering ended."""

    ALIGNED = "aligned"
    LOST = "beam-lost"
    TIMEOUT = "timeout"
    STOPPED = "stopped"
    NOT_CONFIRMED = "not-confirmed"
    WRONG_WAY = "wrong-way"
    NO_EFFECT = "no-effect"
    TOO_MANY = "too-many-steps"


class Tilting(Protocol):
    """What a source is told with; :class:`waywright.instruments.InstrumentSource` can."""

    async def command(self, name: str, /, **values: float) -> None:
        """Send a command and wait for its confirmation. Raises InstrumentError without one."""


@dataclass(frozen=True, slots=True)
class Tilt:
    """One direction of steering. ``channel`` of the detector sees it, in um, positive where ``per_um_per_m`` tilts to.

    ``per_um_per_m`` is what the command's value is for a tilt of 1 um/m that moves the beam towards where the channel
    counts positive; ``largest_um_per_m`` the largest step. ``near_um`` was read at the near place.
    """

    channel: str
    command: str
    value: str
    per_um_per_m: float
    largest_um_per_m: float
    near_um: float


@dataclass(frozen=True, slots=True)
class SteeringWish:
    """``near_m`` and ``far_m`` are the distances from the source, the detector stands at the far one.

    The beam is aligned when near and far differ by at most ``goal_um`` in every direction.
    """

    near_m: float
    far_m: float
    goal_um: float
    averaging_s: float = 2.0
    settle_s: float = 1.0
    most_steps: int = 40
    timeout_s: float = 180.0


@dataclass(frozen=True, slots=True)
class Step:
    """One step as it was sent (um/m), and the far reading before and after it (NaN where it was not read any more)."""

    channel: str
    told_um_per_m: float
    before_um: float
    after_um: float


@dataclass(frozen=True, slots=True)
class Steered:
    """How it ended, every step, and the last differences between far and near by channel, in um."""

    ended: Ended
    why: Reason
    steps: tuple[Step, ...]
    difference_um: Mapping[str, float]
    lasted_s: float

    @property
    def aligned(self) -> bool:
        """Whether the beam lies along the axis."""
        return self.ended is Ended.ALIGNED


class _EndsError(Exception):
    """The loop must end here."""

    def __init__(self, ended: Ended, **facts: object) -> None:
        super().__init__(ended.value)
        self.ended = ended
        self.facts = facts


@dataclass(slots=True)
class _Direction:
    """One direction while it is steered; ``told`` is the sum of its steps, ``gain`` what a step really does."""

    tilt: Tilt
    told_um_per_m: float = 0.0
    gain: float = 1.0


Far = Mapping[str, tuple[float, float]]


class BeamSteering:
    """Steers one source; make it, then await :meth:`run`. ``detector`` must be open, and so must the source's link."""

    def __init__(
        self, detector: Listening, source: Tilting, tilts: Sequence[Tilt], wish: SteeringWish, clock: Clock
    ) -> None:
        self._detector = detector
        self._source = source
        self._directions = [_Direction(tilt) for tilt in tilts]
        self._wish = wish
        self._clock = clock
        self._began_s = clock.monotonic_s()
        self._steps: list[Step] = []
        self._difference: dict[str, float] = {}
        self._stop = False

    def stop(self) -> None:
        """The stop key: nothing more is sent."""
        self._stop = True

    async def run(self) -> Steered:
        """Steer until it ends, in whatever way."""
        self._began_s = self._clock.monotonic_s()
        try:
            await self._loop()
            ended = _EndsError(Ended.ALIGNED)
        except BeamLostError as lost:
            ended = _EndsError(Ended.LOST, channel=str(lost))
        except _EndsError as reached:
            ended = reached
        facts = {"steps": len(self._steps), "goal_um": self._wish.goal_um, **self._worst(), **ended.facts}
        why = Reason(f"guard_steer.{ended.ended.value}", facts)
        lasted_s = self._clock.monotonic_s() - self._began_s
        return Steered(ended.ended, why, tuple(self._steps), dict(self._difference), lasted_s)

    async def _loop(self) -> None:
        far = await self._far()
        while beyond := [one for one in self._directions if abs(self._off(one, far)) > self._wish.goal_um]:
            for direction in beyond:
                if len(self._steps) >= self._wish.most_steps:
                    raise _EndsError(Ended.TOO_MANY)
                far = await self._step(direction, far)

    async def _step(self, direction: _Direction, far: Far) -> Far:
        """Tilt by one bounded step and read again."""
        tilt, wish = direction.tilt, self._wish
        before, error = far[tilt.channel]
        largest = tilt.largest_um_per_m * direction.gain
        wanted = steering_step([wish.near_m, wish.far_m], [self._near(direction), before], largest)
        told = wanted / direction.gain
        self._check()
        self._steps.append(Step(tilt.channel, told, before, float("nan")))
        try:
            await self._source.command(tilt.command, **{tilt.value: told * tilt.per_um_per_m})
        except InstrumentError as failure:
            raise _EndsError(Ended.NOT_CONFIRMED, reason=str(failure)) from failure
        direction.told_um_per_m += wanted
        await self._detector.samples(wish.settle_s, self._check)
        after = await self._far()
        self._steps[-1] = Step(tilt.channel, told, before, after[tilt.channel][0])
        self._judge(direction, wanted, after[tilt.channel][0] - before, error)
        return after

    def _judge(self, direction: _Direction, wanted_um_per_m: float, change_um: float, error_um: float) -> None:
        """What the step did beside what it should have done: a beam tilted up makes readings fall."""
        expected = -wanted_um_per_m * self._wish.far_m
        if abs(expected) < _CLEAR * error_um:
            return
        share = change_um / expected
        facts = {"channel": direction.tilt.channel, "expected_um": expected, "change_um": change_um}
        if share < -_NO_EFFECT:
            raise _EndsError(Ended.WRONG_WAY, **facts)
        if not _NO_EFFECT < share < _TOO_MUCH:
            raise _EndsError(Ended.NO_EFFECT, **facts)
        direction.told_um_per_m += wanted_um_per_m * (share - 1.0)
        direction.gain *= share

    def _near(self, direction: _Direction) -> float:
        """The near reading as the steps since have changed it."""
        return direction.tilt.near_um - direction.told_um_per_m * self._wish.near_m

    def _off(self, direction: _Direction, far: Far) -> float:
        name = direction.tilt.channel
        self._difference[name] = far[name][0] - self._near(direction)
        return self._difference[name]

    def _worst(self) -> dict[str, object]:
        worst = max(self._difference, key=lambda name: abs(self._difference[name]), default=None)
        return {"worst": worst or "-", "off_um": self._difference[worst] if worst else float("nan")}

    async def _far(self) -> Far:
        """Mean and standard error of every channel over the averaging time."""
        found = await self._detector.samples(self._wish.averaging_s, self._check)
        return {name: (float(value.mean()), standard_error(value)) for name, value in found.items()}

    def _check(self) -> None:
        if self._stop:
            raise _EndsError(Ended.STOPPED)
        if self._clock.monotonic_s() - self._began_s > self._wish.timeout_s:
            raise _EndsError(Ended.TIMEOUT, timeout_s=self._wish.timeout_s)
