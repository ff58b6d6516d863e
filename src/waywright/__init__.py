"""Waywright: take, judge, correct, prove the geometry of machine tools.

The names of the library are resolved when they are first used, so that importing it loads nothing heavy.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from waywright import wording as _wording  # noqa: F401 - lends errors their voice

if TYPE_CHECKING:
    from waywright.evaluate import heights_from_slopes, heights_from_steps, local_straightness, straightness
    from waywright.files import read_table, write_table

_HOME = {
    "heights_from_slopes": "evaluate",
    "heights_from_steps": "evaluate",
    "local_straightness": "evaluate",
    "read_table": "files",
    "straightness": "evaluate",
    "write_table": "files",
}

__version__ = "0.1.0"
__all__ = [
    "heights_from_slopes",
    "heights_from_steps",
    "local_straightness",
    "read_table",
    "straightness",
    "write_table",
]


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])
