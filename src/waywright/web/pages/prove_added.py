"""What people add to a report: notes in words, photos."""

from __future__ import annotations

from collections.abc import Callable

from nicegui import events, ui

from waywright.errors import WaywrightError
from waywright.jobs.attach import attach_bytes
from waywright.jobs.signing import KINDS, add_note
from waywright.visit import Attachment, Line, ReportNote
from waywright.web.desk import Desk
from waywright.web.elements import Press, Words, box, field, file_press, note, tried
from waywright.wording import text


def notes_sheet(desk: Desk, line: Line, shown: Callable[[], None]) -> None:
    """What the report says in words: limitations, safety, what was not corrected, the customer's reservations."""
    with box("sheet", "section"):
        Words(text("prove.notes"), tag="h2")
        listed = box("stack")
        kinds = {kind: text(f"prove.kind_{kind}") for kind in KINDS}
        kind = ui.select(kinds, label=text("prove.kind"), value="remark").props("outlined square stack-label")
        words = field(text("prove.words"))
        problem = note("", "bad")
        problem.set_visibility(False)

        def add() -> None:
            add_note(str(kind.value), str(words.value or ""), line=str(line.id), path=desk.archive_path)
            words.value = ""
            desk.touched()
            _list_notes(desk, line, listed)
            shown()

        Press(text("prove.add_note"), tried(add, problem))
    _list_notes(desk, line, listed)


def _list_notes(desk: Desk, line: Line, place: ui.element) -> None:
    place.clear()
    with place:
        for each in desk.archive.every(ReportNote, line.visit_id):
            Words(f"{text(f'prove.kind_{each.kind}')}: {each.text or each.due or ''}", "small", "p")


def photos_sheet(desk: Desk, line: Line) -> None:
    """Photos of the set-up and of what was found, kept with the visit."""
    with box("sheet", "section"):
        Words(text("prove.photos"), tag="h2")
        Words(text("prove.photos_words"), "mute small", "p")
        caption = field(text("prove.caption"))
        listed = box("photos")

        async def came(event: events.UploadEventArguments) -> None:
            data = await event.file.read()
            try:
                attach_bytes(
                    desk.archive, line.visit_id, event.file.name, data, "photo", str(caption.value or "") or None, None
                )
            except WaywrightError as error:
                with listed:
                    note(str(error), "bad")
                return
            caption.value = ""
            desk.touched()
            _list_photos(desk, line, listed)

        file_press(text("prove.add_photo"), came, multiple=True, accept=".jpg,.jpeg,.png")
    _list_photos(desk, line, listed)


def _list_photos(desk: Desk, line: Line, place: ui.element) -> None:
    place.clear()
    with place:
        for each in desk.archive.every(Attachment, line.visit_id):
            if each.role == "photo":
                with box("photo"):
                    picture = ui.element("img")
                    picture._props["src"] = f"/attachment/{each.id}"
                    picture._props["alt"] = each.caption or each.name
                    Words(each.caption or each.name, "small mute")
