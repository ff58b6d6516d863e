"""``waywright type``: the terminal loop for values that somebody reads off and types."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from waywright.cli.options import Instruments

if TYPE_CHECKING:
    from waywright.jobs.typing_in import Doubt, TypedColumn

ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"])]


def type_in(
    machine: str | None = None,
    /,
    *,
    quantity: str = "height",
    unit: str = "um",
    division: float | None = None,
    division_unit: str | None = None,
    from_mm: float = 0.0,
    to_mm: float,
    step_mm: float,
    line: str = "typed",
    axis: str = "Z",
    direction: str = "forward",
    technician: str | None = None,
    visit: str | None = None,
    instrument: Instruments = None,
    zero_mark: str | None = None,
    zero_offset_mm: float = 0.0,
    grows: Literal["right", "left"] = "right",
    archive: ArchiveFile = None,
) -> None:
    """Type readings one place after the other: number, Enter, next.

    "u" takes the last value back, "e" ends before the last place. Several numbers in one line are a pasted column. A
    value that does not fit its neighbours is asked about: Enter keeps it, another number replaces it.

    Parameters
    ----------
    machine
        The machine file, or the name of a machine that the archive knows; with --visit it is the visit's.
    quantity
        What is typed: height, side or roll.
    unit
        um, mm, inch for height and side; um/m, mm/m, arcsec for roll; or div.
    division
        What one division of the dial or vial is worth, in --division-unit.
    division_unit
        The unit of --division.
    from_mm
        The first place.
    to_mm
        The last place.
    step_mm
        From place to place.
    line
        Name of the line.
    axis
        The axis along which the places lie.
    direction
        forward or backward.
    technician
        Who reads.
    visit
        The visit that the line belongs to, by the last characters of its id. Without it a visit begins.
    instrument
        What is read off: the serial number of an instrument kept (`instrument keep`), a description file, or just
        what it is. May be said several times.
    zero_mark
        The mark of the machine that position zero is tied to; without it nobody can lay the line over another visit.
    zero_offset_mm
        How far to the right of that mark position zero lies.
    grows
        Whether positions grow to the right or to the left, as the operator sees it.
    archive
        The archive file; without it the one in your user data folder.
    """
    from waywright.archive import open_archive
    from waywright.cli.keep_view import show_uses
    from waywright.clocks import SystemClock
    from waywright.jobs.remember import archive_path
    from waywright.jobs.type_line import TypedLine, TypeOrder
    from waywright.visit import PositionZero

    zero = None if zero_mark is None else PositionZero(zero_mark, zero_offset_mm, 1 if grows == "right" else -1)
    order = TypeOrder(
        machine, quantity, unit, division, division_unit, from_mm, to_mm, step_mm, line, axis, direction, technician,
        visit, tuple(instrument or ()), zero,
    )  # fmt: skip
    clock = SystemClock()
    with open_archive(archive_path(archive), create=True, clock=clock) as opened:
        typed = TypedLine(opened, order, clock)
        show_uses(typed.instruments)
        _loop(typed)


def _loop(typed: object) -> None:
    """Ask until every place has its value, or somebody ends it; what was typed is in the archive at once."""
    from waywright.cli import show
    from waywright.errors import BadInput
    from waywright.jobs.type_line import TypedLine
    from waywright.wording import text

    assert isinstance(typed, TypedLine)
    console = show.console()
    doubt: Doubt | None = None
    while typed.column.next_mm is not None:
        try:
            said = input(_prompt(typed.column, typed.unit_name, doubt)).strip()
        except EOFError:
            break
        if said.lower() == "e":
            break
        try:
            doubt = _heed(typed, said, doubt)
        except BadInput as refusal:
            console.print(str(refusal), markup=False)
    kept = typed.end()
    console.print(text("typing_in.kept", readings=kept, places=len(typed.column.places_mm)))


def _heed(typed: object, said: str, doubt: Doubt | None) -> Doubt | None:
    """What one line of input does; the doubt that it leaves."""
    from waywright.jobs.type_line import TypedLine

    assert isinstance(typed, TypedLine)
    if said.lower() == "u":
        if doubt is None:
            typed.undo()
        return None
    if not said:
        return None if doubt is None else typed.enter(doubt.typed.said, sure=True)
    if len(said.split()) > 1:
        typed.paste(said)
        return None
    return typed.enter(said)


def _prompt(column: TypedColumn, unit_name: str, doubt: Doubt | None) -> str:
    from waywright.wording import text

    if doubt is not None:
        facts = {"number": doubt.number, "expected": doubt.expected, "unit": unit_name}
        hint = text(f"typing_in.slip_{doubt.likely.replace('-', '_')}") if doubt.likely else ""
        return text("typing_in.doubt", **facts, hint=hint)
    place = {"number": len(column.typed) + 1, "places": len(column.places_mm), "place_mm": column.next_mm}
    return text("typing_in.ask", **place, unit=unit_name)
