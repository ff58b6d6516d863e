"""A round of correction: what was told, what was confirmed, what was turned, what came of it, and what was learnt.

A round is kept as it grows (each step a revision): planned, confirmed, turned, measured again. What was measured is
not copied but named: the lines before and after it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from waywright.visit.evidence import Statement


@dataclass(frozen=True, slots=True)
class Confirmation:
    """One thing about safety that a person confirmed on its own before anything was turned.

    ``statement`` is what was confirmed, ``answer`` what the person typed for it, ``by`` who (None: not recorded).
    """

    statement: Statement
    answer: str
    made_utc: datetime
    by: UUID | None = None


@dataclass(frozen=True, slots=True)
class MoveMade:
    """One support in a round. ``asked_um`` by the sheet, ``done_um`` as told by the fitter (None: not told yet).

    Raising is positive, towards the operator for a side jack. ``note`` is what the fitter said about it. Where the
    detector was parked, ``station_mm``, ``expected_um`` and ``read_um`` are the change of its reading, and ``causes``
    what it tells of the support.
    """

    support: str
    asked_um: float
    done_um: float | None = None
    done_utc: datetime | None = None
    note: str | None = None
    station_mm: float | None = None
    expected_um: float | None = None
    read_um: float | None = None
    causes: tuple[NamedCause, ...] = ()


@dataclass(frozen=True, slots=True)
class Alarm:
    """Something that the instruments showed while a support was being turned, and at which support."""

    statement: Statement
    seen_utc: datetime
    support: str | None = None


@dataclass(frozen=True, slots=True)
class NamedCause:
    """What may have made a round come out otherwise than expected, and how probable it is (0 to 1).

    ``kind`` is "not-carrying", "wrong-support", "wrong-direction", "wrong-amount", "slipped" or "as-asked".
    """

    kind: str
    support: str
    probability: float
    other: str | None = None


@dataclass(frozen=True, slots=True)
class NotCorrected:
    """What was left as it is (``subject``: a support, a part of the form, a quantity), and why."""

    subject: str
    why: Statement


@dataclass(frozen=True, slots=True)
class Adjustment:
    """One round at a visit. Values (um) are the worse of height and roll times gauge, about the best reference.

    ``before_line_id`` and ``after_line_id`` name the lines measured before and after; ``expected_um`` with its 95 %
    ``interval_um`` was foretold for the reading afterwards. ``told`` are the instructions and warnings as they stood
    on the sheet, ``to_confirm`` what had to be confirmed before anything was turned. ``belief_before_id`` and
    ``belief_id`` name the belief that it was planned on and the one after it. ``surprise`` is None until it was
    measured again.
    """

    id: UUID
    visit_id: UUID
    number: int
    before_line_id: UUID
    goal_um: float
    value_before_um: float
    expected_um: float
    interval_um: tuple[float, float]
    moves: tuple[MoveMade, ...]
    told: tuple[Statement, ...] = ()
    to_confirm: tuple[Statement, ...] = ()
    confirmations: tuple[Confirmation, ...] = ()
    alarms: tuple[Alarm, ...] = ()
    not_corrected: tuple[NotCorrected, ...] = ()
    after_line_id: UUID | None = None
    value_after_um: float | None = None
    surprise: bool | None = None
    causes: tuple[NamedCause, ...] = ()
    belief_before_id: UUID | None = None
    belief_id: UUID | None = None
    quantity: str = "carriage"
    stage: str | None = None
    planned_utc: datetime | None = None
    measured_utc: datetime | None = None
    by: UUID | None = None

    @property
    def reached(self) -> bool | None:
        """Whether the goal was kept afterwards; None while it was not measured again."""
        return None if self.value_after_um is None else self.value_after_um <= self.goal_um


@dataclass(frozen=True, slots=True)
class BedBelief:
    """What is believed about a machine's bed, as numbers for the planner; meant to be read by the program only.

    ``mean`` and ``covariance`` are those of the logarithms of bending (N m2) and torsion (N m2), of each seat (N/um),
    and of the settings (um), supports in the order of ``supports``. ``rounds`` counts what it was learnt from;
    ``round_id`` is the last of them. ``sideways`` is a belief about bending on side jacks.
    """

    id: UUID
    machine_id: UUID
    supports: tuple[str, ...]
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    rounds: int
    made_utc: datetime
    placed: bool = True
    sideways: bool = False
    round_id: UUID | None = None
