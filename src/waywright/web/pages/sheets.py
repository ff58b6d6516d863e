"""The sheets: what there is, and beginning one from an example or a file, with no machine file."""

from __future__ import annotations

import tempfile
from pathlib import Path

from nicegui import events, ui

from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.files.sheet_file import TEMPLATES, SheetFile, sheet_of, template
from waywright.jobs.instruments_said import names_said
from waywright.jobs.sheet_content import blank_content
from waywright.jobs.sheet_files import sheets_listed
from waywright.jobs.sheet_keep import SheetOrder, begin_sheet
from waywright.report.sheet_pdf import sheet_pdf
from waywright.web.desk import Desk
from waywright.web.elements import Press, To, Words, box, choice, field, file_press, note, row, table, tried
from waywright.web.frame import head
from waywright.wording import text


def register(desk: Desk) -> None:
    """The page at ``/sheets`` and every sheet's own page."""
    from waywright.web.pages import sheet

    sheet.register(desk)

    @ui.page("/sheets")
    def sheets() -> None:
        head(text("sheet.page.title"))
        with box("page wide-left"):
            with box("stack"):
                Words(text("sheet.page.title"), tag="h1")
                _kept(desk)
            _begin(desk)


def _kept(desk: Desk) -> None:
    _ = desk.archive  # made if it is not there yet
    found = sheets_listed(desk.archive_path)
    if not found:
        Words(text("sheet.page.none"), "mute", "p")
        return
    with table(text(f"sheet.head.{name}") for name in ("title", "machine", "began", "filled")):
        for each in reversed(found):
            with row(()):
                with box(tag="td"):
                    To(each.title, f"/sheet/{each.id}")
                for cell in (each.machine, each.began_utc[:16].replace("T", " "), f"{each.filled} / {each.places}"):
                    Words(cell, tag="td")


def _blank(name: str, machine: str) -> None:
    """The chosen example as paper to fill with a pencil."""
    ui.download.content(sheet_pdf(blank_content(template(name), machine or None)), f"{name}.pdf")


def _begin(desk: Desk) -> None:
    chosen = {"name": TEMPLATES[0]}

    def begin(sheet: SheetFile) -> None:
        read_with = names_said(str(instruments.value or ""))
        order = SheetOrder(str(machine.value or "") or None, str(technician.value or "") or None, instruments=read_with)
        with open_archive(desk.archive_path, create=True) as archive:
            kept = begin_sheet(archive, sheet, order, SystemClock())
        desk.touched()
        ui.navigate.to(f"/sheet/{kept.id}")

    async def from_file(upload: events.UploadEventArguments) -> None:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "sheet.toml"
            path.write_bytes(await upload.file.read())
            begin(sheet_of(str(path)))

    with box("sheet", "section"):
        Words(text("sheet.page.begin"), tag="h2")
        Words(text("sheet.page.begin_words"), "mute", "p")
        options = [(name, template(name).title) for name in TEMPLATES]
        choice(options, chosen["name"], lambda name: chosen.update(name=name), text("sheet.page.example"))
        with box("row"):
            machine = field(text("sheet.page.machine"))
            technician = field(text("sheet.page.technician"))
        instruments = field(text("keep.read_with"))
        problem = note("", "bad")
        problem.set_visibility(False)
        with box("row"):
            Press(text("sheet.page.begin_press"), tried(lambda: begin(template(chosen["name"])), problem), "next")
            Press(text("sheet.page.blank"), tried(lambda: _blank(chosen["name"], str(machine.value or "")), problem))
            file_press(text("sheet.page.own_file"), tried(from_file, problem))
