"""Budgets of the methods of a sheet: indicator, mandrel, bar, square, disc, sweep, feeler; level and straightedge too.

The same format as :mod:`waywright.files.budget_file`, ready to copy and edit.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from pathlib import Path

import msgspec

from waywright.errors import BadInput
from waywright.files.budget_file import METHODS, read_budget, ready_budget, ready_budget_text
from waywright.uncertainty import Budget

ROW_METHODS = ("indicator", "mandrel", "test-bar", "square", "disc", "sweep", "feeler")
READY = (*ROW_METHODS, "level", "straightedge")
"""With the methods of lines that rows use as well."""


def row_budget(name: str, beside: Path | None = None) -> Budget:
    """The ready budget of a method, or a budget file (a relative path counts from ``beside``).

    Raises BadInput for a name that is neither.
    """
    if name in ROW_METHODS:
        return _ready(name)
    if name in METHODS:
        return ready_budget(name)
    path = Path(name) if beside is None else beside / name
    if not path.suffix and not path.exists():
        raise BadInput("files.no_ready_budget", method=name, known=", ".join((*ROW_METHODS, *METHODS)))
    return read_budget(path)


def row_budget_text(method: str) -> str:
    """The ready budget of a method as text to copy and edit. Raises BadInput for a method without one."""
    if method in METHODS:
        return ready_budget_text(method)
    if method not in ROW_METHODS:
        raise BadInput("files.no_ready_budget", method=method, known=", ".join((*ROW_METHODS, *METHODS)))
    return (files("waywright.files") / "sheets" / "budgets" / f"{method}.toml").read_text(encoding="utf-8")


@cache
def _ready(method: str) -> Budget:
    return msgspec.convert(msgspec.toml.decode(row_budget_text(method)), Budget)
