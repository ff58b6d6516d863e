"""An instrument that nobody has described: listen to its lines, see a proposal, check it on the live link, keep it."""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Sequence

from nicegui import ui

from waywright.clocks import SystemClock
from waywright.drawing import plain_number
from waywright.errors import BadInput
from waywright.instruments import Instrument, parse_instrument
from waywright.jobs.instruments import Check, Checked
from waywright.jobs.new_instrument import description_text, hear
from waywright.jobs.new_values import hear_values, values_text
from waywright.web.desk import Desk
from waywright.web.elements import Press, Words, box, field, markup, note, number, tried
from waywright.web.frame import head
from waywright.web.pages.link_form import LinkForm
from waywright.web.saying import table_markup
from waywright.wording import text

LISTEN_S, CHECK_S, SHOWN = 4.0, 8.0, 12


def register(desk: Desk) -> None:
    """The page at ``/instrument``."""

    @ui.page("/instrument")
    def instrument() -> None:
        head(text("wizard.title"), here="begin")
        with box("page"):
            Wizard(desk)


class Wizard:
    """Listen, propose, check, keep."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._lines: deque[str] = deque(maxlen=SHOWN)
        with box("stack"):
            Words(text("wizard.title"), tag="h1")
            with box("sheet", "section"):
                self._form()
            self._live = box("sheet", "section")
            self._live.set_visibility(False)
        self._proposed = box("stack")

    def _form(self) -> None:
        Words(text("wizard.words"), "mute", "p")
        self._link = LinkForm()
        with box("row"):
            self._name = field(text("wizard.name"), "detector")
            self._send = field(text("wizard.send"))
            self._rate = number(text("wizard.rate"), 10.0, least=0.01)
        problem = note("", "bad")
        problem.set_visibility(False)
        self._press = Press(text("wizard.listen"), None, "next")
        self._press.on("click", tried(self._listen, problem), [])

    async def _listen(self) -> None:
        """Show every line as it comes, then what they seem to be."""
        link, rate_hz = self._link.link, float(self._rate.value or 1.0)
        items = self._link.items if self._link.brings_values else ()
        send = str(self._send.value or "").strip() or None
        self._press.allow(False)
        self._lines.clear()
        self._live.clear()
        self._live.set_visibility(True)
        with self._live:
            Words(text("wizard.live"), tag="h3")
            shown = markup("", "lines", "pre")

        def came(news: Sequence[str]) -> None:
            self._lines.extend(news)
            shown.set_content(_as_text(self._lines))

        name = str(self._name.value or "detector")
        try:
            if items:
                held = await hear_values(link, items, rate_hz, LISTEN_S, SystemClock(), came)
                proposal = values_text(name, link, rate_hz, held)
                said = text("wizard.heard_values", lines=held.count, items=len(items))
            else:
                heard = await hear(link, send, rate_hz, LISTEN_S, SystemClock(), came)
                proposal = description_text(name, link, send, heard)
                facts = {"lines": heard.count, "matched": heard.proposal.matched, "rate": heard.rate_hz}
                said = text("wizard.heard", **facts)
        finally:
            self._press.allow(True)
        self._propose(proposal, said)

    def _propose(self, proposal: str, said: str) -> None:
        self._proposed.clear()
        with self._proposed, box("sheet", "section"):
            Words(text("wizard.proposal"), tag="h2")
            Words(said, "mute", "p")
            written = ui.textarea(text("wizard.description"), value=proposal).props("outlined square rows=22")
            written.classes("description")
            problem = note("", "bad")
            problem.set_visibility(False)
            with box("row"):
                check = Press(text("wizard.check"))
                Press(text("wizard.keep"), tried(lambda: self._keep(str(written.value or "")), problem), "next")
            account = box("stack")
            check.on("click", tried(lambda: self._check(str(written.value or ""), account), problem), [])

    async def _check(self, words: str, place: ui.element) -> None:
        """The channels as this description reads them, live."""
        instrument = self._parsed(words)
        check = Check(instrument, SystemClock())
        place.clear()
        with place:
            table = markup(_account(check.account()), "scroll")
        listening = asyncio.create_task(check.listen(CHECK_S))
        while not listening.done():
            table.set_content(_account(check.account()))
            await asyncio.sleep(0.3)
        found = await listening
        table.set_content(_account(found))
        with place:
            for line in found.unmatched:
                note(text("wizard.unmatched", line=line), "bad")
            for said in found.said[-2:]:
                Words(said, "small mute", "p")

    def _parsed(self, words: str) -> Instrument:
        name = str(self._name.value or "detector")
        return parse_instrument(words.encode(), f"{name}.toml")

    def _keep(self, words: str) -> None:
        if '"..."' in words or "..." in words.replace("[...]", ""):
            raise BadInput("wizard.three_dots")
        instrument = self._parsed(words)
        self._desk.folder.mkdir(parents=True, exist_ok=True)
        (self._desk.folder / f"{instrument.name}.toml").write_text(words, encoding="utf-8", newline="\n")
        with self._proposed:
            note(text("wizard.kept", title=instrument.description.title), "good")


def _account(found: Checked) -> str:
    heads = [text(f"wizard.column_{name}") for name in ("channel", "now", "scatter", "least", "most", "rate")]
    rate = f"{plain_number(found.rate_hz, 1)} / {plain_number(found.expected_hz, 1)}"
    rows = [
        (
            None,
            [
                each.channel,
                *(_figure(value) for value in (each.latest, each.standard_deviation, each.least, each.most)),
                rate,
            ],
        )
        for each in found.channels
    ]
    return table_markup(heads, rows)


def _figure(value: float | None) -> str:
    return "–" if value is None else plain_number(value, 2)


def _as_text(lines: Sequence[str]) -> str:
    from html import escape

    return escape("\n".join(line[:120] for line in lines))
