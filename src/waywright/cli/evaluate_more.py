"""``waywright evaluate``: passes, lines together, surfaces, levels, positioning. Tables in, one answer out."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from waywright.cli.evaluate_answer import Drawing, Flag, Json, answer

Reference = Literal["end-points", "least-squares", "minimum-zone"]
Subject = Literal["line", "axis", "guideway"]
Plane = Literal["minimum-zone", "least-squares", "three-points"]


def passes(
    file: Path,
    *,
    quantity: str | None = None,
    remove_drift: Flag = False,
    closures: Path | None = None,
    source_mm: float | None = None,
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """Compare the passes of a readings table: reversal, drift, slips, bad readings, shifted passes.

    Parameters
    ----------
    file
        A readings table with several passes; a column `time_s` lets a drift be estimated.
    quantity
        Only this ISO 230-1 code, for example EYZ.
    remove_drift
        Take the drift out where it can be told from a reversal.
    closures
        A table of places read twice: `position_mm,first_s,second_s,EYZ_um,sd_EYZ_um`.
    source_mm
        Where the beam turns, as a position of the line; by default the smallest position.
    """
    from waywright.jobs.passes_compared import passes_of_table

    found = passes_of_table(file, quantity, remove=remove_drift, closures=closures, source_mm=source_mm)
    answer(found, drawing, json, file)


def spatial(file: Path, *, drawing: Drawing = None, json: Json = False) -> None:
    """Straightness in space: the smallest cylinder around both planes of a line.

    Parameters
    ----------
    file
        A readings table with two straightness quantities of one axis.
    """
    from waywright.jobs.judge_lines import spatial_of_table

    answer((spatial_of_table(file),), drawing, json, file)


def twist(
    file: Path,
    *,
    quantity: str | None = None,
    gauge_mm: float | None = None,
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """Twist from the roll along a line.

    Parameters
    ----------
    file
        A readings table with a roll, for example `ECZ_um_per_m`.
    quantity
        Which roll, if there are several.
    gauge_mm
        Distance of the two ways: the twist as a height difference over it.
    """
    from waywright.jobs.judge_lines import twist_of_table

    answer((twist_of_table(file, quantity, gauge_mm),), drawing, json, file)


def squareness(
    first: Path,
    second: Path,
    *,
    code: str,
    artefact_um_per_m: float = 0.0,
    turned_first: Path | None = None,
    turned_second: Path | None = None,
    reference: Reference = "least-squares",
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """Squareness of two axes, each measured along one arm of a square.

    Parameters
    ----------
    first
        Readings table of the first axis: its deviations in the direction of the second.
    second
        Readings table of the second axis: its deviations in the direction of the first.
    code
        C0Y for Y to X, A0Z for Z to Y, B0Z for Z to X, and so on.
    artefact_um_per_m
        Known angle of the square minus 90 degrees.
    turned_first
        First axis again with the square turned over: separates the square's own error.
    turned_second
        Second axis again with the square turned over.
    reference
        The reference lines whose directions count.
    """
    from waywright.errors import BadInput
    from waywright.jobs.judge_lines import squareness_of_tables

    if (turned_first is None) != (turned_second is None):
        raise BadInput("cli.turned_both")
    turned = None if turned_first is None or turned_second is None else (turned_first, turned_second)
    found = squareness_of_tables(
        first, second, code, artefact_um_per_m=artefact_um_per_m, turned=turned, reference=reference
    )
    answer((found,), drawing, json, first, second, *(turned or ()))


def parallelism(
    first: Path,
    second: Path,
    *,
    quantity: str | None = None,
    bridge: Path | None = None,
    link_uncertainty_um_per_m: float | None = None,
    first_is: Subject = "line",
    second_is: Subject = "line",
    reference: Reference = "least-squares",
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """Parallelism of two lines along one axis, and how much of its uncertainty is the link between them.

    Parameters
    ----------
    first
        Readings table of the first line.
    second
        Readings table of the second line.
    quantity
        Which straightness, if the tables share several.
    bridge
        What a bridge with an indicator reads, second minus first: `position_mm,difference_um,sd_um`.
    link_uncertainty_um_per_m
        Standard uncertainty of the angle between the two set-ups where one beam serves both.
    first_is
        What the first line is: the motion of an axis or a guideway (axis to guideway, two rails).
    second_is
        What the second line is.
    reference
        The reference lines whose directions count.
    """
    from waywright.jobs.judge_lines import parallelism_of_tables

    found = parallelism_of_tables(
        first, second, quantity, bridge=bridge, link_uncertainty_um_per_m=link_uncertainty_um_per_m,
        reference=reference, subjects=(first_is, second_is),
    )  # fmt: skip
    answer((found,), drawing, json, first, second)


def segments(
    first: Path, *more: Path, quantity: str | None = None, drawing: Drawing = None, json: Json = False
) -> None:
    """Join a line that was measured in overlapping segments.

    Parameters
    ----------
    first
        Readings table of the segment that gives the frame.
    more
        Readings tables of the other segments.
    quantity
        Which straightness, if the tables share several.
    """
    from waywright.jobs.judge_lines import segments_of_tables

    answer((segments_of_tables((first, *more), quantity),), drawing, json, first, *more)


def guideway(file: Path, *, quantity: str, against: Flag = False, drawing: Drawing = None, json: Json = False) -> None:
    """Shape of a guideway, averaged over the carriage, from the rotation of the carriage.

    Parameters
    ----------
    file
        A readings table with the rotation that goes with the quantity: EAZ for EYZ, EBZ for EXZ.
    quantity
        The straightness wanted, for example EYZ.
    against
        Positions grow against the positive direction of the axis (counted from its far end, or a moving table).
    """
    from waywright.jobs.judge_lines import guideway_of_table

    answer((guideway_of_table(file, quantity, -1 if against else 1),), drawing, json, file)


def flatness(
    file: Path,
    *,
    reference: Plane = "minimum-zone",
    through: tuple[int, int, int] | None = None,
    own_zero: Flag = False,
    drawing: Drawing = None,
    json: Json = False,
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
    from waywright.jobs.judge_surfaces import flatness_of_table

    answer((flatness_of_table(file, reference, through, own_zero),), drawing, json, file)


def level(file: Path, *, base_mm: float, beam: Flag = False, drawing: Drawing = None, json: Json = False) -> None:
    """Heights from a level stepped along a way by its own base.

    Parameters
    ----------
    file
        `position_mm,tilt_um_per_m`, optionally `turned_um_per_m` and `across_um_per_m`; the near foot's position.
    base_mm
        Distance of the feet.
    beam
        Take the curvature of the earth out, to compare with a beam.
    """
    from waywright.jobs.judge_surfaces import level_of_table

    answer((level_of_table(file, base_mm, beam=beam),), drawing, json, file)


def positioning(file: Path, *, drawing: Drawing = None, json: Json = False) -> None:
    """Accuracy and repeatability of positioning (ISO 230-2 definitions).

    Parameters
    ----------
    file
        A readings table with EXX, EYY or EZZ at the targets, a column `pass` for the runs and a column `direction`.
    """
    from waywright.jobs.judge_surfaces import positioning_of_table

    answer((positioning_of_table(file),), drawing, json, file)


COMMANDS = (
    passes, segments, spatial, twist, squareness, parallelism, guideway, flatness, level, positioning,
)  # fmt: skip
