"""``waywright evaluate``: passes, lines together, angles, surfaces, levels, positioning."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from waywright.cli.evaluate_answer import (
    PLAIN,
    UNASKED,
    Bridge,
    Code,
    First,
    Flag,
    Lines,
    Second,
    Straight,
    Table,
    Trust,
    Way,
    answer,
)

Subject = Literal["line", "axis", "guideway"]
Plane = Literal["minimum-zone", "least-squares", "three-points"]


def passes(
    file: Table,
    *,
    quantity: Code = None,
    remove_drift: Flag = False,
    closures: Path | None = None,
    source_mm: float | None = None,
    way: Way = PLAIN,
) -> None:
    """Compare the passes of a readings table: reversal, drift, slips, bad readings, shifted passes.

    Parameters
    ----------
    remove_drift
        Take the drift out where it can be told from a reversal.
    closures
        A table of places read twice: `position_mm,first_s,second_s,EYZ_um,sd_EYZ_um`.
    source_mm
        Where the beam turns, as a position of the line; by default the smallest position.
    """
    answer(
        "passes", way, file=file, quantity=quantity, remove=remove_drift, closures=closures, source_mm=source_mm
    )  # fmt: skip


def segments(first: First, *more: Path, quantity: Code = None, trust: Trust = UNASKED, way: Way = PLAIN) -> None:
    """Join a line that was measured in overlapping segments; the first gives the frame.

    Parameters
    ----------
    more
        Readings tables of the other segments.
    """
    answer("segments", way, trust, files=(first, *more), quantity=quantity)


def spatial(file: Table, *, trust: Trust = UNASKED, way: Way = PLAIN) -> None:
    """Straightness in space: the smallest cylinder around both planes of a line (two straightnesses of one axis)."""
    answer("spatial", way, trust, file=file)


def angles(file: Table, *, quantity: Code = None, trust: Trust = UNASKED, way: Way = PLAIN) -> None:
    """Roll, pitch and yaw against position: every rotation of a readings table, largest minus smallest."""
    answer("angles", way, trust, file=file, quantity=quantity)


def twist(
    file: Table, *, quantity: Code = None, gauge_mm: float | None = None, trust: Trust = UNASKED, way: Way = PLAIN
) -> None:
    """Twist from the roll along a line, for example `ECZ_um_per_m`.

    Parameters
    ----------
    gauge_mm
        Distance of the two ways: the twist as a height difference over it.
    """
    answer("twist", way, trust, file=file, quantity=quantity, gauge_mm=gauge_mm)


def squareness(
    first: First,
    second: Second,
    *,
    code: str,
    artefact_um_per_m: float = 0.0,
    turned_first: Path | None = None,
    turned_second: Path | None = None,
    reference: Lines = "least-squares",
    trust: Trust = UNASKED,
    way: Way = PLAIN,
) -> None:
    """Squareness of two axes, each measured along one arm of a square, in the direction of the other axis.

    Parameters
    ----------
    code
        C0Y for Y to X, A0Z for Z to Y, B0Z for Z to X, and so on.
    artefact_um_per_m
        Known angle of the square minus 90 degrees.
    turned_first
        First axis again with the square turned over: separates the square's own error.
    turned_second
        Second axis again with the square turned over.
    """
    from waywright.errors import BadInput

    if (turned_first is None) != (turned_second is None):
        raise BadInput("cli.turned_both")
    turned = None if turned_first is None or turned_second is None else (turned_first, turned_second)
    answer(
        "squareness", way, trust, first=first, second=second, name=code, artefact_um_per_m=artefact_um_per_m,
        turned=turned, reference=reference,
    )  # fmt: skip


def squares(
    first_second: Path,
    second_third: Path,
    third_first: Path,
    *,
    faces: Literal["outer", "inner"] = "outer",
    trust: Trust = UNASKED,
    way: Way = PLAIN,
) -> None:
    """Three squares compared pair by pair on one plate: each one's own error, without a master.

    Parameters
    ----------
    first_second
        Gap between the first and the second, face to face: `position_mm,gap_um`, the height above the plate and how far
        the faces are apart, optionally `sd_um`.
    second_third
        The same for the second and the third.
    third_first
        The same for the third and the first.
    faces
        Which faces stand towards each other: outer ones close upwards where an angle is too large, inner ones open.
    """
    answer(
        "squares",
        way,
        trust,
        first_second=first_second,
        second_third=second_third,
        third_first=third_first,
        faces=faces,
    )


def parallelism(
    first: First,
    second: Second,
    *,
    quantity: Code = None,
    bridge: Bridge = None,
    level: Path | None = None,
    level_base_mm: float | None = None,
    link_uncertainty_um_per_m: float | None = None,
    first_is: Subject = "line",
    second_is: Subject = "line",
    reference: Lines = "least-squares",
    trust: Trust = UNASKED,
    way: Way = PLAIN,
) -> None:
    """Parallelism of two lines along one axis, and how much of its uncertainty is the link between them.

    Parameters
    ----------
    level
        One level set on both lines: `position_mm,first_um_per_m,second_um_per_m,sd_um_per_m`, near foot's position,
        tilts in the sign of the quantity.
    level_base_mm
        Distance of that level's feet.
    link_uncertainty_um_per_m
        Standard uncertainty of the angle between the two set-ups where one beam serves both.
    first_is
        What the first line is: the motion of an axis or a guideway (axis to guideway, two rails).
    second_is
        What the second line is.
    """
    from waywright.jobs.ties import Tie

    tie = Tie(bridge=bridge, level=level, level_base_mm=level_base_mm, beam_um_per_m=link_uncertainty_um_per_m)
    answer(
        "parallelism", way, trust, first=first, second=second, quantity=quantity, tie=tie, reference=reference,
        subjects=(first_is, second_is),
    )  # fmt: skip


def guideway(
    file: Table, *, quantity: Straight, against: Flag = False, trust: Trust = UNASKED, way: Way = PLAIN
) -> None:
    """Shape of a guideway, averaged over the carriage, from its rotation: EAZ for EYZ, EBZ for EXZ.

    Parameters
    ----------
    against
        Positions grow against the positive direction of the axis (counted from its far end, or a moving table).
    """
    answer("guideway", way, trust, file=file, quantity=quantity, sense=-1 if against else 1)


def flatness(
    file: Path,
    *,
    reference: Plane = "minimum-zone",
    through: tuple[int, int, int] | None = None,
    own_zero: Flag = False,
    trust: Trust = UNASKED,
    way: Way = PLAIN,
) -> None:
    """Flatness of a surface from heights on a grid, or from slope lines that cross.

    Parameters
    ----------
    file
        `x_mm,y_mm,height_um`, or `line,from_x_mm,from_y_mm,to_x_mm,to_y_mm,tilt_um_per_m`.
    reference
        The reference plane.
    through
        For three points: which ones, counted from 1.
    own_zero
        Each line has a zero of its own (an autocollimator set up anew), not one level's.
    """
    answer("flatness", way, trust, file=file, reference=reference, through=through, own_zero=own_zero)


def level(
    file: Path,
    *,
    base_mm: float,
    beam: Flag = False,
    reflector: Flag = False,
    trust: Trust = UNASKED,
    way: Way = PLAIN,
) -> None:
    """Heights from a level, or a reflector carriage before an autocollimator, stepped along a way by its own base.

    Parameters
    ----------
    file
        `position_mm,tilt_um_per_m`, optionally `turned_um_per_m` and `across_um_per_m`; the near foot's position.
    base_mm
        Distance of the feet.
    beam
        Take the curvature of the earth out, to compare with a beam.
    reflector
        The tilts are those of a reflector carriage, read by an autocollimator: from any zero, no level.
    """
    answer("level", way, trust, file=file, base_mm=base_mm, beam=beam, reflector=reflector)


def positioning(file: Table, *, trust: Trust = UNASKED, way: Way = PLAIN) -> None:
    """Accuracy and repeatability of positioning (ISO 230-2 definitions).

    The table has EXX, EYY or EZZ at the targets, a column `pass` for the runs and a column `direction`.
    """
    answer("positioning", way, trust, file=file)


COMMANDS = (
    passes, segments, spatial, angles, twist, squareness, squares, parallelism, guideway, flatness, level, positioning,
)  # fmt: skip
