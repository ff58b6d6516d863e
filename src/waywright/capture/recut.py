"""Standstills cut again from the stored stream of a pass, with other settings and the same rules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from waywright.capture.events import Accepted, StandstillSettings
from waywright.capture.made_of_windows import ReadingChain
from waywright.capture.standstill import Standstill
from waywright.capture.watching import needed_channels, watched_sources
from waywright.instruments import SampleBatch
from waywright.readings import Floats, Reading, StreamBlock
from waywright.visit import Pass

_SLICE_S = 1.0


def recut(
    taken: Pass,
    blocks: Sequence[StreamBlock],
    settings: StandstillSettings,
    rates_hz: Mapping[str, float] | None = None,
    by_hand_s: Sequence[float] = (),
) -> tuple[Reading, ...]:
    """The readings that ``settings`` make of the stored stream of a pass, sealed as a chain of their own.

    ``rates_hz`` are the nominal rates of the sources; without them the rates of the stream itself. ``by_hand_s`` are
    the beginnings of windows that were taken by hand, in s since the start of the pass.
    """
    streams = {name: _joined(name, blocks) for name in dict.fromkeys(block.source for block in blocks)}
    rates = {name: _rate_hz(stream.time_s) for name, stream in streams.items()} | dict(rates_hz or {})
    channels = {name: stream.channels for name, stream in streams.items()}
    watched = watched_sources(channels, rates, needed_channels(taken), taken.settings.clock_factor)
    machine = Standstill(settings, watched)
    chain = ReadingChain(taken)
    triggers = sorted(by_hand_s)
    for batch in _sliced(list(streams.values())):
        while triggers and triggers[0] <= batch.time_s[-1]:
            machine.trigger(triggers.pop(0))
        for event in machine.feed(batch):
            if isinstance(event, Accepted):
                chain.add(event)
    return chain.readings


def _joined(name: str, blocks: Sequence[StreamBlock]) -> SampleBatch:
    own = sorted((block for block in blocks if block.source == name), key=lambda block: block.number)
    times = np.concatenate([block.time_s for block in own])
    return SampleBatch(name, own[0].channels, times, np.concatenate([block.value for block in own]))


def _rate_hz(time_s: Floats) -> float:
    """The usual rate of a stream: gaps and bunches do not count."""
    steps = np.diff(time_s)
    steps = steps[steps > 0]
    return 1.0 / float(np.median(steps)) if len(steps) else 1.0


def _sliced(streams: Sequence[SampleBatch]) -> Iterator[SampleBatch]:
    """All streams side by side, a second at a time; seconds in which nothing came are left out."""
    seconds = np.unique(np.concatenate([np.floor(stream.time_s / _SLICE_S) for stream in streams]))
    for second in seconds:
        for stream in streams:
            first, end = np.searchsorted(stream.time_s, (second * _SLICE_S, (second + 1) * _SLICE_S))
            if end > first:
                times, values = stream.time_s[first:end], stream.value[first:end]
                yield SampleBatch(stream.source, stream.channels, times, values)
