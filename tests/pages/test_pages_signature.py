"""Signing on the screen: what was drawn is kept with the report, and what is no drawing is not."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
from nicegui import ui
from nicegui.testing import User

from jobs.made_line import two_passes
from made_pages import see, tell
from waywright.jobs.prove import ReportOrder, content_sha256, report_data
from waywright.visit import Line, SignedReport
from waywright.web.desk import Desk
from waywright.web.report_shelf import ReportShelf, Wish
from waywright.web.signature_pad import SignaturePad, signing_sheet

STROKES = (((0.1, 0.1), (0.2, 0.25)), ((0.5, 0.05),))


@pytest.fixture
def made(tmp_path: Path) -> tuple[Path, Line]:
    return two_passes(tmp_path)


def drawn(detail: object) -> SimpleNamespace:
    """What a browser tells."""
    return SimpleNamespace(args={"detail": detail})


def test_a_drawn_signature_is_kept_with_the_report(made: tuple[Path, Line], monkeypatch: pytest.MonkeyPatch) -> None:
    pads: list[SignaturePad] = []
    kept = SignaturePad.__init__

    def remember(pad: SignaturePad) -> None:
        kept(pad)
        pads.append(pad)

    monkeypatch.setattr(SignaturePad, "__init__", remember)

    async def story(user: User, desk: Desk) -> None:
        shown: list[str] = []

        @ui.page("/signing")
        def page() -> None:
            signing_sheet(desk, ReportShelf(desk), made[1], Wish, lambda: shown.append("again"))

        await user.open("/signing")
        user.find(marker="sign-drawn").click()
        await see(user, "Nothing is drawn.")
        pads[0]._drawn(drawn([[[0.1, 0.1], [0.2, 0.25]], [[0.5, 0.05]]]))
        user.find(marker="sign-drawn").click()
        await see(user, "A signature needs a name.")
        user.find(marker="sign-name").type("B. Example (invented)")
        user.find(marker="sign-drawn").click()
        await see(user, "B. Example (invented) signed revision 1, customer.")
        [signed] = desk.archive.every(SignedReport, made[1].visit_id)
        assert signed.strokes == STROKES
        data = report_data(desk.archive, [desk.measured(made[1])], ReportOrder())
        assert signed.content_sha256 == content_sha256(data)
        assert [each.id for each in data.signatures] == [signed.id]
        assert shown == ["again"]
        user.find(marker="sign-ink").click()
        await see(user, "signed revision 1")

    tell(made[0], story)


@pytest.mark.parametrize("detail", [None, "drawn", [[["x", 1]]], [[[0.1, 0.2, 0.3]]]])
def test_what_is_no_drawing_is_none(detail: object) -> None:
    pad = object.__new__(SignaturePad)
    pad.strokes = STROKES
    pad._drawn(drawn(detail))  # type: ignore[arg-type]
    assert pad.strokes == ()
