"""Which sources a pass needs, and how long each may be quiet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from waywright.capture.events import WatchedSource
from waywright.errors import CaptureError
from waywright.visit import Pass

_GAP_SAMPLES = 5.0
_GAP_S = 0.5
_SILENT_SAMPLES = 10.0
_SILENT_S = 3.0
# A computer may be late by this much of wall time without anything being missing; a faster clock makes it more.
_LATE_S = 0.05
_SILENT_LATE_S = 1.5


def needed_channels(taken: Pass) -> tuple[str, ...]:
    """The channels that a reading of a pass holds: the position first."""
    return tuple(dict.fromkeys((taken.position_channel, *taken.channels)))


def watched_sources(
    channels: Mapping[str, tuple[str, ...]],
    rates_hz: Mapping[str, float],
    needed: Sequence[str],
    clock_factor: float = 1.0,
) -> tuple[WatchedSource, ...]:
    """The sources (name to channels, name to rate) that have a needed channel.

    Raises CaptureError if a needed channel comes from none of them, or from two.
    """
    known = [channel for offered in channels.values() for channel in offered]
    for channel in needed:
        if known.count(channel) != 1:
            problem = "capture.channel_missing" if channel not in known else "capture.channel_twice"
            raise CaptureError(problem, channel=channel, known=", ".join(known))
    return tuple(
        WatchedSource(
            name,
            offered,
            tuple(channel for channel in offered if channel in needed),
            rates_hz[name],
            max(_GAP_S, _GAP_SAMPLES / rates_hz[name], _LATE_S * clock_factor),
            max(_SILENT_S, _SILENT_SAMPLES / rates_hz[name], _SILENT_LATE_S * clock_factor),
        )
        for name, offered in channels.items()
        if not set(needed).isdisjoint(offered)
    )
