"""A pass: one traverse, and what happened during it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

from waywright.visit.conditions import Conditions


@dataclass(frozen=True, slots=True)
class PassSettings:
    """How standstills were recognised and averaged.

    ``averaging_s`` None: as long as it took to bring the standard error of every channel down to
    ``standard_error_um`` (for angles the same number of um/m), at most ``longest_s``.
    """

    averaging_s: float | None
    dwell_s: float
    smallest_step_mm: float
    clock_factor: float = 1.0
    standard_error_um: float | None = None
    longest_s: float | None = None


@dataclass(frozen=True, slots=True)
class Pass:
    """One traverse, forward or backward. ``outcome`` is None while it runs, then "finished", "stopped" or "failed"."""

    id: UUID
    line_id: UUID
    setup_id: UUID
    number: int
    direction: str
    position_channel: str
    channels: tuple[str, ...]
    began_utc: datetime
    settings: PassSettings
    conditions: Conditions = field(default_factory=Conditions)
    ended_utc: datetime | None = None
    outcome: str | None = None


@dataclass(frozen=True, slots=True)
class PassEvent:
    """Something worth telling about a pass: a disturbance, a repeat, a silent source.

    ``key`` and ``facts`` are a message for ``wording``; ``position_mm`` is where the axis stood, if known.
    """

    id: UUID
    pass_id: UUID
    made_utc: datetime
    key: str
    position_mm: float | None = None
    facts: dict[str, str | float] = field(default_factory=dict)
