"""Rows of a sheet: what is read in which order, checked, and the value from the readings."""

from __future__ import annotations

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw
from waywright.evaluate.sheet_kinds import RESULT, Figure, RowKind
from waywright.evaluate.sheet_work import KINDS
from waywright.visit.sheet import SheetRow

JOINT_PLACES = 3
"""Places on each side of a joint: two tell how the way runs there, the third tells the noise."""


def entries_of(row: SheetRow) -> tuple[tuple[str, str], ...]:
    """What is read, in order: place and state ("", "turned", "at-0", "line-2" ...). Nothing for a row of a result.

    Raises BadInput for a kind that does not exist and for a row that lacks what its kind needs.
    """
    kind = kind_of_row(row)
    if row.kind == RESULT:
        return ()
    places = places_of(row)
    return kind.layout.entries(places, row.turned)


def places_of(row: SheetRow) -> tuple[str, ...]:
    """The places of a row by name: as stated, otherwise those of the kind, otherwise by their position."""
    kind = kind_of_row(row)
    usual = kind.layout.usual
    by_position = tuple(f"{at:g} mm" for at in row.at_mm)
    names = row.places or (by_position if by_position and len(by_position) != len(usual) else usual)
    _check(row, kind, names)
    return names


def kind_of_row(row: SheetRow) -> RowKind:
    """The kind of a row. Raises BadInput naming the known ones."""
    if row.kind not in KINDS:
        raise BadInput("sheet.unknown_kind", number=row.number, kind=row.kind, known=", ".join(KINDS))
    return KINDS[row.kind]


def value_of(row: SheetRow, reading: FloatArray) -> PerDraw:
    """The value from readings (n,) or (n, draws) in the order of the entries, um or um/m."""
    kind = kind_of_row(row)
    return kind.work(kind.layout.joined(reading, row.turned), row)


def figures_of(row: SheetRow, reading: FloatArray) -> tuple[Figure, ...]:
    """What else is worth knowing, from readings (n,)."""
    kind = kind_of_row(row)
    own = kind.layout.own_figures(reading, row.turned, kind.reads)
    if kind.figures is None:
        return own
    return (*kind.figures(kind.layout.joined(reading, row.turned), row), *own)


def _check(row: SheetRow, kind: RowKind, names: tuple[str, ...]) -> None:
    if row.kind != RESULT and len(names) < max(kind.fewest, 1):
        raise BadInput("sheet.too_few_places", number=row.number, needed=kind.fewest, places=len(names))
    if kind.layout.exactly and len(names) != kind.layout.exactly:
        raise BadInput("sheet.other_places", number=row.number, needed=kind.layout.exactly, places=len(names))
    for name in kind.needs:
        if getattr(row, name) in (None, (), ""):
            raise BadInput("sheet.row_lacks", number=row.number, kind=row.kind, name=name)
    for name in ("at_mm", "across_mm"):
        given = getattr(row, name)
        if given and len(given) != len(names):
            raise BadInput("sheet.positions_and_places", number=row.number, name=name, places=len(names), n=len(given))
    if row.turned and not kind.turns:
        raise BadInput("sheet.not_turned", number=row.number, kind=row.kind)
    if kind.name.startswith("joint"):
        _forced_places(row)


def _forced_places(row: SheetRow) -> None:
    """A step needs places either side of the joint, on it none."""
    assert row.joint_mm is not None
    before = sum(at < row.joint_mm for at in row.at_mm)
    after = sum(at > row.joint_mm for at in row.at_mm)
    if min(before, after) < JOINT_PLACES or before + after < len(row.at_mm):
        raise BadInput("sheet.joint_places", number=row.number, joint_mm=row.joint_mm, needed=JOINT_PLACES,
                       before=before, after=after)  # fmt: skip
