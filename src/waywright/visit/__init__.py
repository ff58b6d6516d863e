"""What a stay at a machine consists of, as frozen records; and the sink that readings go to.

"Not recorded" (None) is allowed everywhere: nothing blocks the first reading, and what is missing can be added later as
a new revision of the record, with who and why.
"""

from waywright.visit.adjustment import (
    Adjustment,
    Alarm,
    BedBelief,
    Confirmation,
    MoveMade,
    NamedCause,
    NotCorrected,
)
from waywright.visit.conditions import Conditions, MachineState, Temperature
from waywright.visit.evidence import Evidence, EvidenceEntry, Statement
from waywright.visit.interpretation import ChannelMeaning, Interpretation, interpreted
from waywright.visit.issue import OnTheSpot, ReportNote, SignedReport
from waywright.visit.judged import Judged, KeptTable, KeptTrust
from waywright.visit.kept import Attachment, Certificate, IssuedReport, KeptInstrument, KeptResult, Site
from waywright.visit.lines import InstrumentUse, Line, PositionZero, SetUp, SourceStand
from waywright.visit.passes import Pass, PassEvent, PassSettings
from waywright.visit.plan import PlanAgreement, PlanItem, PlanTolerance, VisitPlan
from waywright.visit.profile import Column, Profile
from waywright.visit.sink import ReadingSink
from waywright.visit.stay import Exclusion, Person, Visit

__all__ = [
    "Adjustment",
    "Alarm",
    "Attachment",
    "BedBelief",
    "Certificate",
    "ChannelMeaning",
    "Column",
    "Conditions",
    "Confirmation",
    "Evidence",
    "EvidenceEntry",
    "Exclusion",
    "InstrumentUse",
    "Interpretation",
    "IssuedReport",
    "Judged",
    "KeptInstrument",
    "KeptResult",
    "KeptTable",
    "KeptTrust",
    "Line",
    "MachineState",
    "MoveMade",
    "NamedCause",
    "NotCorrected",
    "OnTheSpot",
    "Pass",
    "PassEvent",
    "PassSettings",
    "Person",
    "PlanAgreement",
    "PlanItem",
    "PlanTolerance",
    "PositionZero",
    "Profile",
    "ReadingSink",
    "ReportNote",
    "SetUp",
    "SignedReport",
    "Site",
    "SourceStand",
    "Statement",
    "Temperature",
    "Visit",
    "VisitPlan",
    "interpreted",
]
