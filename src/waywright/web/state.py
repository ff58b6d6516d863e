"""What every page shows of the line that is being measured, as one frozen picture."""

from __future__ import annotations

from dataclasses import dataclass, field
from uuid import UUID

from waywright.capture import Live
from waywright.jobs.connected import Unheard
from waywright.jobs.figures import Figure, Meaning

IDLE, CONNECTING, READY, ARMED, FAILED = "idle", "connecting", "ready", "armed", "failed"


@dataclass(frozen=True, slots=True)
class PassNow:
    """The pass that is being taken."""

    id: UUID
    number: int
    direction: str
    readings: int


@dataclass(frozen=True, slots=True)
class MeasuringState:
    """``phase`` is "idle", "connecting", "ready" (no pass), "armed" (a pass runs) or "failed" (``problem`` says why).

    ``again_mm`` are stations of the pass that are to be taken again.
    ``unheard`` instruments have said nothing for longer than connecting takes. ``figures`` carry the detector's own
    sign; ``meanings`` bring them to the screen. ``line_id`` is the line measured.
    """

    phase: str = IDLE
    line_id: UUID | None = None
    practice: bool = False
    live: Live = field(default_factory=Live)
    figures: tuple[Figure, ...] = ()
    meanings: tuple[Meaning, ...] = ()
    position_channel: str = ""
    position_mm: float | None = None
    taken: PassNow | None = None
    last_mm: float | None = None
    again_mm: tuple[float, ...] = ()
    problem: Exception | None = None
    unheard: tuple[Unheard, ...] = ()

    @property
    def sentence(self) -> str:
        """Why measuring ended, in words."""
        return "" if self.problem is None else str(self.problem) or repr(self.problem)
