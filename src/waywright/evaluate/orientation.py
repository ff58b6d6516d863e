"""Angles between reference lines: squareness and parallelism (ISO 230-1).

A line along one axis that deviates towards another is turned about the third. With the right-hand rule the turn is
the slope where (axis, direction) follow each other in X Y Z X, and minus the slope where they do not.
"""

from __future__ import annotations

from dataclasses import dataclass

from waywright.errors import BadInput
from waywright.evaluate.arrays import PerDraw
from waywright.evaluate.results import Straightness

_NEXT = {"X": "Y", "Y": "Z", "Z": "X"}
_ABOUT = {"A": "X", "B": "Y", "C": "Z"}


@dataclass(frozen=True, slots=True, eq=False)
class Squareness:
    """Squareness error of one axis to another.

    ``value_um_per_m`` has the ISO sign of ``code``: C0Y is the turn of Y about Z from where it would be square to X.
    ``opening_um_per_m`` is the angle between the positive directions of both axes minus 90 degrees, whatever the code.
    """

    code: str
    first_axis: str
    second_axis: str
    value_um_per_m: PerDraw
    opening_um_per_m: PerDraw


@dataclass(frozen=True, slots=True, eq=False)
class Parallelism:
    """Direction of the second line from the first: an angle, and what it makes over the length both have in common."""

    angle_um_per_m: PerDraw
    over_length_um: PerDraw
    length_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Reversed:
    """What a reversal separates: the machine's part and the artefact's."""

    machine_um_per_m: PerDraw
    artefact_um_per_m: PerDraw


def squareness(
    first: Straightness, second: Straightness, code: str = "C0Y", artefact_um_per_m: PerDraw = 0.0
) -> Squareness:
    """Squareness from the reference lines of two axes, measured against the arms of one square.

    ``code`` names the turning letter and the second axis (C0Y: second along Y, first along X; A0Z: Y then Z; B0Z: X
    then Z). ``first`` holds deviations along the first axis in the direction of the second, ``second`` the other way
    round, both in ISO sign. ``artefact_um_per_m`` is the angle of the square minus 90 degrees. Raises BadInput for
    a code that is none.
    """
    first_axis, second_axis = axes_of_squareness(code)
    opening = artefact_um_per_m - first.line.slope_um_per_m - second.line.slope_um_per_m
    sign = 1.0 if _NEXT[first_axis] == second_axis else -1.0
    return Squareness(code.upper(), first_axis, second_axis, sign * opening, opening)


def parallelism(first: Straightness, second: Straightness) -> Parallelism:
    """Parallelism of two lines along the same axis, deviations in the same direction and sign.

    Raises BadInput if they have no length in common.
    """
    length = min(first.end_mm, second.end_mm) - max(first.start_mm, second.start_mm)
    if length <= 0.0:
        raise BadInput("evaluate.nothing_in_common", first_end_mm=first.end_mm, second_start_mm=second.start_mm)
    angle = second.line.slope_um_per_m - first.line.slope_um_per_m
    return Parallelism(angle, angle * length / 1000.0, length)


def square_reversal(opening_um_per_m: PerDraw, turned_um_per_m: PerDraw) -> Reversed:
    """Separate the machine's squareness from the square's error.

    Both openings are evaluated as if the square were true; for the second it is turned over, so that its error comes in
    with the other sign.
    """
    return Reversed((opening_um_per_m + turned_um_per_m) / 2, (turned_um_per_m - opening_um_per_m) / 2)


def three_squares(first_second: float, second_third: float, third_first: float) -> tuple[float, float, float]:
    """Errors of three squares from their sums, each pair set up face to face on one plate (um/m, angle minus 90)."""
    half = (first_second + second_third + third_first) / 2
    return half - second_third, half - third_first, half - first_second


def axes_of_squareness(code: str) -> tuple[str, str]:
    """First and second axis of a squareness code: C0Y is X, Y. Raises BadInput for a code that is none."""
    letters = code.strip().upper()
    about = _ABOUT.get(letters[:1], "")
    if len(letters) != 3 or not about or letters[1] != "0" or letters[2] not in _NEXT or letters[2] == about:
        raise BadInput("evaluate.squareness_code", code=code)
    second = letters[2]
    first = next(axis for axis in "XYZ" if axis not in (about, second))
    return first, second
