"""What a report says of one line: values, curves, passes, uncertainty and verdict, further results.

Values are as screens show them, positive in the physical direction ``on_screen`` of their quantity; only the readings
in :class:`PassContent` are a profile with ISO signs, which carries its own map to the screen. Units: mm, um, for
rotations um/m.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from waywright.evaluate.results import Reason
from waywright.quantities import Code, Direction
from waywright.visit import Conditions, Line, PassEvent, PassSettings, PlanItem, Profile, SetUp

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
class BudgetRow:
    """One contribution: what was put in, how it acts on the value, and what it contributes."""

    name: str
    value: float
    unit: str
    distribution: str
    degrees_of_freedom: float
    source: str
    standard_uncertainty: float
    sensitivity: float
    contribution: float


@dataclass(frozen=True, slots=True)
class UncertaintyContent:
    """A value with its uncertainty, about the chosen line, in the unit of the quantity.

    ``best`` is the middle of what the true value may be, ``interval`` holds it with ``probability``, ``expanded`` is
    half its width and ``coverage_factor`` that by the standard uncertainty. ``noise_floor`` is what a perfect axis
    would have read, ``noise_floor_95`` its 95 % point. ``rows`` are the whole budget, ``combined`` their sum with
    correlations. ``ribbon`` is the expanded uncertainty of the deviation at each station, empty where not computed.
    """

    best: float
    interval: tuple[float, float]
    expanded: float
    coverage_factor: float
    probability: float
    rows: tuple[BudgetRow, ...]
    combined: float
    degrees_of_freedom: float
    noise_floor: float | None = None
    noise_floor_95: float | None = None
    budget: str | None = None
    ribbon: Numbers = ()


@dataclass(frozen=True, slots=True)
class VerdictContent:
    """A tolerance rule and what follows from it.

    ``verdict`` is "conforms", "does-not-conform" or "undecided", None where the rule could only be compared with the
    measured curve: then ``holds`` says what that comparison gave. ``binding`` is False where the plan is not agreed or
    the tolerance not confirmed, ``why_not_binding`` says which. ``limit`` is what the rule allows over this length.
    """

    rule: str
    source: str | None = None
    limit: float | None = None
    verdict: str | None = None
    holds: bool | None = None
    accepted: bool | None = None
    burden: str | None = None
    confidence: float | None = None
    probability_of_conformity: float | None = None
    acceptance: float | None = None
    rejection: float | None = None
    binding: bool = False
    why_not_binding: Reason | None = None
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class QuantityContent:
    """One quantity: the result about each line, the chosen one first, and the curves about the chosen one.

    ``position_mm`` and ``deviation`` are the mean of the passes, which the values belong to; ``mean`` is the same
    before any line was taken off. ``uncertainty`` and ``verdict`` are None where none was stated.
    """

    code: Code
    on_screen: Direction
    values: tuple[LineValue, ...]
    position_mm: Numbers
    deviation: Numbers
    passes: tuple[PassCurve, ...] = ()
    mean: Numbers = ()
    uncertainty: UncertaintyContent | None = None
    verdict: VerdictContent | None = None

    @property
    def chosen(self) -> LineValue:
        """The result about the chosen line."""
        return self.values[0]

    @property
    def tolerance(self) -> float | None:
        """The width of the tolerance band, where the rule has a single limit."""
        return None if self.verdict is None else self.verdict.limit


@dataclass(frozen=True, slots=True, eq=False)
class PassContent:
    """One pass: its readings, its conditions, what happened, and the hash of its last reading (hexadecimal).

    ``repeated`` is how many readings were superseded by a later one at the same station. ``segment`` is the set-up's.
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
    segment: int = 1


@dataclass(frozen=True, slots=True)
class ExcludedContent:
    """A reading that was left out of the results: where, by whom and why; its values stand with the readings."""

    pass_number: int
    position_mm: float
    reason: str
    made_utc: datetime
    by: str | None = None


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure of a further result: the key of its name with facts, its value (None: not judged), and its unit."""

    key: str
    value: float | None
    unit: str
    decimals: int = 1
    facts: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FurtherContent:
    """A result beside the deviations: passes compared, straightness in space, twist, joint, squareness, flatness ...

    ``kind`` names its heading (``report.further.<kind>``), ``said`` its sentences as keys and facts, ``svg`` its
    drawing for print, ``rows`` its figures as numbers, ``basis`` the sentences of what it rests on: functional point,
    reference, passes, segments, what was left out, physical direction, tables. ``remark`` is what the person wrote.
    ``uncertainty`` and ``verdict`` are those of the figure that is judged, otherwise of the first one, in ``unit``;
    None where none was stated.
    """

    kind: str
    said: tuple[Reason, ...]
    svg: str | None = None
    rows: tuple[FigureRow, ...] = ()
    basis: tuple[Reason, ...] = ()
    remark: str | None = None
    uncertainty: UncertaintyContent | None = None
    verdict: VerdictContent | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class LineContent:
    """One line: what was measured, from which set-up, in which passes, and what came of it.

    ``setup`` is the newest of ``setups``. The first of ``quantities`` is the one in the way drawing. ``tests`` are the
    tests of the plan that this line answers.
    """

    line: Line
    setup: SetUp
    quantities: tuple[QuantityContent, ...]
    passes: tuple[PassContent, ...]
    further: tuple[FurtherContent, ...] = ()
    excluded: tuple[ExcludedContent, ...] = ()
    tests: tuple[PlanItem, ...] = ()

    def quantity(self, code: str) -> QuantityContent | None:
        """The content of a code, or None where it was not measured."""
        return next((each for each in self.quantities if each.code.text == code), None)
