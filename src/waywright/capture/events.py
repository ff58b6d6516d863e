"""What the standstill machine is told, and what it says: frozen records, times in s since the start of the pass."""

from __future__ import annotations

from dataclasses import dataclass

from waywright.readings import ChannelValue, Trace


@dataclass(frozen=True, slots=True)
class WatchedSource:
    """A source whose samples every reading needs.

    ``needed`` are its channels that a reading holds. More than ``gap_s`` between two samples is a gap that no reading
    may span; after ``silent_s`` without a sample the source is silent.
    """

    name: str
    channels: tuple[str, ...]
    needed: tuple[str, ...]
    rate_hz: float
    gap_s: float
    silent_s: float


@dataclass(frozen=True, slots=True)
class Station:
    """A place already measured: the number of the reading that stands there."""

    number: int
    position_mm: float


@dataclass(frozen=True, slots=True)
class StandstillSettings:
    """How standstills are recognised and averaged.

    ``averaging_s`` None: until every channel's standard error has come down to ``standard_error_um`` (for angles the
    same number of um/m), at most ``longest_s``. ``forward_sense`` is +1 if the position source counts up on the way
    forward, otherwise -1. A station within the smallest step of ``travel_end_mm`` (as the source reads) ends the pass.
    """

    position_channel: str
    dwell_s: float
    averaging_s: float | None
    smallest_step_mm: float
    standard_error_um: float = 0.5
    longest_s: float = 60.0
    forward_sense: int = 1
    travel_end_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Moving:
    """The axis left the place where it stood."""

    time_s: float


@dataclass(frozen=True, slots=True)
class Still:
    """The axis has stood still for the dwell; averaging begins."""

    time_s: float
    position_mm: float


@dataclass(frozen=True, slots=True)
class Averaging:
    """How far the window is, 0 to 1; ``again`` after a disturbance."""

    time_s: float
    position_mm: float
    progress: float
    again: bool


@dataclass(frozen=True, slots=True, eq=False)
class Accepted:
    """A window that is a reading. ``repeats`` is the number of the reading that it supersedes.

    ``position_mm`` is the mean of the position source; ``window`` holds every needed channel, position included.
    """

    time_s: float
    began_s: float
    ended_s: float
    number: int
    position_mm: float
    direction: str | None
    taken_by: str
    repeats: int | None
    values: tuple[ChannelValue, ...]
    window: tuple[Trace, ...]


@dataclass(frozen=True, slots=True)
class Disturbed:
    """A window was rejected, ``duration_s`` in all at this standstill; ``retaken`` says whether a later one was good.

    ``cause`` is "lost" (no value), "outliers" (values far out), "spread" (restless throughout).
    """

    time_s: float
    position_mm: float
    duration_s: float
    channel: str
    cause: str
    retaken: bool


@dataclass(frozen=True, slots=True)
class Restless:
    """A window was accepted although it is noisier than the ones before, because it stays so."""

    time_s: float
    position_mm: float
    channel: str
    times: float


@dataclass(frozen=True, slots=True)
class NotCalm:
    """The longest window was reached before the wished standard error."""

    time_s: float
    position_mm: float
    standard_error: float
    wished: float
    channel: str


@dataclass(frozen=True, slots=True)
class TooSmallStep:
    """A stop too near to the last station to be a new one."""

    time_s: float
    position_mm: float
    step_mm: float
    smallest_step_mm: float


@dataclass(frozen=True, slots=True)
class HandMoved:
    """The axis moved while a reading was taken by hand; there is no reading."""

    time_s: float
    position_mm: float


@dataclass(frozen=True, slots=True)
class Gap:
    """Samples of a source are missing; the window began anew after them."""

    time_s: float
    position_mm: float
    source: str
    duration_s: float


@dataclass(frozen=True, slots=True)
class Silent:
    """Nothing comes from a source; no reading is taken until it returns."""

    time_s: float
    source: str
    since_s: float


@dataclass(frozen=True, slots=True)
class Returned:
    """A silent source is back."""

    time_s: float
    source: str
    silence_s: float


@dataclass(frozen=True, slots=True)
class TravelEnd:
    """The station at the end of the travel has been taken."""

    time_s: float
    position_mm: float


Event = (
    Moving
    | Still
    | Averaging
    | Accepted
    | Disturbed
    | Restless
    | NotCalm
    | TooSmallStep
    | HandMoved
    | Gap
    | Silent
    | Returned
    | TravelEnd
)
