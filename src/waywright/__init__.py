"""Waywright: take, judge, correct, prove the geometry of machine tools.

The names of the library are resolved when they are first used, so that importing it loads nothing heavy.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from waywright import wording as _wording  # noqa: F401 - lends errors their voice

if TYPE_CHECKING:
    from waywright.correct import plan_correction, update_belief
    from waywright.evaluate import (
        angular_error,
        at_functional_point,
        compare_squares,
        flatness,
        heights_from_network,
        heights_from_rotation,
        heights_from_slopes,
        heights_from_steps,
        joint,
        local_straightness,
        parallelism,
        positioning,
        ram_droop,
        roll_from_lines,
        spatial_straightness,
        spindle_to_axis,
        squareness,
        straightedge_reversal,
        straightness,
        twist,
        two_ways,
    )
    from waywright.files import read_table, write_table
    from waywright.uncertainty import monte_carlo
    from waywright.verdict import decide, tolerance

_HOME = {
    "angular_error": "evaluate",
    "at_functional_point": "evaluate",
    "compare_squares": "evaluate",
    "decide": "verdict",
    "flatness": "evaluate",
    "heights_from_network": "evaluate",
    "heights_from_rotation": "evaluate",
    "heights_from_slopes": "evaluate",
    "heights_from_steps": "evaluate",
    "joint": "evaluate",
    "local_straightness": "evaluate",
    "monte_carlo": "uncertainty",
    "parallelism": "evaluate",
    "plan_correction": "correct",
    "positioning": "evaluate",
    "ram_droop": "evaluate",
    "read_table": "files",
    "roll_from_lines": "evaluate",
    "spatial_straightness": "evaluate",
    "spindle_to_axis": "evaluate",
    "squareness": "evaluate",
    "straightedge_reversal": "evaluate",
    "straightness": "evaluate",
    "tolerance": "verdict",
    "twist": "evaluate",
    "two_ways": "evaluate",
    "update_belief": "correct",
    "write_table": "files",
}

__version__ = "0.1.0"
__all__ = [
    "angular_error",
    "at_functional_point",
    "compare_squares",
    "decide",
    "flatness",
    "heights_from_network",
    "heights_from_rotation",
    "heights_from_slopes",
    "heights_from_steps",
    "joint",
    "local_straightness",
    "monte_carlo",
    "parallelism",
    "plan_correction",
    "positioning",
    "ram_droop",
    "read_table",
    "roll_from_lines",
    "spatial_straightness",
    "spindle_to_axis",
    "squareness",
    "straightedge_reversal",
    "straightness",
    "tolerance",
    "twist",
    "two_ways",
    "update_belief",
    "write_table",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
