"""What a report says, before it has a form. Everything printed comes from here; nothing is computed while printing.

Values are as screens show them, positive in the physical direction ``on_screen`` of their quantity; only the readings
in :class:`PassContent` are a profile with ISO signs, which carries its own map to the screen. Units: mm, um, for
rotations um/m.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from waywright.evaluate.results import Reason
from waywright.machine import Machine
from waywright.quantities import Code, Direction
from waywright.visit import Conditions, Line, PassEvent, PassSettings, Profile, SetUp

Numbers = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class LineValue:
    """The result about one reference line: ``value`` = ``largest`` - ``smallest``, and where these two stand.

    ``reference`` is "end-points", "least-squares", "minimum-zone", "given", or "none" for values as read.
    """

    reference: str
    value: float
    largest: float
    largest_mm: float
    smallest: float
    smallest_mm: float


@dataclass(frozen=True, slots=True)
class PassCurve:
    """Deviations of one pass about the chosen line."""

    number: int
    direction: str
    position_mm: Numbers
    deviation: Numbers


@dataclass(frozen=True, slots=True)
class QuantityContent:
    """One quantity: the result about each line, the chosen one first, and the curves about the chosen one.

    ``position_mm`` and ``deviation`` are the mean of the passes, which the values belong to.
    """

    code: Code
    on_screen: Direction
    values: tuple[LineValue, ...]
    position_mm: Numbers
    deviation: Numbers
    passes: tuple[PassCurve, ...] = ()
    tolerance: float | None = None

    @property
    def chosen(self) -> LineValue:
        """The result about the chosen line."""
        return self.values[0]


@dataclass(frozen=True, slots=True, eq=False)
class PassContent:
    """One pass: its readings, its conditions, what happened, and the hash of its last reading (hexadecimal).

    ``repeated`` is how many readings were superseded by a later one at the same station.
    """

    number: int
    direction: str
    began_utc: datetime
    profile: Profile
    ended_utc: datetime | None = None
    outcome: str | None = None
    settings: PassSettings | None = None
    conditions: Conditions = field(default_factory=Conditions)
    events: tuple[PassEvent, ...] = ()
    repeated: int = 0
    last_hash: str | None = None


@dataclass(frozen=True, slots=True)
class FurtherContent:
    """A result beside the deviations: passes compared, straightness in space, twist, flatness ...

    ``kind`` names its heading ("passes", "spatial", "twist", "squareness", "parallelism", "segments", "guideway",
    "flatness", "level", "positioning"), ``said`` its sentences as keys and facts, ``svg`` its drawing for print.
    """

    kind: str
    said: tuple[Reason, ...]
    svg: str | None = None


@dataclass(frozen=True, slots=True, eq=False)
class ReportContent:
    """A report of one line. None is "not recorded".

    ``made_utc`` dates the documents and everything in them, so that the same content gives the same bytes.
    The first of ``quantities`` is the one in the way drawing.
    """

    made_utc: datetime
    machine: Machine
    line: Line
    setup: SetUp
    quantities: tuple[QuantityContent, ...]
    passes: tuple[PassContent, ...]
    software_version: str
    algorithm_version: str
    technician: str | None = None
    purpose: str | None = None
    language: str = "en"
    further: tuple[FurtherContent, ...] = ()
