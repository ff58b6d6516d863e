"""Before the first pass: can this set-up be trusted today? Direction test, alignment, steadiness, the gates."""

from __future__ import annotations

from fastapi import Response
from nicegui import ui

from waywright.errors import WaywrightError
from waywright.jobs.evidence import evidence_of_line, go_on_anyway, sentences
from waywright.machine import Machine
from waywright.visit import Evidence, Line
from waywright.web.desk import Desk
from waywright.web.display import as_now
from waywright.web.elements import To, Words, asking, box, choice, note, tried
from waywright.web.frame import WayDrawing, head
from waywright.web.opened import open_thing
from waywright.web.pages.trust_alignment import AlignmentSheet
from waywright.web.pages.trust_direction import DirectionSheet
from waywright.web.pages.trust_steadiness import SteadinessSheet
from waywright.web.plain_page import nothing_here
from waywright.web.scenes import pass_scene
from waywright.wording import text

TESTS = {"direction": DirectionSheet, "alignment": AlignmentSheet, "steadiness": SteadinessSheet}


def register(desk: Desk) -> None:
    """The page at ``/line/<id>/trust``."""

    @ui.page("/line/{identity}/trust")
    def trust(identity: str, test: str = "direction") -> Response | None:
        try:
            machine, _, line = desk.line(identity)
        except WaywrightError as error:
            return nothing_here(error)
        head(text("trust.title"), line=line, machine=machine, here="take")
        TrustPage(desk, machine, line, test if test in TESTS else "direction")
        return None


def newest(desk: Desk, line: Line) -> dict[str, Evidence]:
    """The last evidence of every test and gate of a line."""
    return {item.test: item for item in evidence_of_line(desk.archive, line)}


def state_words(evidence: Evidence | None) -> str:
    """How a test stands: not made, or what it said and when."""
    if evidence is None:
        return text("trust.not_made")
    key = "trust.good" if evidence.good else "trust.anyway" if evidence.anyway else "trust.in_the_way"
    return text(key, time=f"{evidence.made_utc:%H:%M}")


def state_look(evidence: Evidence | None) -> str:
    """The colour of a state; the words say the same."""
    if evidence is None:
        return "mute"
    return "inside" if evidence.good else "outside" if evidence.stands_in_the_way else "undecided"


def trust_row(desk: Desk, line: Line) -> None:
    """How the tests stand, each a way to it."""
    known = newest(desk, line)
    with box("tests", "ul"):
        for test in TESTS:
            with box(tag="li"):
                To(text(f"trust.{test}"), f"/line/{line.id}/trust?test={test}")
                Words(state_words(known.get(test)), f"small {state_look(known.get(test))}")


class TrustPage:
    """One open page."""

    def __init__(self, desk: Desk, machine: Machine, line: Line, test: str) -> None:
        self._desk, self._machine, self._line, self._test = desk, machine, line, test
        self._drawing = WayDrawing(machine, lambda support, at: open_thing(desk, machine, line, support, at))
        with box("page wide-left") as page:
            page._props["data-line"] = str(line.id)
            with box("stack"):
                with box("row apart"):
                    Words(text("trust.question"), tag="h1")
                    To(text("trust.back"), f"/line/{line.id}/take", "press quiet")
                options = [(name, text(f"trust.{name}")) for name in TESTS]
                choice(options, test, self._choose, text("trust.title"))
                self._place = box("stack")
            self._states = box("stack")
        self._open()
        self._show("phase")
        desk.changed.subscribe(as_now(self._show))

    def _choose(self, test: str) -> None:
        self._test = test
        self._open()

    def _open(self) -> None:
        self._place.clear()
        with self._place:
            TESTS[self._test](self._desk, self._machine, self._line)

    def _show(self, what: str) -> None:
        setups = self._desk.archive.setups(self._line.id)
        setup = setups[-1] if setups else None
        self._drawing.show(pass_scene(None, None, "none", setup, self._desk.state_of(self._line.id)))
        if what in ("phase", "record"):
            self._states.clear()
            with self._states:
                self._show_states()

    def _show_states(self) -> None:
        known = newest(self._desk, self._line)
        with box("sheet", "section"):
            Words(text("trust.so_far"), tag="h2")
            for test in dict.fromkeys((*TESTS, *known)):
                evidence = known.get(test)
                with box("stack reading"):
                    with box("row apart"):
                        Words(text(f"guard_evidence.test_{test}"))
                        Words(state_words(evidence), state_look(evidence))
                    if evidence is not None and not evidence.good:
                        self._in_the_way(evidence)

    def _in_the_way(self, evidence: Evidence) -> None:
        for sentence in sentences(evidence.why):
            note(sentence, "bad")
        if evidence.anyway:
            Words(text("trust.anyway_because", reason=evidence.anyway), "small")
            return

        def anyway(reason: str) -> None:
            go_on_anyway(self._desk.archive, evidence.id, reason, None, self._desk.clock)
            self._desk.touched()

        asking(text("trust.why_anyway"), text("trust.go_on_anyway"), tried(anyway))
