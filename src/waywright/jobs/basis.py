"""What a result rests on: functional point, reference, passes, segments, what was left out, physical direction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from waywright.files.table_text import read_sheet
from waywright.quantities import Axes, Kind, code, positive_direction

Offset = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Basis:
    """What stands behind a result; None is "not stated".

    ``functional_point_mm`` is (along, up, towards the operator) from the position that is read,
    ``functional_point`` the same in words where a table says it. ``excluded`` counts readings that were left out,
    ``excluded_why`` says which and why. ``positive`` names the physical direction in which figures of a code are
    positive; empty where the table does not say how the axes lie, the figures then have the ISO sign only.
    """

    files: tuple[str, ...] = ()
    functional_point: str | None = None
    functional_point_mm: Offset | None = None
    reference: str | None = None
    passes: tuple[int, ...] = ()
    segments: tuple[int, ...] = (1,)
    excluded: int | None = None
    excluded_why: tuple[str, ...] = ()
    positive: Mapping[str, str] = field(default_factory=dict)


def basis_of_files(result: object, files: Sequence[Path]) -> Basis:
    """From a result and the remarks of the tables it comes from.

    Tables say ``# functional_point:``, ``# excluded:`` (once for each reading), and how the axes lie by ``# up: -Y``
    and ``# operator: +X``.
    """
    sheets = [read_sheet(file) for file in files]
    said = [sheet.metadata for sheet in sheets]
    axes = next((found for each in said if (found := axes_of(each)) is not None), None)
    why = tuple(one.strip() for each in said for one in each.get("excluded", "").split(";") if one.strip())
    points = list(dict.fromkeys(each["functional_point"] for each in said if "functional_point" in each))
    segments = getattr(result, "segments", 1)
    return Basis(
        files=tuple(file.name for file in files),
        functional_point="; ".join(points) or None,
        reference=_reference(result),
        passes=tuple(_passes(sheet.header.cells, [row.cells for row in sheet.rows()]) for sheet in sheets),
        segments=tuple(range(1, segments + 1)) if isinstance(segments, int) else (1,),
        excluded=len(why) if any("excluded" in each for each in said) else None,
        excluded_why=why,
        positive={} if axes is None else _positive([one for sheet in sheets for one in sheet.header.cells], axes),
    )


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
    return "all three" if hasattr(result, "by_reference") else None


def _passes(header: Sequence[str], rows: Sequence[Sequence[str]]) -> int:
    """How many passes a table holds."""
    names = [name.lower() for name in header]
    if "pass" not in names:
        return 1
    return len({row[names.index("pass")] for row in rows})


def _positive(header: Sequence[str], axes: Axes) -> dict[str, str]:
    found = {}
    for name in header:
        letters, _, unit = name.partition("_")
        if unit and len(letters) == 3 and letters[0].upper() == "E":
            wanted = code(letters)
            if wanted.kind in (Kind.ANGLE, Kind.DISPLACEMENT):
                found[wanted.text] = positive_direction(wanted, axes).value
    return found
