"""The plain word of a quantity, from its code and how the machine stands."""

from __future__ import annotations

from dataclasses import dataclass, field

from waywright.quantities.codes import Code
from waywright.quantities.directions import Axes


@dataclass(frozen=True, slots=True)
class Name:
    """A wording key with its facts."""

    key: str
    facts: dict[str, str] = field(default_factory=dict)


def plain_name(code: Code, axes: Axes) -> Name:
    """Height and side, roll, pitch and yaw; a vertical axis says towards X, towards Y, about X, about Y instead."""
    if code.direction == code.axis:
        return Name("quantities.roll" if code.is_rotation else "quantities.position")
    if code.axis == axes.vertical:
        return Name("quantities.about" if code.is_rotation else "quantities.towards", {"direction": code.direction})
    vertical = code.direction == axes.vertical
    if code.is_rotation:
        return Name("quantities.yaw" if vertical else "quantities.pitch")
    return Name("quantities.height" if vertical else "quantities.side")
