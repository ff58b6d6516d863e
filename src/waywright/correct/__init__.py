"""Which support to turn, which way, how far; and what was learnt from it."""

from waywright.correct.belief import Belief
from waywright.correct.learning import TurningError
from waywright.correct.plan import Plan, expected_reading_change, plan_correction
from waywright.correct.response import BedModel, Stiffness, bed_model
from waywright.correct.seen import Source
from waywright.correct.surprise import Cause
from waywright.correct.trade_off import TradeOff
from waywright.correct.update import Learnt, update_belief

__all__ = [
    "BedModel",
    "Belief",
    "Cause",
    "Learnt",
    "Plan",
    "Source",
    "Stiffness",
    "TradeOff",
    "TurningError",
    "bed_model",
    "expected_reading_change",
    "plan_correction",
    "update_belief",
]
