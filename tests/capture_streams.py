"""Synthetic streams of an axis that moves and stands, for the tests of capture. Not a model of any machine."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from waywright.capture import Accepted, Event, Standstill, StandstillSettings, WatchedSource, watched_sources
from waywright.instruments import SampleBatch

POSITION = "distance.position_mm"
BEAM = ("beam.vertical_um", "beam.side_um")
CHANNELS = {"distance": (POSITION,), "beam": BEAM}
RATES_HZ = {"distance": 10.0, "beam": 50.0}
DWELL_S, AVERAGING_S, STEP_MM = 1.0, 5.0, 10.0


@dataclass(frozen=True)
class Drive:
    """Where the axis is: corner points of time and place, straight between them."""

    time_s: tuple[float, ...]
    place_mm: tuple[float, ...]
    stands: tuple[tuple[float, float], ...]

    @property
    def end_s(self) -> float:
        return self.time_s[-1]


def driven(stops: Sequence[tuple[float, float]], speed_mm_per_s: float = 60.0) -> Drive:
    """Stops as (place in mm, how long in s), one after the other."""
    times, places, stands = [0.0], [stops[0][0]], []
    for number, (place_mm, lasts_s) in enumerate(stops):
        if number:
            times.append(times[-1] + 0.4 + abs(place_mm - places[-1]) / speed_mm_per_s)
            places.append(place_mm)
        stands.append((times[-1], times[-1] + lasts_s))
        times.append(times[-1] + lasts_s)
        places.append(place_mm)
    return Drive(tuple(times), tuple(places), tuple(stands))


@dataclass(frozen=True)
class Signals:
    """Noise of the sources, and what disturbs them: (channel, from s, to s, added um; NaN is a lost beam)."""

    position_mm: float = 0.005
    resolution_mm: float = 0.01
    beam_um: float = 1.0
    disturbances: tuple[tuple[str, float, float, float], ...] = ()
    missing: tuple[tuple[str, float, float], ...] = ()
    seed: int = 1


def streams(drive: Drive, signals: Signals) -> dict[str, SampleBatch]:
    """The whole stream of each source."""
    drawn = np.random.default_rng(signals.seed)
    beam_s = np.arange(0.013, drive.end_s, 1.0 / RATES_HZ["beam"])
    distance_s = np.arange(0.0, drive.end_s, 1.0 / RATES_HZ["distance"])
    places = np.interp(distance_s, drive.time_s, drive.place_mm)
    read = places + signals.position_mm * drawn.standard_normal(len(places))
    if signals.resolution_mm:
        read = np.round(read / signals.resolution_mm) * signals.resolution_mm
    beam = signals.beam_um * drawn.standard_normal((len(beam_s), 2))
    for channel, from_s, to_s, added_um in signals.disturbances:
        beam[(beam_s >= from_s) & (beam_s <= to_s), BEAM.index(channel)] += added_um
    whole = {
        "distance": SampleBatch("distance", (POSITION,), distance_s, read[:, None]),
        "beam": SampleBatch("beam", BEAM, beam_s, beam),
    }
    for source, from_s, to_s in signals.missing:
        old = whole[source]
        kept = (old.time_s < from_s) | (old.time_s > to_s)
        whole[source] = SampleBatch(source, old.channels, old.time_s[kept], old.value[kept])
    return whole


def bunched(whole: dict[str, SampleBatch], bunch_s: float) -> Iterator[SampleBatch]:
    """The streams as batches of ``bunch_s``, the sources in turn."""
    end_s = max(float(batch.time_s[-1]) for batch in whole.values())
    for number in range(int(end_s / bunch_s) + 1):
        for batch in whole.values():
            inside = (batch.time_s >= number * bunch_s) & (batch.time_s < (number + 1) * bunch_s)
            if inside.any():
                yield SampleBatch(batch.source, batch.channels, batch.time_s[inside], batch.value[inside])


@dataclass
class Taken:
    """What the machine said."""

    events: list[Event] = field(default_factory=list)

    @property
    def windows(self) -> list[Accepted]:
        return [event for event in self.events if isinstance(event, Accepted)]

    def of(self, kind: type) -> list[Event]:
        return [event for event in self.events if isinstance(event, kind)]


def watched() -> tuple[WatchedSource, ...]:
    return watched_sources(CHANNELS, RATES_HZ, (POSITION, *BEAM))


def usual(**other: object) -> StandstillSettings:
    stated: dict[str, object] = {
        "position_channel": POSITION,
        "dwell_s": DWELL_S,
        "averaging_s": AVERAGING_S,
        "smallest_step_mm": STEP_MM,
    }
    return StandstillSettings(**{**stated, **other})  # type: ignore[arg-type]


def take(
    drive: Drive,
    signals: Signals | None = None,
    settings: StandstillSettings | None = None,
    bunch_s: float = 0.5,
    triggers: Sequence[float] = (),
) -> Taken:
    """Run a drive through the machine; after every half second of samples it is told the time."""
    machine = Standstill(settings or usual(), watched())
    taken, left = Taken(), sorted(triggers)
    for batch in bunched(streams(drive, signals or Signals()), bunch_s):
        now_s = float(batch.time_s[-1])
        while left and left[0] <= now_s:
            machine.trigger(left.pop(0))
        taken.events += machine.feed(batch)
        taken.events += machine.tick(now_s - 2.0 * bunch_s)
    return taken


def inside_a_stand(window: Accepted, drive: Drive) -> bool:
    """The whole window lies in a time in which the axis stood."""
    return any(from_s <= window.began_s and window.ended_s <= to_s for from_s, to_s in drive.stands)
