"""Which support to turn, which way, how far; and what was learnt from it."""

from waywright.correct.belief import Belief
from waywright.correct.instructions import Instruction, Sheet, instructions, warnings
from waywright.correct.learning import TurningError
from waywright.correct.live import LiveTarget, ToGo, live_target, tightening, to_go
from waywright.correct.notes import Note
from waywright.correct.plan import Plan, expected_reading_change, plan_correction
from waywright.correct.remedies import (
    CompensationTable,
    ScrapingMap,
    ShimPack,
    compensation_table,
    scraping_map,
    shim_pack,
    sign_of_table,
)
from waywright.correct.response import BedModel, Stiffness, bed_model
from waywright.correct.seen import Source
from waywright.correct.stages import Found, Stage, one_rail, rough_supports, second_rail_heights, stages
from waywright.correct.surprise import Cause
from waywright.correct.trade_off import TradeOff
from waywright.correct.update import Learnt, update_belief

__all__ = [
    "BedModel",
    "Belief",
    "Cause",
    "CompensationTable",
    "Found",
    "Instruction",
    "Learnt",
    "LiveTarget",
    "Note",
    "Plan",
    "ScrapingMap",
    "Sheet",
    "ShimPack",
    "Source",
    "Stage",
    "Stiffness",
    "ToGo",
    "TradeOff",
    "TurningError",
    "bed_model",
    "compensation_table",
    "expected_reading_change",
    "instructions",
    "live_target",
    "one_rail",
    "plan_correction",
    "rough_supports",
    "scraping_map",
    "second_rail_heights",
    "shim_pack",
    "sign_of_table",
    "stages",
    "tightening",
    "to_go",
    "update_belief",
    "warnings",
]
