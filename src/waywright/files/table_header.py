"""What the names in a table's header mean: quantity, unit, role."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from waywright.errors import BadInput
from waywright.files.table_text import Row, shown
from waywright.quantities import Code, Kind, Unit, code, unit

PLAIN = ("pass", "direction", "n")
_QUANTITY = re.compile(r"(?:(?P<role>sd|n)_)?(?P<code>E[XYZABC][XYZ])(?:_(?P<unit>.+))?", re.IGNORECASE)
_POSITION = re.compile(r"position(?:_(?P<unit>.+))?", re.IGNORECASE)
_TIME = re.compile(r"time(?:_(?P<unit>.+))?", re.IGNORECASE)
_EXAMPLE = {Kind.ANGLE: "um_per_m", Kind.DISPLACEMENT: "um", Kind.POSITION: "mm", Kind.TIME: "s"}


@dataclass(frozen=True, slots=True)
class Heading:
    """One column: ``role`` is position, time, value, sd, samples, pass, direction or n; ``code`` for value, sd, n."""

    name: str
    role: str
    code: Code | None = None
    unit: Unit | None = None

    @property
    def key(self) -> tuple[str, str]:
        """What may stand only once in a header."""
        return self.role, self.code.text if self.code else ""


def headings(file: str, header: Row) -> list[Heading]:
    """The meaning of every column.

    Raises BadInput for an unknown name, a missing or unknown unit, a column given twice, a quantity in two units,
    a table without positions or without any quantity.
    """
    found = [_heading(file, header.line, name) for name in header.cells]
    _refuse_twice(file, header.line, found)
    roles = {heading.role for heading in found}
    if "position" not in roles:
        raise BadInput("files.table_no_position", file=file, line=header.line)
    if "value" not in roles:
        raise BadInput("files.table_no_quantity", file=file, line=header.line)
    return found


def _heading(file: str, line: int, name: str) -> Heading:
    if name.lower() in PLAIN:
        return Heading(name, name.lower())
    if position := _POSITION.fullmatch(name):
        return Heading(name, "position", None, _unit(file, line, name, Kind.POSITION, position["unit"]))
    if moment := _TIME.fullmatch(name):
        return Heading(name, "time", None, _unit(file, line, name, Kind.TIME, moment["unit"]))
    if quantity := _QUANTITY.fullmatch(name):
        return _quantity(file, line, name, quantity)
    raise BadInput("files.table_unknown_column", file=file, line=line, column=shown(name))


def _quantity(file: str, line: int, name: str, found: re.Match[str]) -> Heading:
    motion = code(found["code"])
    role = {"sd": "sd", "n": "samples", "": "value"}[(found["role"] or "").lower()]
    if role == "samples":
        if found["unit"]:
            raise BadInput("files.table_unknown_column", file=file, line=line, column=shown(name))
        return Heading(name, role, motion)
    return Heading(name, role, motion, _unit(file, line, name, motion.kind, found["unit"]))


def _unit(file: str, line: int, name: str, kind: Kind, written: str | None) -> Unit:
    if not written:
        raise BadInput(
            "files.table_unit_missing", file=file, line=line, column=name, example=f"{name.strip('_')}_{_EXAMPLE[kind]}"
        )
    try:
        return unit(kind, spelled_unit(written))
    except BadInput as problem:
        allowed = str(problem.facts["allowed"]).replace("/", "_per_")
        raise BadInput(
            "files.table_unit_unknown", file=file, line=line, column=shown(name), found=shown(written), allowed=allowed
        ) from None


def spelled_unit(written: str) -> str:
    """``um_per_m``, ``um/m``, ``µm`` (either of the two signs for micro) as the units are named inside."""
    return written.replace("µ", "u").replace("μ", "u").replace("_per_", "/")


def _refuse_twice(file: str, line: int, found: Iterable[Heading]) -> None:
    seen: dict[tuple[str, str], Heading] = {}
    units: dict[str, Heading] = {}
    for heading in found:
        _refuse_mixed(file, line, heading, units)
        earlier = seen.setdefault(heading.key, heading)
        if earlier is not heading:
            raise BadInput("files.table_column_twice", file=file, line=line, column=heading.name)


def _refuse_mixed(file: str, line: int, heading: Heading, units: dict[str, Heading]) -> None:
    """A quantity stands in one unit, its standard deviation included: two are more often a slip than a wish."""
    if heading.unit is None:
        return
    earlier = units.setdefault(heading.code.text if heading.code else heading.role, heading)
    if earlier.unit != heading.unit:
        raise BadInput("files.table_mixed_units", file=file, line=line, first=earlier.name, second=heading.name)
