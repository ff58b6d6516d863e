"""What a tolerance rule says, as records; ``str`` of a record is its phrase in normal form.

Amounts and lengths are kept in mm exactly as parsed (a rule is a text people agreed on), limits leave in um.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TypeAlias

from waywright.errors import BadInput
from waywright.quantities import Kind, unit

_WHOLE_PARTS_SLACK = 1e-9


def number_text(value: float) -> str:
    """The shortest plain decimal that reads back as the same float; never an exponent."""
    text = format(Decimal(repr(value)), "f")
    return text.removesuffix(".0")


@dataclass(frozen=True, slots=True)
class Fixed:
    """The same limit whatever the length: ``0.02``."""

    limit_mm: float

    def limit_um(self, length_mm: float) -> float:
        """The limit in um; the length does not matter."""
        return self.limit_mm * 1e3

    def __str__(self) -> str:
        return number_text(self.limit_mm)


@dataclass(frozen=True, slots=True)
class Ratio:
    """A limit in proportion to the length, or of an angle: ``0.02/500``."""

    limit_mm: float
    per_mm: float

    @property
    def um_per_m(self) -> float:
        """The limit of an angle."""
        return self.limit_mm / self.per_mm * 1e6

    def limit_um(self, length_mm: float) -> float:
        """The limit over a length."""
        return self.limit_mm * 1e3 * length_mm / self.per_mm

    def __str__(self) -> str:
        return f"{number_text(self.limit_mm)}/{number_text(self.per_mm)}"


@dataclass(frozen=True, slots=True)
class Angle:
    """A limit of an angle in a unit of its own: ``12 arcsec``, ``40 um/m``."""

    value: float
    unit: str

    @property
    def um_per_m(self) -> float:
        """The limit of an angle."""
        return unit(Kind.ANGLE, self.unit).inside(self.value)

    def limit_um(self, length_mm: float) -> float:
        """The height the angle makes over a length."""
        return self.um_per_m * length_mm / 1e3

    def __str__(self) -> str:
        return f"{number_text(self.value)} {self.unit}"


@dataclass(frozen=True, slots=True)
class Step:
    """``0.01 up to 500``."""

    limit_mm: float
    up_to_mm: float

    def __str__(self) -> str:
        return f"{number_text(self.limit_mm)} up to {number_text(self.up_to_mm)}"


@dataclass(frozen=True, slots=True)
class Further:
    """``+0.01 per further 1000``: beyond the last step in proportion, or for each whole or begun part (``or part``)."""

    add_mm: float
    per_mm: float
    or_part: bool = False

    def added_mm(self, beyond_mm: float) -> float:
        """What is added ``beyond_mm`` after the last step."""
        parts = beyond_mm / self.per_mm
        # 2000.0000000001 is two thousand: a length in floating point must not buy another part.
        return self.add_mm * (math.ceil(parts - _WHOLE_PARTS_SLACK) if self.or_part else parts)

    def __str__(self) -> str:
        return f"+{number_text(self.add_mm)} per further {number_text(self.per_mm)}" + " or part" * self.or_part


@dataclass(frozen=True, slots=True)
class Steps:
    """Limits by steps of length: ``0.01 up to 500, 0.015 up to 800, +0.01 per further 1000``."""

    steps: tuple[Step, ...]
    further: Further | None = None

    def limit_um(self, length_mm: float) -> float:
        """The limit of the step the length falls in. Raises BadInput beyond the last one where nothing is added."""
        for step in self.steps:
            if length_mm <= step.up_to_mm:
                return step.limit_mm * 1e3
        last = self.steps[-1]
        if self.further is None:
            raise BadInput("verdict.beyond_last_step", length_mm=length_mm, up_to_mm=last.up_to_mm)
        return (last.limit_mm + self.further.added_mm(length_mm - last.up_to_mm)) * 1e3

    def __str__(self) -> str:
        return ", ".join(str(item) for item in (*self.steps, self.further) if item is not None)


@dataclass(frozen=True, slots=True)
class Trim:
    """What is done to a limit afterwards, in this order: class factor, rounding, floor, ceiling."""

    class_factor: float | None = None
    nearest_mm: float | None = None
    at_least_mm: float | None = None
    max_mm: float | None = None

    @property
    def in_mm(self) -> bool:
        """Whether a clause speaks of mm, so that it cannot trim an angle."""
        return not (self.nearest_mm is None and self.at_least_mm is None and self.max_mm is None)

    def applied_um(self, limit_um: float) -> float:
        """The limit after the clauses; a limit half-way between two steps of rounding is rounded up."""
        limit = limit_um * (self.class_factor or 1.0)
        if self.nearest_mm is not None:
            step = self.nearest_mm * 1e3
            limit = math.floor(limit / step + 0.5 + _WHOLE_PARTS_SLACK) * step
        if self.at_least_mm is not None:
            limit = max(limit, self.at_least_mm * 1e3)
        if self.max_mm is not None:
            limit = min(limit, self.max_mm * 1e3)
        return limit

    def __str__(self) -> str:
        words = {
            "class factor": self.class_factor,
            "to the nearest": self.nearest_mm,
            "at least": self.at_least_mm,
            "max": self.max_mm,
        }
        return "".join(f", {word} {number_text(value)}" for word, value in words.items() if value is not None)


Base: TypeAlias = Fixed | Ratio | Angle | Steps


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: over the whole length, or with ``window_mm`` over any part of that length."""

    base: Base
    window_mm: float | None = None
    trim: Trim = field(default_factory=Trim)

    def limit_um(self, length_mm: float) -> float:
        """The limit in um for a measured length (for a local limit: over its window)."""
        return self.trim.applied_um(self.base.limit_um(self.window_mm or length_mm))

    def limit_um_per_m(self) -> float | None:
        """The limit of an angle, or None where the rule does not speak of one."""
        if self.trim.in_mm or not isinstance(self.base, (Ratio, Angle)):
            return None
        return self.base.um_per_m * (self.trim.class_factor or 1.0)

    def __str__(self) -> str:
        window = "" if self.window_mm is None else f" over any {number_text(self.window_mm)}"
        return f"{self.base}{window}{self.trim}"


@dataclass(frozen=True, slots=True)
class Shape:
    """``convex only`` or ``concave only``, as seen with the physical direction "up" on top."""

    convex: bool

    def __str__(self) -> str:
        return "convex only" if self.convex else "concave only"


@dataclass(frozen=True, slots=True)
class Slope:
    """``rising towards the tool``, ``falling towards the tailstock``: a place that lies along the line."""

    rising: bool
    place: str

    def __str__(self) -> str:
        return f"{'rising' if self.rising else 'falling'} towards {self.place}"


@dataclass(frozen=True, slots=True)
class Lean:
    """``leaning up``, ``leaning towards the tool``: the physical direction the far end may deviate to."""

    direction: str

    def __str__(self) -> str:
        return f"leaning {self.direction}"


Part: TypeAlias = Limit | Shape | Slope | Lean
