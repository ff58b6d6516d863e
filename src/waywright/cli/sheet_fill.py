"""The terminal loop of ``waywright sheet fill``."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.wording import text

if TYPE_CHECKING:
    from waywright.archive import Archive
    from waywright.clocks import Clock
    from waywright.jobs.sheet_fill import SheetFill
    from waywright.jobs.sheet_keep import Entry
    from waywright.jobs.typing_in import Doubt
    from waywright.visit.sheet import MeasuringSheet


@dataclass(frozen=True, slots=True)
class SheetWish:
    """What is to be filled; see the options of ``waywright sheet fill``."""

    source: str | None
    sheet: str | None
    machine: str | None
    technician: str | None
    visit: str | None = None
    instruments: tuple[str, ...] = ()


def fill_sheet(wish: SheetWish, archive: Path | None) -> None:
    """Ask for one place after the other until the sheet is full or somebody ends it."""
    from waywright.archive import open_archive
    from waywright.cli.keep_view import show_uses
    from waywright.cli.show import console
    from waywright.clocks import SystemClock
    from waywright.jobs.remember import archive_path
    from waywright.jobs.sheet_fill import SheetFill

    clock = SystemClock()
    with open_archive(archive_path(archive), create=True, clock=clock) as opened:
        kept = _sheet(opened, wish, clock)
        show_uses(kept.instruments)
        typing = SheetFill(opened, kept, clock)
        console().print(text("sheet.keys"))
        _loop(opened, kept, typing)
        facts = {"filled": typing.filled, "places": len(typing.entries), "identity": str(kept.id)[-8:]}
        console().print(text("sheet.kept", **facts))


def _sheet(archive: Archive, wish: SheetWish, clock: Clock) -> MeasuringSheet:
    from waywright.files.sheet_file import sheet_of
    from waywright.jobs.sheet_keep import SheetOrder, begin_sheet, find_sheet
    from waywright.jobs.visits import find_visit

    if wish.source is None or wish.sheet is not None:
        return find_sheet(archive, wish.sheet)
    visit = None if wish.visit is None else find_visit(archive, wish.visit)
    order = SheetOrder(wish.machine, wish.technician, visit=visit, instruments=wish.instruments, files=True)
    return begin_sheet(archive, sheet_of(wish.source), order, clock)


def _loop(archive: Archive, kept: MeasuringSheet, typing: SheetFill) -> None:
    from waywright.cli.show import console
    from waywright.errors import BadInput

    doubt: Doubt | None = None
    while (here := typing.here) is not None:
        try:
            said = input(_prompt(here, doubt)).strip()
        except EOFError:
            break
        if said.lower() == "e":
            break
        try:
            doubt = _heed(typing, said, doubt)
        except BadInput as refusal:
            console().print(str(refusal), markup=False)
        if typing.here is None or typing.here.row is not here.row:
            _say_row(archive, kept, here)


def _heed(typing: SheetFill, said: str, doubt: Doubt | None) -> Doubt | None:
    """What one line of input does; the doubt that it leaves."""
    from waywright.cli.show import console
    from waywright.jobs.typing_in import Doubt

    word, _, rest = said.partition(" ")
    if word.lower() == "u":
        back = typing.undo() if doubt is None else None
        if back is not None:
            console().print(text("sheet.taken_back", place=back.place))
        return None
    if word.lower() == "s":
        typing.pass_over()
        return None
    if word.lower() == "g":
        typing.go_to(rest.strip())
        return None
    if not said:
        if doubt is not None:
            typing.enter(doubt.typed.said, sure=True)
        return None
    if len(said.split()) > 1:
        typing.paste(said)
        return None
    found = typing.enter(said)
    return found if isinstance(found, Doubt) else None


def _prompt(here: Entry, doubt: Doubt | None) -> str:
    from waywright.jobs.sheet_content import place_words

    unit = here.row.unit or ("um/m" if here.channel.endswith("_um_per_m") else "um")
    if doubt is None:
        facts = {"number": here.row.number, "what": here.row.what, "place": place_words(here.place, here.state)}
        return text("sheet.ask", **facts, unit=unit)
    hint = text(f"typing_in.slip_{doubt.likely.replace('-', '_')}") if doubt.likely else ""
    return text("sheet.doubt", number=doubt.number, expected=doubt.expected, unit=unit, hint=hint)


def _say_row(archive: Archive, kept: MeasuringSheet, entry: Entry) -> None:
    """The value of a row that has just been left, and what follows."""
    from waywright.cli.show import console
    from waywright.jobs.sheet_content import row_content
    from waywright.jobs.sheet_judge import judged_row

    row = row_content(judged_row(archive, kept, entry.row))
    if row.measured:
        facts = {"value": row.measured, "unit": row.unit, "expanded": row.expanded, "verdict": row.verdict}
        console().print(text("sheet.row_done", what=row.what, **facts), markup=False)
