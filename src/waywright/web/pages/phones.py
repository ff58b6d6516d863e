"""Phones: a code and a picture of it to pair one, and every pairing with a way to end it."""

from __future__ import annotations

from nicegui import ui

from waywright.web.elements import Press, Words, box, choice, markup, note
from waywright.web.frame import head
from waywright.web.pairing import CODE_LASTS_S, Pairings
from waywright.wording import text


def register(pairings: Pairings, address: str | None) -> None:
    """The page at ``/phones``; ``address`` is where phones reach this computer, None where they cannot."""

    @ui.page("/phones")
    def phones() -> None:
        head(text("phones.phones"), here="phones")
        with box("page"):
            with box("stack"):
                Words(text("phones.phones"), tag="h1")
                if address is None:
                    note(text("phones.phones_closed"))
                else:
                    PairSheet(pairings, address)
            with box("sheet", "section"):
                _paired(pairings)


class PairSheet:
    """Choose what the phone may do, then show the code."""

    def __init__(self, pairings: Pairings, address: str) -> None:
        self._pairings, self._address = pairings, address
        self._role = "look"
        with box("sheet", "section"):
            Words(text("phones.phones_words"), "mute", "p")
            roles = [(role, text(f"phones.role.{role}")) for role in ("look", "take")]
            choice(roles, self._role, self._choose, text("phones.role_label"))
            Press(text("web.show_code"), self._show, "next")
            self._code = box("stack")

    def _choose(self, role: str) -> None:
        self._role = role

    def _show(self) -> None:
        import segno

        code = self._pairings.offer(self._role)
        self._code.clear()
        with self._code:
            picture = segno.make(f"{self._address}pair#code={code.digits}", error="m")
            markup(picture.svg_inline(scale=6, border=3, light="#ffffff", dark="#1d2a33"), "qr")
            with box("figure hero"):
                Words(f"{code.digits[:3]} {code.digits[3:]}", "value")
            Words(text("web.code_words", address=f"{self._address}pair", minutes=CODE_LASTS_S / 60), "mute", "p")


def _paired(pairings: Pairings) -> None:
    Words(text("phones.paired"), tag="h2")

    @ui.refreshable
    def listed() -> None:
        if not pairings.all:
            Words(text("web.none_paired"), "mute", "p")
        for pairing in pairings.all:
            with box("row apart"):
                ago = pairings.seen_before_s(pairing)
                role = text(f"phones.role.{pairing.role}")
                Words(text("phones.paired_phone", name=pairing.name, role=role, seconds=ago))
                Press(text("web.revoke"), lambda number=pairing.number: revoke(number))

    def revoke(number: int) -> None:
        pairings.revoke(number)
        listed.refresh()

    listed()
    ui.timer(2.0, listed.refresh)
