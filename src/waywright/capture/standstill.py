"""Standstills in streams of samples: a synchronous machine that needs nothing but the times of the samples.

It steps from one position sample to the next, and only once every needed source has delivered beyond it. So its
decisions depend on the samples alone, not on how they were bunched, and a stored stream can be cut again.

An axis is still when the means of the thirds of a dwell differ by no more than the position source's own noise makes
them. Then a window is averaged, given or as long as it takes; it must stay still a third of a dwell beyond its end.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from waywright.capture.attempt import Attempt
from waywright.capture.events import (
    Averaging,
    Event,
    Gap,
    HandMoved,
    Moving,
    NotCalm,
    Restless,
    StandstillSettings,
    Station,
    Still,
    TooSmallStep,
    WatchedSource,
)
from waywright.capture.motion import PositionWatch
from waywright.capture.noise import ChannelNoise
from waywright.capture.presence import Presence
from waywright.capture.stations import Stations
from waywright.capture.window import LEAST_SAMPLES, Spread, Trouble, WindowView
from waywright.instruments import SampleBatch

# Fast position sources are averaged down to about this many steps a second.
_STEPS_HZ: Final = 20.0
_LOOK_S: Final = 0.5
_LOOK_SHARE: Final = 0.02
_LEFT: Final = 1.5
_HAND_SHARE: Final = 0.5
_PATIENCE: Final = 3.0
_MOST_PATIENCE_S: Final = 30.0
_USUAL_S: Final = 5.0
_TOLD_SHARE: Final = 0.25
_KEPT_S: Final = 5.0


class Standstill:
    """Feed it batches (times in s since the start of the pass); it answers with events.

    ``stations`` are the readings that stand, in the order taken, when a pass is continued; ``next_number`` is the
    number of the next reading.
    """

    def __init__(
        self,
        settings: StandstillSettings,
        watched: Sequence[WatchedSource],
        stations: Sequence[Station] = (),
        next_number: int = 0,
        began_s: float = 0.0,
    ) -> None:
        self._settings = settings
        self._watched = tuple(watched)
        self._position = next(item for item in watched if settings.position_channel in item.channels)
        self._presence = Presence(self._watched, began_s)
        self._stations = Stations(settings, stations, next_number)
        self._noise = ChannelNoise()
        self._group = max(1, round(self._position.rate_hz / _STEPS_HZ))
        self._gathered: list[float] = []
        self._watch = PositionWatch(settings.dwell_s, self._position.rate_hz / self._group, settings.smallest_step_mm)
        self._cursor_s = -np.inf
        self._last_position_s = -np.inf
        self._attempt: Attempt | None = None
        self._rests_at_mm: float | None = None
        self._hand_from_s: float | None = None

    def feed(self, batch: SampleBatch) -> list[Event]:
        """Samples of one source; batches of sources that are not watched are ignored."""
        events = self._presence.feed(batch)
        return events + self._advance()

    def tick(self, now_s: float) -> list[Event]:
        """Everything that arrived until ``now_s`` has been fed: lets a source be recognised as silent.

        Only this tells silence: one source that is fed before the others says nothing about them.
        """
        events = self._presence.tick(now_s)
        return events + self._advance()

    def trigger(self, at_s: float) -> None:
        """Take a reading from ``at_s`` on, whatever the axis seems to do (it must stay within half a step)."""
        self._hand_from_s = at_s

    def _advance(self) -> list[Event]:
        """Step through the positions up to where all sources that are not silent have delivered."""
        until_s = self._presence.complete_s
        store = self._presence.stores[self._position.name]
        times, values = store.between(self._cursor_s, until_s)
        positions = values[:, store.column(self._settings.position_channel)]
        events: list[Event] = []
        for time_s, position_mm in zip(times.tolist(), positions.tolist(), strict=True):
            self._cursor_s = time_s
            if np.isfinite(position_mm):
                events += self._gather(time_s, position_mm)
        self._forget()
        return events

    def _forget(self) -> None:
        if self._position.name in self._presence.silent:
            self._presence.forget_stalled(_KEPT_S)
        else:
            started = self._attempt.after_s if self._attempt else np.inf
            self._presence.forget(min(self._cursor_s, started) - _KEPT_S)

    def _gather(self, time_s: float, position_mm: float) -> list[Event]:
        events: list[Event] = []
        if time_s - self._last_position_s > self._position.gap_s:
            events = self._broken_off(time_s)
        self._last_position_s = time_s
        self._gathered.append(position_mm)
        if len(self._gathered) == self._group:
            mean_mm = sum(self._gathered) / self._group
            self._gathered.clear()
            events += self._step(time_s, mean_mm)
        return events

    def _broken_off(self, time_s: float) -> list[Event]:
        """Positions are missing: whether the axis moved is not known, so the dwell begins again."""
        self._watch.break_off()
        self._gathered.clear()
        attempt, self._attempt = self._attempt, None
        if attempt is None:
            return []
        gap = Gap(time_s, attempt.place_mm, self._position.name, time_s - self._last_position_s)
        return [gap, *attempt.disturbed(time_s, retaken=False)]

    def _step(self, time_s: float, position_mm: float) -> list[Event]:
        self._watch.see(time_s, position_mm)
        self._stations.passed(self._watch.level_mm)
        if self._hand_from_s is not None and time_s >= self._hand_from_s:
            self._attempt = Attempt(self._watch.level_mm, self._hand_from_s, by_hand=True)
            self._hand_from_s = self._rests_at_mm = None
        if self._attempt is not None:
            return self._average(time_s, self._attempt)
        if self._rests_at_mm is not None:
            return self._rest(time_s, self._rests_at_mm)
        return self._arrive(time_s) if self._watch.is_still else []

    def _left(self, place_mm: float) -> bool:
        limit_mm = self._watch.limit_mm or 0.0
        return abs(self._watch.level_mm - place_mm) > _LEFT * limit_mm

    def _rest(self, time_s: float, place_mm: float) -> list[Event]:
        """Nothing more to take here: wait until the axis leaves."""
        if not self._left(place_mm):
            return []
        self._rests_at_mm = None
        return [Moving(time_s)]

    def _arrive(self, time_s: float) -> list[Event]:
        place_mm = self._watch.level_mm
        step_mm = self._stations.too_small_step(place_mm)
        if step_mm is not None:
            self._rests_at_mm = place_mm
            smallest = self._settings.smallest_step_mm
            # Settling of some micrometres after a reading is nobody's step.
            told = step_mm >= _TOLD_SHARE * smallest
            return [TooSmallStep(time_s, place_mm, step_mm, smallest)] if told else []
        self._attempt = Attempt(place_mm, time_s)
        return [Still(time_s, place_mm)]

    def _average(self, time_s: float, attempt: Attempt) -> list[Event]:
        if self._has_moved(attempt):
            self._attempt = None
            moved: Event = HandMoved(time_s, attempt.place_mm) if attempt.by_hand else Moving(time_s)
            return [*attempt.disturbed(time_s, retaken=False), moved]
        events = self._absences(time_s, attempt)
        if attempt.absent:
            return events
        if attempt.until_s is None:
            return events + self._look(time_s, attempt)
        guard_s = 0.0 if attempt.by_hand else self._settings.dwell_s / 3.0
        if time_s < attempt.until_s + guard_s:
            return events
        return events + self._judge(time_s, attempt, self._view(attempt, time_s, attempt.until_s))

    def _has_moved(self, attempt: Attempt) -> bool:
        if attempt.by_hand:
            return abs(self._watch.level_mm - attempt.place_mm) > _HAND_SHARE * self._settings.smallest_step_mm
        return self._left(attempt.place_mm)

    def _absences(self, time_s: float, attempt: Attempt) -> list[Event]:
        """No window spans a gap of any source: it begins again when the samples go on."""
        events: list[Event] = []
        for source in self._watched:
            gap = self._presence.gap(source, attempt.after_s, time_s)
            if gap is not None:
                attempt.absent.setdefault(source.name, gap[0])
                attempt.begin_again(gap[1])
            elif source.name in attempt.absent:
                since_s = attempt.absent.pop(source.name)
                events.append(Gap(time_s, attempt.place_mm, source.name, attempt.after_s - since_s))
        return events

    def _look(self, time_s: float, attempt: Attempt) -> list[Event]:
        """Now and then: has the window been disturbed, how far is it, is it long enough."""
        length_s = time_s - attempt.after_s
        given_s = self._settings.averaging_s
        ends_now = given_s is not None and length_s >= given_s
        if not ends_now and time_s - attempt.looked_s < max(_LOOK_S, _LOOK_SHARE * length_s):
            return []
        attempt.looked_s = time_s
        view = self._view(attempt, time_s, time_s)
        if (trouble := view.trouble()) is not None:
            attempt.reject(trouble)
            return [Averaging(time_s, attempt.place_mm, 0.0, attempt.again)]
        progress = self._progress(view) if given_s is None else min(length_s / given_s, view.samples / LEAST_SAMPLES)
        if progress >= 1.0:
            attempt.until_s = time_s if given_s is None else max(attempt.after_s + given_s, view.enough_s)
        return [Averaging(time_s, attempt.place_mm, min(1.0, progress), attempt.again)]

    def _progress(self, view: WindowView) -> float:
        """Of a window without a given length: 1 when the standard error is reached, or the longest window."""
        if view.samples < LEAST_SAMPLES:
            return 0.0
        error, _ = view.standard_error()
        longest = (view.until_s - view.after_s) / self._settings.longest_s
        return max(longest, (self._settings.standard_error_um / error) ** 2 if error > 0 else 1.0)

    def _view(self, attempt: Attempt, time_s: float, until_s: float) -> WindowView:
        by_itself = time_s - attempt.began_s > self._patience_s
        stores, channel = self._presence.stores, self._settings.position_channel
        return WindowView(self._watched, stores, attempt.after_s, until_s, self._noise, channel, by_itself)

    @property
    def _patience_s(self) -> float:
        """How long restless air is waited for before it counts as what the air is now."""
        length_s = self._settings.averaging_s or _USUAL_S
        return min(_PATIENCE * length_s, length_s + _MOST_PATIENCE_S)

    def _judge(self, time_s: float, attempt: Attempt, view: WindowView) -> list[Event]:
        """The window is complete: a reading, or once more."""
        trouble, spread = view.trouble(), view.restless()
        if trouble is None and spread is not None and time_s - attempt.began_s <= self._patience_s:
            trouble = Trouble(view.after_s, view.until_s, spread.channel, "spread")
        if trouble is not None:
            attempt.reject(trouble)
            return []
        return self._accept(time_s, attempt, view, spread)

    def _accept(self, time_s: float, attempt: Attempt, view: WindowView, spread: Spread | None) -> list[Event]:
        remarks = self._remarks(time_s, attempt, view, spread)
        values = view.values()
        view.accept()
        self._watch.learn()
        self._attempt, self._rests_at_mm = None, attempt.place_mm
        taken = self._stations.take(time_s, view, values, self._watch.direction, attempt.by_hand)
        return [*remarks, *taken]

    def _remarks(self, time_s: float, attempt: Attempt, view: WindowView, spread: Spread | None) -> list[Event]:
        place_mm = attempt.place_mm
        if spread is not None:
            return [Restless(time_s, place_mm, spread.channel, spread.times)]
        return [*attempt.disturbed(time_s, retaken=True), *self._not_calm(time_s, place_mm, view)]

    def _not_calm(self, time_s: float, place_mm: float, view: WindowView) -> list[Event]:
        if self._settings.averaging_s is not None:
            return []
        wished = self._settings.standard_error_um
        error, channel = view.standard_error()
        return [NotCalm(time_s, place_mm, error, wished, channel)] if error > 1.2 * wished else []
