"""The test plan of a visit: what is to be measured and judged, agreed before the first reading.

A plan is a record like any other: every change is a new revision with who, when and why. Changing it takes the
agreements back, because they were given to what it said before.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from uuid import UUID

from waywright.visit.conditions import MachineState


@dataclass(frozen=True, slots=True)
class PlanTolerance:
    """A tolerance rule as text, and where it comes from.

    ``source`` names the sheet or clause ("contract 12, sheet 3"). ``confirmed`` says that somebody looked it up there;
    without that a verdict is for information only. ``example`` marks a rule that came with a template: it stands for
    the shape of a rule, not for a limit, and is to be replaced.
    """

    rule: str
    source: str | None = None
    confirmed: bool = False
    confirmed_by: UUID | None = None
    confirmed_utc: datetime | None = None
    example: bool = False


@dataclass(frozen=True, slots=True)
class PlanItem:
    """One test of a plan; ``key`` is its short name within the plan.

    ``what`` is in plain words. ``test`` is "straightness", "twist", "level", "squareness", "parallelism", "flatness",
    "angle", "positioning" or "run-out". ``code`` is the ISO 230-1 code where the test is one error motion of one axis.
    ``reference`` is the reference line, ``line`` the name of the line that answers the test. ``standard`` is the number
    to look the test up under; ``procedure`` names a procedure of :mod:`waywright.files.procedures`.
    """

    key: str
    what: str
    test: str = "straightness"
    code: str | None = None
    axis: str | None = None
    datum: str | None = None
    functional_point: str | None = None
    tolerance: PlanTolerance | None = None
    reference: str = "least-squares"
    line: str | None = None
    standard: str | None = None
    procedure: str | None = None
    remark: str | None = None

    @property
    def information_only(self) -> bool:
        """Whether a verdict on it binds nobody: no tolerance, or one that nobody has confirmed."""
        return self.tolerance is None or not self.tolerance.confirmed


@dataclass(frozen=True, slots=True)
class PlanAgreement:
    """Who agreed, for which side ("customer", "technician", "maker"), and when."""

    person_id: UUID
    party: str
    agreed_utc: datetime


@dataclass(frozen=True, slots=True)
class VisitPlan:
    """What was agreed for a visit.

    ``burden`` and ``confidence`` are the decision rule (see :func:`waywright.verdict.decide`), ``state`` the state that
    the machine is to be measured in, ``template`` the template it was made from.
    """

    id: UUID
    visit_id: UUID
    title: str
    items: tuple[PlanItem, ...] = ()
    burden: str = "supplier"
    confidence: float = 0.95
    state: MachineState = field(default_factory=MachineState)
    agreements: tuple[PlanAgreement, ...] = ()
    template: str | None = None
    remark: str | None = None

    @property
    def agreed(self) -> bool:
        """Whether somebody has agreed to the plan as it stands."""
        return bool(self.agreements)

    def item(self, key: str) -> PlanItem | None:
        """The test of a key."""
        return next((item for item in self.items if item.key == key), None)

    def binds(self, item: PlanItem) -> bool:
        """Whether a verdict on a test counts: the plan is agreed and the tolerance confirmed."""
        return self.agreed and not item.information_only

    def changed(self, item: PlanItem) -> VisitPlan:
        """The plan with a test put in place of the one of the same key, or added; agreements are taken back."""
        kept = [item if known.key == item.key else known for known in self.items]
        items = kept if self.item(item.key) else [*kept, item]
        return replace(self, items=tuple(items), agreements=())

    def without(self, key: str) -> VisitPlan:
        """The plan without a test; agreements are taken back."""
        return replace(self, items=tuple(item for item in self.items if item.key != key), agreements=())
