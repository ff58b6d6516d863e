"""What a result rests on: functional point, reference, passes, segments, what was left out, physical direction."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from waywright.files.table_text import read_sheet
from waywright.quantities import Axes, Kind, code, positive_direction

Offset = tuple[float, float, float]
_NAMES = ("code", "from_code", "from_rotation", "first_code", "second_code", "height_code", "side_code")
_CODE = re.compile(r"e[xyzabc][xyz]_")


@dataclass(frozen=True, slots=True)
class Basis:
    """What stands behind a result; None is "not stated".

    ``passes`` are the numbers of the passes; where a result comes from several tables, ``passes_of`` names them by
    table. ``functional_point_mm`` is (along, up, towards the operator) from the position that is read,
    ``functional_point`` the same in words where a table says it. ``excluded`` counts readings that were left out,
    ``excluded_why`` says which and why. ``positive`` names the physical direction in which figures of a code are
    positive; empty where the table does not say how the axes lie, the figures then have the ISO sign only.
    """

    files: tuple[str, ...] = ()
    functional_point: str | None = None
    functional_point_mm: Offset | None = None
    reference: str | None = None
    passes: tuple[int, ...] = ()
    passes_of: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    segments: tuple[int, ...] = (1,)
    excluded: int | None = None
    excluded_why: tuple[str, ...] = ()
    positive: Mapping[str, str] = field(default_factory=dict)


def basis_of_files(result: object, files: Sequence[Path]) -> Basis:
    """From a result and the remarks of the tables it comes from.

    Tables say ``# functional_point:``, ``# excluded:`` (once for each reading), ``# segments:``, and how the axes lie
    by ``# up: -Y`` and ``# operator: +X``.
    """
    sheets = [read_sheet(file) for file in files]
    said = [sheet.metadata for sheet in sheets]
    axes = next((found for each in said if (found := axes_of(each)) is not None), None)
    why = tuple(one.strip() for each in said for one in each.get("excluded", "").split(";") if one.strip())
    points = list(dict.fromkeys(each["functional_point"] for each in said if "functional_point" in each))
    passes = [_passes(sheet.header.cells, [row.cells for row in sheet.rows()]) for sheet in sheets]
    return Basis(
        files=tuple(file.name for file in files),
        functional_point="; ".join(points) or None,
        reference=_reference(result),
        passes=tuple(sorted({number for each in passes for number in each})),
        passes_of={file.name: each for file, each in zip(files, passes, strict=True)} if len(files) > 1 else {},
        segments=_segments(result, said),
        excluded=len(why) if any("excluded" in each for each in said) else None,
        excluded_why=why,
        positive={} if axes is None else _positive(result, [one for each in sheets for one in each.header.cells], axes),
    )


def _segments(result: object, said: Sequence[Mapping[str, str]]) -> tuple[int, ...]:
    """How many a result joined, or what the tables say."""
    joined = getattr(result, "segments", None)
    if isinstance(joined, int):
        return tuple(range(1, joined + 1))
    numbers = {int(one) for each in said for one in each.get("segments", "").split(",") if one.strip().isdigit()}
    return tuple(sorted(numbers)) or (1,)


def axes_of(metadata: Mapping[str, str]) -> Axes | None:
    """How the axes lie, if a table says so. Raises BadInput for axes that are none."""
    if "up" not in metadata or "operator" not in metadata:
        return None
    return Axes(metadata["up"].strip(), metadata["operator"].strip())


def _reference(result: object) -> str | None:
    for holder in (result, getattr(result, "result", None)):
        found = getattr(holder, "reference", None)
        if isinstance(found, str):
            return found
    return "every" if hasattr(result, "by_reference") else None


def _passes(header: Sequence[str], rows: Sequence[Sequence[str]]) -> tuple[int, ...]:
    """The numbers of the passes of a table; without them, passes are counted by direction from 1.

    A table that is none of readings (a ram, a grid of heights, closures) has no passes.
    """
    names = [name.lower() for name in header]
    if "first_s" in names or not any(_CODE.match(name) for name in names):
        return ()
    if "pass" in names:
        written = {row[names.index("pass")] for row in rows}
        return tuple(sorted(int(float(one)) for one in written if one.strip()))
    ways = {row[names.index("direction")] for row in rows} if "direction" in names else {""}
    return tuple(range(1, len(ways) + 1))


def _positive(result: object, header: Sequence[str], axes: Axes) -> dict[str, str]:
    """Of the codes that a result is about, where it names them; otherwise of all in its tables."""
    every = _directions(header, axes)
    holders = [result, getattr(result, "result", None), getattr(result, "shape", None)]
    named = {getattr(holder, name, None) for holder in holders for name in _NAMES}
    named |= set(getattr(getattr(result, "result", None), "share_um", ()))
    return {name: way for name, way in every.items() if name in named} or every


def _directions(header: Sequence[str], axes: Axes) -> dict[str, str]:
    found = {}
    for name in header:
        letters, _, unit = name.partition("_")
        if unit and len(letters) == 3 and letters[0].upper() == "E":
            wanted = code(letters)
            if wanted.kind in (Kind.ANGLE, Kind.DISPLACEMENT):
                found[wanted.text] = positive_direction(wanted, axes).value
    return found
