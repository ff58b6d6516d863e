"""Signing on the screen: a pad to draw on, who signs and for whom. A page includes it with :func:`signing_sheet`."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

import msgspec
from nicegui import events, ui

from waywright.errors import BadInput
from waywright.jobs.signing import ROLES, Signing, sign
from waywright.visit import Line, Person, SignedReport
from waywright.visit.issue import Stroke
from waywright.web.desk import Desk
from waywright.web.elements import Press, Words, box, field, note, tried
from waywright.web.report_shelf import ReportShelf, Wish
from waywright.wording import text

_PAD = "aspect-ratio: 10 / 3; width: 100%; max-width: 36rem; touch-action: none; cursor: crosshair; border: 2px solid;"


class SignaturePad:
    """A box to draw in; ``strokes`` are what was drawn so far, as a signed report keeps them."""

    def __init__(self) -> None:
        self.strokes: tuple[Stroke, ...] = ()
        self.pad = box("signature").style(_PAD).props('role="img" data-signature')
        self.pad._props["aria-label"] = text("prove.signature_pad")
        self.pad.on("strokes", self._drawn, ["detail"])

    def _drawn(self, event: events.GenericEventArguments) -> None:
        """What a browser sends is checked again when it is kept (``jobs.signing``)."""
        try:
            self.strokes = msgspec.convert(event.args["detail"], type=tuple[Stroke, ...])
        except (msgspec.ValidationError, KeyError, TypeError):
            self.strokes = ()


def signing_sheet(
    desk: Desk, shelf: ReportShelf, line: Line, wish: Callable[[], Wish], shown: Callable[[], None]
) -> None:
    """Sign the report that ``wish`` says, drawn or in ink; ``shown`` is called when it was signed."""
    ui.add_body_html('<script src="/static/signature.js" defer></script>')
    with box("sheet signing", "section"):
        Words(text("prove.sign_title"), tag="h2")
        Words(text("prove.sign_words"), "mute", "p")
        listed = box("stack")
        with box("row"):
            name = field(text("prove.sign_name")).mark("sign-name")
            roles = {role: text(f"report_job.party.{role}") for role in ROLES}
            role = ui.select(roles, label=text("prove.sign_role"), value="customer").props(
                "outlined square stack-label"
            )
        pad = SignaturePad()
        problem = note("", "bad")
        problem.set_visibility(False)

        async def kept(strokes: tuple[Stroke, ...]) -> None:
            signing = Signing(by=str(name.value or ""), role=str(role.value), strokes=strokes)
            wanted = wish()
            measured = shelf.lines(line, wanted)
            await asyncio.to_thread(sign, desk.archive, measured, wanted.order, signing)
            desk.touched()
            _list(desk, line, listed)
            shown()

        async def drawn() -> None:
            if not pad.strokes:
                raise BadInput("report_sign.nothing_drawn")
            await kept(pad.strokes)

        with box("row"):
            Press(text("prove.sign_drawn"), tried(drawn, problem), "next").mark("sign-drawn")
            Press(text("prove.sign_ink"), tried(lambda: kept(()), problem)).mark("sign-ink")
            Press(text("prove.sign_clear"), classes="quiet")._props["data-signature-clear"] = ""
    _list(desk, line, listed)


def _list(desk: Desk, line: Line, place: ui.element) -> None:
    """Who has signed which revision."""
    place.clear()
    with place:
        for each in desk.archive.every(SignedReport, line.visit_id):
            who = desk.archive.load(Person, each.person_id).name
            facts = {"name": who, "role": text(f"report_job.party.{each.role}"), "revision": each.revision}
            Words(text("prove.signed", when=f"{each.signed_utc:%Y-%m-%d %H:%M} UTC", **facts), "small", "p")
