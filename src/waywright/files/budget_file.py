"""The budget file: the contributions of one method in TOML, with a ready one for each method to copy and edit.

Format 1: the fields of :class:`waywright.uncertainty.Budget`, contributions as ``[[contribution]]``, correlations as
``[[correlation]]``, the population of true shapes as ``[bed]``. See ``budgets/beam.toml``.
"""

from __future__ import annotations

import math
from dataclasses import fields
from importlib.resources import files
from pathlib import Path
from typing import Any

import msgspec

from waywright.errors import BadInput
from waywright.files.toml_record import read_record
from waywright.uncertainty import BedShapes, Budget, Contribution, Correlated

FORMAT = 1
METHODS = ("beam", "level", "autocollimator", "straightedge", "cross-level", "positioning")


def read_budget(path: str | Path) -> Budget:
    """The budget of a file. Raises BadInput naming the file, the key and what is allowed there."""
    budget = read_record(Path(path), Budget)
    if budget.format != FORMAT:
        raise BadInput("files.budget_format", file=str(path), found=budget.format, known=FORMAT)
    return budget


def ready_budget_text(method: str) -> str:
    """The ready budget of a method as text to copy and edit. Raises BadInput for a method without one."""
    if method not in METHODS:
        raise BadInput("files.no_ready_budget", method=method, known=", ".join(METHODS))
    return (files("waywright.files") / "budgets" / f"{method}.toml").read_text(encoding="utf-8")


def ready_budget(method: str) -> Budget:
    """The ready budget of a method, its values as shipped."""
    return msgspec.convert(msgspec.toml.decode(ready_budget_text(method)), Budget)


def write_budget(path: str | Path, budget: Budget) -> None:
    """Write a budget as a TOML file that reads back equal."""
    Path(path).write_text(budget_text(budget), encoding="utf-8")


def budget_text(budget: Budget) -> str:
    """A budget as TOML text; values that are the default of their field are left out."""
    lines = [
        f"format = {FORMAT}",
        f"method = {_value(budget.method)}",
        *([f"title = {_value(budget.title)}"] if budget.title else []),
        *([f"reads = {_value(budget.reads)}"] if budget.reads != "um" else []),
    ]
    changed = _lines(budget.bed, BedShapes())
    if changed:
        lines += ["", "[bed]", *changed]
    for name, rows in (("contribution", budget.contribution), ("correlation", budget.correlation)):
        for row in rows:
            lines += ["", f"[[{name}]]", *_lines(row)]
    return "\n".join(lines) + "\n"


def budget_schema() -> dict[str, Any]:
    """JSON Schema of the budget file, for editors."""
    made = msgspec.json.schema(Budget)
    freedom = made["$defs"]["Contribution"]["properties"]["degrees_of_freedom"]
    freedom.pop("default")  # infinite, which JSON cannot say
    freedom["description"] = "Infinite where it is left out."
    return made


def _lines(record: Contribution | Correlated | BedShapes, default: BedShapes | None = None) -> list[str]:
    found = []
    for field in fields(record):
        value = getattr(record, field.name)
        if value != (getattr(default, field.name) if default is not None else field.default):
            found.append(f"{field.name} = {_value(value)}")
    return found


def _value(value: object) -> str:
    if isinstance(value, str):
        return msgspec.json.encode(str(value)).decode()
    if isinstance(value, tuple):
        return "[" + ", ".join(_value(item) for item in value) + "]"
    if isinstance(value, float) and math.isinf(value):
        return "inf"
    return repr(value)
