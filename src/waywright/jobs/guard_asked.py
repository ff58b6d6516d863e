"""Tests of a set-up as they are asked for: from what is said, and the rest from a kept line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from waywright.archive import open_archive
from waywright.errors import BadInput
from waywright.guard import Alignment, BowChallenge, Circumstances, Steadiness, Wish
from waywright.jobs import guard as verbs
from waywright.jobs.evidence import Keep
from waywright.jobs.guard_kept import alignment_columns, seen_bow, standstills, told_bow, wish_of
from waywright.jobs.measured import find_line
from waywright.jobs.remember import archive_path
from waywright.jobs.screening import tolerance_um as tolerance_of

_ERROR_UM = 0.5
_BOW_ERROR_UM = 1.0


@dataclass(frozen=True, slots=True)
class Source:
    """The kept line that tells what is not said; None is no line."""

    line: str | None = None
    archive: Path | None = None
    quantity: str | None = None


def align(
    file: Path | None,
    source: Source,
    told: Mapping[str, Any],
    linearity: Path | None = None,
    where: Keep | None = None,
) -> dict[str, Alignment]:
    """From a table, or from the newest pass of a kept line."""
    if file is None:
        _needs(source)
        with open_archive(archive_path(source.archive)) as archive:
            line = find_line(archive, source.line)
            columns, error_um = alignment_columns(archive, line)
            known = {"error_um": error_um, "tolerance_um": tolerance_of(archive, line)}
    else:
        columns, known = verbs.read_columns(file, "distance_m"), {"error_um": _ERROR_UM, "tolerance_um": None}
    facts = known | _said(told)
    _all_there(facts, "tolerance_um")
    return verbs.aligned(columns, verbs.with_linearity(verbs.Wanted(**facts), linearity), where)


def steadiness(
    near: tuple[Path | None, float | None],
    far: tuple[Path | None, float | None],
    source: Source,
    *,
    tolerance_um: float | None,
    wished_um: float,
    pass_s: float,
    where: Keep | None = None,
) -> dict[str, Steadiness]:
    """From two tables with their distances, or from the longest readings of a kept line."""
    wish = {"wished_um": wished_um, "pass_s": pass_s}
    if near[0] is not None and far[0] is not None:
        _all_there(
            {"near_m": near[1], "far_m": far[1], "tolerance_um": tolerance_um}, "near_m", "far_m", "tolerance_um"
        )
        places = [(file, distance or 0.0) for file, distance in (near, far) if file is not None]
        return verbs.steady(places[0], places[1], tolerance_um=tolerance_um or 0.0, where=where, **wish)
    _needs(source)
    with open_archive(archive_path(source.archive)) as archive:
        line = find_line(archive, source.line)
        recordings = standstills(archive, line)
        allowed = tolerance_um if tolerance_um is not None else tolerance_of(archive, line)
    _all_there({"tolerance_um": allowed}, "tolerance_um")
    return verbs.steadied(recordings, tolerance_um=allowed or 0.0, where=where, **wish)


def bow(
    figures: Mapping[str, float | None], told: Mapping[str, Any], source: Source, where: Keep | None = None
) -> BowChallenge:
    """Bow, length, tolerance and error as said or as a kept line has them; circumstances alike."""
    known: dict[str, float | None] = {"error_um": _BOW_ERROR_UM}
    around = Circumstances(**_said(told))
    if source.line is not None:
        with open_archive(archive_path(source.archive)) as archive:
            seen = seen_bow(archive, find_line(archive, source.line), source.quantity)
        around = told_bow(seen, told)
        known = {name: getattr(seen, name) for name in ("bow_um", "length_m", "tolerance_um", "error_um")}
    facts = known | _said(figures)
    _all_there(facts, "bow_um", "length_m", "tolerance_um")
    bow_um, length_m = facts.pop("bow_um"), facts.pop("length_m")
    return verbs.bow(bow_um, length_m, circumstances=around, where=where, **facts)


def plan(told: Mapping[str, Any], axis: str | None, source: Source, where: Keep | None = None) -> verbs.EffortWithText:
    """What is wished, as said or as a kept line has it; the axis of the text alike, otherwise Z."""
    if source.line is None:
        facts = _said(told)
        _all_there(facts, "from_mm", "to_mm", "tolerance_um", "scatter_um", "correlation_s")
        return verbs.effort(Wish(**facts), axis or "Z", where)
    with open_archive(archive_path(source.archive)) as archive:
        line = find_line(archive, source.line)
        wish = wish_of(archive, line, told)
    return verbs.effort(wish, axis or line.axis, where)


def _said(told: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in told.items() if value is not None}


def _all_there(facts: Mapping[str, object], *needed: str) -> None:
    for name in needed:
        if facts.get(name) is None:
            raise BadInput("guard_kept.say", name=name.replace("_", "-"))


def _needs(source: Source) -> None:
    if source.line is None:
        raise BadInput("guard_kept.file_or_line")
