"""Events of the standstill machine as messages worth keeping: a wording key, its facts, and where the axis stood."""

from __future__ import annotations

from dataclasses import dataclass, field

from waywright.capture import events as made
from waywright.quantities import Kind


@dataclass(frozen=True, slots=True)
class Told:
    """A wording key with facts; ``position_mm`` if the axis stood somewhere."""

    key: str
    facts: dict[str, str | float] = field(default_factory=dict)
    position_mm: float | None = None


def told(event: made.Event) -> Told | None:  # noqa: PLR0911 - one line for each kind of event
    """What is kept of an event; None for those that only a screen needs."""
    match event:
        case made.Disturbed():
            return _disturbed(event)
        case made.Restless(position_mm=place, channel=channel, times=times):
            return Told("capture.restless", {"position_mm": place, "channel": channel, "times": times}, place)
        case made.NotCalm(position_mm=place):
            facts: dict[str, str | float] = {"channel": event.channel, "unit": unit_of(event.channel)}
            errors = {"standard_error": event.standard_error, "wished": event.wished}
            return Told("capture.not_calm", {"position_mm": place, **facts, **errors}, place)
        case made.TooSmallStep(position_mm=place):
            steps = {"step_mm": event.step_mm, "smallest_step_mm": event.smallest_step_mm}
            return Told("capture.too_small_step", {"position_mm": place, **steps}, place)
        case made.HandMoved(position_mm=place):
            return Told("capture.hand_moved", {"position_mm": place}, place)
        case made.Gap(position_mm=place):
            gap: dict[str, str | float] = {"source": event.source, "duration_s": event.duration_s}
            return Told("capture.gap", {"position_mm": place, **gap}, place)
        case made.Silent():
            return Told("capture.silent", {"source": event.source, "duration_s": event.time_s - event.since_s})
        case made.Returned():
            return Told("capture.returned", {"source": event.source, "duration_s": event.silence_s})
        case made.TravelEnd(position_mm=place):
            return Told("capture.travel_end", {"position_mm": place}, place)
        case made.Accepted(repeats=int() as number, position_mm=place):
            return Told("capture.repeat", {"position_mm": place, "number": number + 1}, place)
    return None


def unit_of(channel: str) -> str:
    """The unit at the end of a channel's name, as people write it."""
    written = {Kind.ANGLE: "um/m", Kind.DISPLACEMENT: "um", Kind.POSITION: "mm", Kind.TEMPERATURE: "degC"}
    return next((unit for kind, unit in written.items() if channel.endswith(f"_{kind.value}")), "")


def _disturbed(event: made.Disturbed) -> Told:
    words = {"lost": "lost", "outliers": "disturbed", "spread": "disturbed"}
    key = f"capture.{words[event.cause]}" + ("" if event.retaken else "_not_taken")
    place = event.position_mm
    facts: dict[str, str | float] = {"position_mm": place, "duration_s": event.duration_s, "channel": event.channel}
    return Told(key, facts, place)
