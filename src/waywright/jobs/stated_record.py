"""What is stated about a value: with its uncertainty, its whole budget, and its verdict."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waywright.evaluate import Reason
from waywright.uncertainty import Action, Row
from waywright.verdict import Decision, PartCheck


@dataclass(frozen=True, slots=True)
class StatedResult:
    """One value with its uncertainty and, if a rule was given, its verdict; figures in ``unit`` ("um" or "um/m").

    ``what`` is "straightness", "twist", "squareness", "parallelism" or "spatial". ``value`` is computed from the
    readings as they are, ``best`` is the middle of what the true value may be. ``interval`` holds it with
    ``probability`` (as much may lie below as above), ``shortest_interval`` is the shortest that does; ``bias`` is by
    how much noise makes the value as read larger than the mean of the drawn ones. ``expanded`` (U) is half the width
    of ``interval``, ``coverage_factor`` (k) is U by ``standard_uncertainty`` (u).

    ``rows`` are the whole budget, one for each contribution and one for what lies between the stations: the law of
    propagation at the readings. ``rows_combined`` is their sum with correlations, ``rows_second_order`` the same with
    second-order terms, ``degrees_of_freedom`` the effective ones, ``rows_coverage_factor`` and ``rows_expanded`` what
    follows. ``budget`` is the title of the budget, ``budget_file`` where it came from.

    ``noise_floor`` and ``noise_floor_95`` are what a perfect axis would have read (straightness only). ``shape`` is the
    probability of each family of shapes. ``tolerance`` is the rule in its normal form, ``limit`` its single limit for
    this length where it has one, ``parts`` each part checked against the measured result, ``decision`` the verdict with
    probability, risks, guard band and burden, ``reason`` why. ``decision`` is None without a rule, and where a part
    cannot be judged; ``unjudged`` then says why. ``warning`` says that the verdict depends on the reference line.
    ``helps`` are the actions that reduce U most, with U before and after.
    """

    what: str
    code: str
    pass_number: int | None
    reference: str | None
    unit: str
    value: float
    best: float
    interval: tuple[float, float]
    probability: float
    standard_uncertainty: float
    coverage_factor: float
    expanded: float
    rows: tuple[Row, ...]
    rows_combined: float
    rows_second_order: float
    degrees_of_freedom: float
    rows_coverage_factor: float
    rows_expanded: float
    budget: str
    budget_file: str | None
    shortest_interval: tuple[float, float]
    bias: float
    draws: int
    noise_floor: float | None = None
    noise_floor_95: float | None = None
    shape: Mapping[str, float] = field(default_factory=dict)
    tolerance: str | None = None
    limit: float | None = None
    parts: tuple[PartCheck, ...] = ()
    decision: Decision | None = None
    reason: Reason | None = None
    unjudged: tuple[Reason, ...] = ()
    warning: Reason | None = None
    helps: tuple[Action, ...] = ()
