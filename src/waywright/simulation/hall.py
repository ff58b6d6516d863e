"""The workshop as a world of its own: its time, its carriage, its instruments, its answers."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Sequence

import msgspec
import numpy as np

from waywright.clocks import Clock
from waywright.simulation import protocol
from waywright.simulation.carriage import Carriage
from waywright.simulation.devices import Line, devices
from waywright.simulation.further_devices import further_devices
from waywright.simulation.operator import brief_programme, plan_programme
from waywright.simulation.scenario import Scenario
from waywright.simulation.truth import carriage_form

_CATCH_UP_WORLD_S = 0.5
_CATCH_UP_S = 0.05
_AHEAD_S = 0.4


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

    def pass_by(self, duration_s: float) -> None:
        """Go on at once by a time that nobody wanted to sit through."""
        self.world_s += max(duration_s, 0.0)


class Hall:
    """Everything in the workshop, and its answers to commands.

    Lines are made a little ahead, for many samples at once, and said when they are due; so the operator begins up to
    0.4 s after he is told.
    """

    def __init__(self, scenario: Scenario, clock: Clock, further: Collection[str] = ()) -> None:
        self.form = carriage_form(scenario)
        self.carriage = Carriage(plan_programme(scenario), brief_programme(scenario))
        self.time = WorldTime(clock)
        self.is_closing = False
        self._devices = devices(scenario, self.form, self.carriage)
        self._devices |= further_devices(scenario, self.form, self.carriage, further)
        self._waiting: dict[str, deque[Line]] = {name: deque() for name in self._devices}
        self._made_until_s = 0.0

    def tick(self) -> dict[str, Sequence[str]]:
        """Go on to the present and return what each instrument has said since the last tick."""
        self.time.advance()
        while self._made_until_s <= self.time.world_s:
            self._made_until_s += _AHEAD_S
            for name, device in self._devices.items():
                self._waiting[name].extend(device.lines(self._made_until_s, self.time.paused_s))
        return {name: self._due(waiting) for name, waiting in self._waiting.items()}

    def _due(self, waiting: deque[Line]) -> list[str]:
        due = []
        while waiting and waiting[0][0] <= self.time.world_s:
            due.append(waiting.popleft()[1])
        return due

    def answer(self, line: bytes) -> protocol.Answer:
        """Do a command and say what came of it."""
        try:
            command = msgspec.json.decode(line, type=protocol.Command)
        except msgspec.DecodeError as problem:
            return protocol.Refused(str(problem))
        match command:
            case protocol.Truth():
                return self._truth(command.position_mm)
            case protocol.State():
                return self._state()
        return protocol.Done(self._do(command))

    def _do(self, command: protocol.Command) -> bool:
        """Whether it could be done."""
        done = True
        match command:
            case protocol.Drive():
                done = self.carriage.begin(self._made_until_s, command.programme)
            case protocol.Turn():
                done = self._turn(command.support, command.move_um)
            case protocol.Go():
                done = self.carriage.go_to(self._made_until_s, command.position_mm)
            case protocol.Shift():
                self.carriage.shifted_um = (command.up_um, command.towards_um)
            case protocol.Leave():
                done = self._leave(command.duration_s)
            case protocol.Stop():
                self.is_closing = True
        return done

    def _turn(self, support: str, move_um: float) -> bool:
        """Nobody turns a support that is not there, or while the carriage is driven."""
        bed = self.form.bed
        if bed is None or support not in bed.supports or self.carriage.is_driving(self._made_until_s):
            return False
        bed.turn(support, move_um, self._made_until_s)
        return True

    def _leave(self, duration_s: float) -> bool:
        """Time goes on at once; what the instruments said meanwhile was said to nobody."""
        if self.carriage.is_driving(self._made_until_s):
            return False
        self.time.pass_by(duration_s)
        for name, device in self._devices.items():
            device.lines(self._made_until_s + duration_s, self.time.paused_s)
            self._waiting[name].clear()
        self._made_until_s += duration_s
        return True

    def _truth(self, position_mm: list[float]) -> protocol.TrueForm:
        seen = self.form.at(np.asarray(position_mm, dtype=np.float64), self.time.world_s)
        return protocol.TrueForm(seen.height_um.tolist(), seen.side_um.tolist(), seen.roll_um_per_m.tolist())

    def _state(self) -> protocol.WorkshopState:
        now_s = self.time.world_s
        return protocol.WorkshopState(
            driving=self.carriage.is_driving(now_s),
            finished=self.carriage.has_finished(now_s),
            position_mm=float(self.carriage.at(np.array([now_s])).position_mm[0]),
            direction=self.carriage.direction(now_s),
            time_s=now_s,
        )
