"""Waywright: take, judge, correct, prove the geometry of machine tools.

The names of the library are resolved when they are first used, so that importing it loads nothing heavy.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from waywright import wording as _wording  # noqa: F401 - lends errors their voice

if TYPE_CHECKING:
    from waywright.correct import plan_correction, update_belief
    from waywright.evaluate import (
        flatness,
        heights_from_network,
        heights_from_slopes,
        heights_from_steps,
        local_straightness,
        parallelism,
        spatial_straightness,
        squareness,
        straightness,
        twist,
    )
    from waywright.files import read_table, write_table
    from waywright.uncertainty import monte_carlo
    from waywright.verdict import decide, tolerance

_HOME = {
    "decide": "verdict",
    "flatness": "evaluate",
    "heights_from_network": "evaluate",
    "heights_from_slopes": "evaluate",
    "heights_from_steps": "evaluate",
    "local_straightness": "evaluate",
    "monte_carlo": "uncertainty",
    "parallelism": "evaluate",
    "plan_correction": "correct",
    "read_table": "files",
    "spatial_straightness": "evaluate",
    "squareness": "evaluate",
    "straightness": "evaluate",
    "tolerance": "verdict",
    "twist": "evaluate",
    "update_belief": "correct",
    "write_table": "files",
}

__version__ = "0.1.0"
__all__ = [
    "decide",
    "flatness",
    "heights_from_network",
    "heights_from_slopes",
    "heights_from_steps",
    "local_straightness",
    "monte_carlo",
    "parallelism",
    "plan_correction",
    "read_table",
    "spatial_straightness",
    "squareness",
    "straightness",
    "tolerance",
    "twist",
    "update_belief",
    "write_table",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
