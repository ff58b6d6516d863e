"""What a stay at a machine consists of, as frozen records; and the sink that readings go to.

"Not recorded" (None) is allowed everywhere: nothing blocks the first reading, and what is missing can be added later as
a new revision of the record, with who and why.
"""

from waywright.visit.conditions import Conditions, MachineState, Temperature
from waywright.visit.evidence import Evidence, Statement
from waywright.visit.interpretation import ChannelMeaning, Interpretation, interpreted
from waywright.visit.lines import InstrumentUse, Line, PositionZero, SetUp, SourceStand
from waywright.visit.passes import Pass, PassEvent, PassSettings
from waywright.visit.profile import Column, Profile
from waywright.visit.sink import ReadingSink
from waywright.visit.stay import Exclusion, Person, Visit

__all__ = [
    "ChannelMeaning",
    "Column",
    "Conditions",
    "Evidence",
    "Exclusion",
    "InstrumentUse",
    "Interpretation",
    "Line",
    "MachineState",
    "Pass",
    "PassEvent",
    "PassSettings",
    "Person",
    "PositionZero",
    "Profile",
    "ReadingSink",
    "SetUp",
    "SourceStand",
    "Statement",
    "Temperature",
    "Visit",
    "interpreted",
]
