"""Take: arm a pass and watch it; every standstill takes a reading by itself."""

from __future__ import annotations

from collections.abc import Sequence

from fastapi import Response
from nicegui import ui

from waywright.errors import WaywrightError
from waywright.jobs.measured import MeasuredPass
from waywright.jobs.orders import CaptureOrder
from waywright.jobs.remember import event_sentence
from waywright.machine import Machine
from waywright.quantities import Code, code
from waywright.visit import Line, SetUp
from waywright.web.desk import Desk
from waywright.web.display import as_now, place, place_unit
from waywright.web.elements import Press, To, Words, box, choice, markup, note
from waywright.web.frame import WayDrawing, head
from waywright.web.opened import open_reading, open_thing
from waywright.web.pages.connect import connect_sheet
from waywright.web.pages.trust import trust_row
from waywright.web.plain_page import nothing_here
from waywright.web.saying import direction_word, heading_of, readings_table, references, unit_of, word_of
from waywright.web.scenes import pass_scene
from waywright.web.state import ARMED, FAILED, IDLE, MeasuringState
from waywright.wording import text

_OPENS = "(event) => { const row = event.target.closest('[data-opens]'); if (row) emit(row.dataset.opens); }"


def register(desk: Desk) -> None:
    """The page at ``/line/<id>/take``."""

    @ui.page("/line/{identity}/take")
    def take(identity: str) -> Response | None:
        try:
            machine, _, line = desk.line(identity)
        except WaywrightError as error:
            return nothing_here(error)
        head(text("web.take"), line=line, machine=machine, here="take")
        TakePage(desk, machine, line)
        return None


class TakePage:
    """One open page; it catches up with the pass, which runs in the server."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        self._desk, self._machine, self._line = desk, machine, line
        self._reference = "least-squares"
        setups = desk.archive.setups(line.id)
        self._setup: SetUp | None = setups[-1] if setups else None
        self._codes = self._known_codes()
        self._quantity = next((item for item in self._codes if item.is_straightness), None)
        self._drawing = WayDrawing(machine, self._open)
        with box("page") as page:
            page._props["data-line"] = str(line.id)
            with box("stack"):
                self._now()
                self._connection = box("stack")
            with box("stack"):
                self._before = box("stack")
                self._look()
                self._taken = box("stack")
        self._large()
        self._show("phase")
        desk.changed.subscribe(as_now(self._show))

    def _known_codes(self) -> tuple[Code, ...]:
        meaning = self._desk.archive.interpretation(self._setup.id) if self._setup else None
        return tuple(code(item.code) for item in meaning.meanings) if meaning else ()

    @property
    def _state(self) -> MeasuringState:
        return self._desk.state_of(self._line.id)

    # ------------------------------------------------------------------------------------- the parts

    def _now(self) -> None:
        """What happens now: the figures, large, and what can be done."""
        with box("sheet", "section") as self._now_sheet:
            _live("words", "now", "h2")
            with box("bar") as bar:
                bar._props["data-live-bar"] = "yes"
                box(tag="i")
            again = note("", "again")
            again._props["data-again"], again._props["hidden"] = "yes", True
            again.props('role="status"')
            self._figures(self._codes)
            self._said = note("", "now-note")
            self._said.set_visibility(False)
            self._controls = box("row")
            with box("row"):
                _does(text("web.large"), "large")
                _does(text("web.zero"), "zero")
                cleared = _does(text("web.unzero"), "unzero")
                cleared._props["data-zeroed"] = "yes"
                cleared._props["hidden"] = True
                _does(text("web.speak"), "speak").props('data-speak="no" aria-pressed="false"')

    def _figures(self, codes: Sequence[Code]) -> None:
        for item in codes[:1]:
            Words(_positive(item, self._machine), "mute")
            with box("figure hero"):
                _live(f"value-{item.text}", "value")
                Words(unit_of(item), "unit")
        with box("figures"):
            for item in codes[1:]:
                with box("figure"):
                    _live(f"value-{item.text}", "value")
                    Words(f"{unit_of(item)} {word_of(item, self._machine)} ({item.text})", "unit")
            with box("figure"):
                _live("position", "value")
                zero = self._setup.zero if self._setup else None
                Words(text("web.place_from", unit=place_unit(), mark=zero.mark) if zero else place_unit(), "unit")

    def _look(self) -> None:
        """What the way drawing shows: quantity and reference line, switched in place, also while measuring."""
        with box("row"):
            straight = [(item.text, heading_of(item, self._machine)) for item in self._codes]
            if straight:
                choice(straight, self._quantity.text if self._quantity else "", self._choose, text("web.quantity"))
            choice(
                [*references(), ("none", text("web.reference.none"))], self._reference, self._refer, text("web.line")
            )

    def _large(self) -> None:
        """Figures for the far end of the bed; escape or the button closes them."""
        with box("large"):
            _live("words", "now rest")
            for item in self._codes[:1]:
                _live(f"value-{item.text}", "value")
                Words(f"{unit_of(item)} {heading_of(item, self._machine)}", "mute")
            with box("row"):
                _live("position", "rest")
                Words(place_unit(), "mute")
            _does(text("web.close"), "small")

    # ------------------------------------------------------------------------------------- showing

    def _show(self, what: str) -> None:
        self._draw()
        if what in ("phase", "event", "record"):
            self._show_controls()
        if what == "phase":
            self._now_sheet.set_visibility(self._state.phase not in (IDLE, FAILED))
            self._connection.clear()
            with self._connection:
                connect_sheet(self._desk, self._machine, self._line)
        self._show_taken()

    def _draw(self) -> None:
        current, state = self._current(), self._state
        quantity = self._quantity
        reference = self._reference if quantity is None or quantity.is_straightness else "none"
        self._drawing.show(pass_scene(current, quantity, reference, self._setup, state))

    def _current(self) -> MeasuredPass | None:
        """The pass that runs, as far as it has readings; otherwise the last one."""
        passes = self._desk.measured(self._line).passes
        taken = self._state.taken
        if taken is not None:
            return next((single for single in passes if single.taken.id == taken.id), None)
        return passes[-1] if passes else None

    def _show_controls(self) -> None:
        state = self._state
        self._before.clear()
        if state.phase not in (ARMED, IDLE, FAILED):
            with self._before, box("sheet", "section"):
                Words(text("trust.title"), tag="h3")
                Words(text("web.laser"), "small mute", "p")
                trust_row(self._desk, self._line)
        self._controls.clear()
        with self._controls:
            if state.phase == ARMED:
                self._while_armed()
            elif state.phase not in (IDLE, FAILED):
                self._before_arming(ready=state.phase == "ready")

    def _while_armed(self) -> None:
        session = self._desk.session
        if session is None:
            return
        Press(text("web.take_now"), session.trigger, "next")._props["data-key"] = "take"
        Press(text("web.take_again"), self._again)._props["data-key"] = "again"
        Press(text("web.end_pass"), session.finish)
        Press(text("web.stop_pass"), session.stop, "quiet")

    def _before_arming(self, ready: bool) -> None:
        passes = self._desk.archive.passes(self._line.id)
        last = passes[-1] if passes else None
        mine = last is not None and last.position_channel == self._state.position_channel
        interrupted = last if mine and last is not None and last.outcome != "finished" else None
        if interrupted is not None:
            words = text("web.go_on", number=interrupted.number)
            self._arm_press(words, ready, True, ("forward",), "next")
        both = ("forward", "backward")
        self._arm_press(text("web.arm_both"), ready, False, both, "" if interrupted else "next")
        self._arm_press(text("web.arm_forward"), ready, False, ("forward",))
        if not self._state.practice:
            self._arm_press(text("web.arm_backward"), ready, False, ("backward",))

    def _arm_press(self, words: str, ready: bool, going_on: bool, passes: tuple[str, ...], look: str = "") -> None:
        averaging_s = 3.0 if self._state.practice else None
        order = CaptureOrder(instruments=(), passes=passes, averaging_s=averaging_s, continue_pass=going_on)
        press = Press(words, lambda: self._desk.arm(order), look)
        press.allow(ready)

    def _again(self) -> None:
        session, last = self._desk.session, self._state.last_mm
        if session is None or last is None:
            return
        if session.stands_at_last_station:
            session.trigger()
            return
        self._said.set_text(text("web.drive_back", position=f"{place(last)} {place_unit()}"))
        self._said.set_visibility(True)

    def _show_taken(self) -> None:
        current = self._current()
        self._taken.clear()
        with self._taken, box("sheet", "section"):
            if current is None:
                Words(text("web.nothing_taken"), "mute", "p")
                return
            way = text(f"web.{current.taken.direction}")
            Words(
                text("web.saved", number=current.taken.number, direction=way, stations=len(current.readings)), tag="h3"
            )
            told = [event for event in current.events if event.key != "instruments.connected"]
            for event in told[-1:-4:-1]:
                note(event_sentence(event))
            table = markup(readings_table(current, self._machine), "scroll readings")
            table.on("click", lambda event: self._open_reading(str(event.args)), js_handler=_OPENS)
            if self._state.phase != ARMED:
                To(text("web.to_judge"), f"/line/{self._line.id}/judge", "press")

    # ------------------------------------------------------------------------------------- choosing

    def _choose(self, chosen: str) -> None:
        self._quantity = next(item for item in self._codes if item.text == chosen)
        self._draw()

    def _refer(self, chosen: str) -> None:
        self._reference = chosen
        self._draw()

    def _open(self, support: str | None, position_mm: float | None) -> None:
        open_thing(self._desk, self._machine, self._line, support, position_mm)

    def _open_reading(self, identity: str) -> None:
        try:
            open_reading(self._desk, self._machine, self._line, identity)
        except WaywrightError as error:
            self._said.set_text(str(error))
            self._said.set_visibility(True)


def _positive(item: Code, machine: Machine) -> str:
    from waywright.quantities import screen_direction

    positive = direction_word(screen_direction(item, machine.axes))
    return text("web.positive", word=word_of(item, machine), code=item.text, direction=positive)


def _live(name: str, classes: str, tag: str = "div") -> Words:
    """A place that the live figures are written into by the browser."""
    place = Words("–", classes, tag)
    place._props["data-live"] = name
    return place


def _does(words: str, what: str) -> Press:
    """A press that the browser itself answers."""
    press = Press(words, classes="quiet")
    press._props["data-does"] = what
    return press
