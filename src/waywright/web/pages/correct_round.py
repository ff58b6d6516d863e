"""A round: every confirmation on its own, then one support after the other with its live target."""

from __future__ import annotations

import asyncio

from nicegui import background_tasks, ui

from waywright.correct.instructions import Instruction
from waywright.errors import WaywrightError
from waywright.jobs.confirming import MAKERS_LIMIT, unconfirmed
from waywright.jobs.correct import Correction
from waywright.jobs.evidence import sentences
from waywright.jobs.rounds import confirm
from waywright.jobs.turning import Turning
from waywright.visit import Line, Statement
from waywright.visit.adjustment import Adjustment
from waywright.web.desk import Desk
from waywright.web.display import length
from waywright.web.elements import Press, Words, box, field, markup, note, tried
from waywright.web.lengths import LengthField
from waywright.web.ring import turn_ring
from waywright.wording import text

PRACTICE_STEPS = 12


class RoundSheet:
    """The round that is open; filled anew by the page whenever the record has changed."""

    def __init__(self, desk: Desk, line: Line, made: Adjustment) -> None:
        self._desk, self._line, self._made = desk, line, made
        self._step: Step | None = None
        lacking = unconfirmed(made)
        with box("sheet", "section"):
            Words(text("rounds.open", number=made.number), tag="h2")
            low, high = made.interval_um
            Words(text("web.expected", value_um=made.expected_um, low_um=low, high_um=high,
                       now_um=made.value_before_um), "mute", "p")  # fmt: skip
            if lacking:
                self._confirm(lacking)
        if not lacking:
            self._place = box("stack")
            self._turn()

    def look(self) -> None:
        """Somebody may have begun or ended turning on another page."""
        if self._step is not None:
            self._step.look()

    # ------------------------------------------------------------------------------------- confirming

    def _confirm(self, lacking: tuple[Statement, ...]) -> None:
        """Nothing is shown to turn before each has an answer of its own."""
        Words(text("web.confirm_title"), tag="h3")
        for said in self._made.confirmations:
            (sentence,) = sentences([said.statement])
            Words(f"✓ {sentence} {said.answer}", "small inside", "p")
        for statement in lacking:
            with box("stack reading"):
                (sentence,) = sentences([statement])
                Words(sentence, tag="p")
                self._answer(statement)

    def _answer(self, statement: Statement) -> None:
        label = text("rounds.answer_limit" if statement.key == MAKERS_LIMIT else "rounds.answer")
        with box("gap"):
            given = field(label, classes="grow")
            place = Press(text("rounds.confirm"))
        problem = note("", "bad")
        problem.set_visibility(False)

        def answered() -> None:
            made = self._desk.archive.load(Adjustment, self._made.id)
            confirm(self._desk.archive, made, statement.key, str(given.value or ""), self._desk.clock)
            self._desk.touched()

        place.on("click", tried(answered, problem), [])
        place._props["aria-label"] = f"{text('rounds.confirm')}: {label}"

    # ------------------------------------------------------------------------------------- turning

    def _turn(self) -> None:
        move = next((each for each in self._made.moves if each.done_um is None), None)
        with self._place:
            if move is None:
                self._all_turned()
                return
            at = [each.support for each in self._made.moves].index(move.support)
            self._step = Step(self._desk, self._line, self._made, at)

    def _all_turned(self) -> None:
        with box("sheet", "section"):
            Words(text("web.all_turned"), tag="h2")
            Words(text("rounds.before_measuring"), "mute", "p")

            async def again() -> None:
                line = await self._desk.measure_again(self._line)
                ui.navigate.to(f"/line/{line.id}/take")

            problem = note("", "bad")
            problem.set_visibility(False)
            Press(text("web.measure_again"), tried(again, problem), "next")

    def fitters_sheet(self) -> None:
        """What was told, to be printed and taken to the machine; nothing before everything is confirmed."""
        if unconfirmed(self._made):
            return
        with box("sheet print", "section"):
            Words(text("web.fitters_sheet"), tag="h2")
            with box("list", "ol"):
                for sentence in sentences(self._made.told):
                    Words(sentence, tag="li")
            printing = Press(text("web.print"))
            printing.on("click", js_handler="() => window.print()")


class Step:
    """One support: which, how far, which way round, and what the reading does meanwhile."""

    def __init__(self, desk: Desk, line: Line, made: Adjustment, at: int) -> None:
        self._desk, self._line, self._made = desk, line, made
        self._move = made.moves[at]
        self._shown: Turning | None = None
        self._instruction: Instruction | None = None
        with box("sheet turning", "section"):
            Words(text("web.turn_now", number=at + 1, of=len(made.moves)), "mute")
            with box("figure"):
                Words(text("web.support", name=self._move.support), "value")
                Words(length(self._move.asked_um, sign=True), "value now")
            self._steps = box("stack")
            self._live = box("stack")
            self._buttons()
        background_tasks.create(self._prepare(), name="step")

    async def _prepare(self) -> None:
        """The plan may have to be worked out again after the server was ended."""
        try:
            correction = await self._desk.adjusting.plan_of(self._made)
        except WaywrightError as error:
            with self._steps:
                note(str(error), "bad")
            return
        step = self._instruction = _instruction(correction, self._move.support)
        if self._steps.is_deleted:
            return
        with self._steps:
            if step is not None:
                for each in step.steps:
                    Words(text(each.key, **each.facts), tag="p")
                Words(text("rounds.park", position_mm=step.clear_mm), "small mute", "p")
                if step.turn is not None:
                    markup(turn_ring(step.turn, text(step.steps[0].key, **step.steps[0].facts)), "ring asked")
        self._show_live()

    def look(self) -> None:
        """Show the live target where turning has begun, the press to begin where it has ended."""
        if self._shown is not self._desk.adjusting.turning:
            self._show_live()

    def _show_live(self) -> None:
        turning = self._shown = self._desk.adjusting.turning
        self._live.clear()
        mine = turning is not None and turning.support == self._move.support and turning.made.id == self._made.id
        with self._live:
            if not mine or turning is None:
                if self._practises:
                    Press(text("rounds.practice_drives"), self._drive, "quiet")
                Press(text("rounds.begin_support"), self._begin, "next")
                return
            if turning.why is not None:
                note(str(turning.why))
            elif turning.target is None:
                note(text("rounds.no_reading"))
            else:
                live_turn()
            if self._practises:
                Press(text("rounds.practice_turns"), self._practise, "quiet")

    @property
    def _practises(self) -> bool:
        return self._desk.session is not None and self._desk.session.workshop is not None

    async def _drive(self) -> None:
        """The invented operator parks where the reading answers."""
        session = self._desk.session
        if session is not None and session.workshop is not None and self._instruction is not None:
            await asyncio.to_thread(session.workshop.drive_to, self._instruction.clear_mm)
            await session.workshop.until_standing()

    async def _begin(self) -> None:
        await self._desk.adjusting.begin(self._made, self._move.support, self._line)
        self._show_live()

    def _buttons(self) -> None:
        problem = note("", "bad")
        problem.set_visibility(False)
        with box("row"):
            Press(text("web.done_next"), tried(lambda: self._done(None), problem), "next")
        with box("passes", "details"):
            Words(text("rounds.otherwise"), "small", "summary")
            with box("row"):
                turned = LengthField("rounds.done_um", None)
                remark = field(text("rounds.remark"))
            Press(text("rounds.keep_otherwise"), tried(lambda: self._done(turned.um, str(remark.value or "")), problem))
            Press(text("rounds.does_not_move"), tried(lambda: self._done(0.0, text("rounds.does_not_move")), problem))

    async def _done(self, done_um: float | None, remark: str | None = None) -> None:
        adjusting = self._desk.adjusting
        if adjusting.turning is None or adjusting.turning.support != self._move.support:
            await adjusting.begin(self._made, self._move.support, self._line)
        adjusting.done(done_um, remark or None)

    async def _practise(self) -> None:
        """The invented fitter turns little by little, as a hand does."""
        session = self._desk.session
        workshop = session.workshop if session else None
        if workshop is None:
            return
        for _ in range(PRACTICE_STEPS):
            if self._desk.adjusting.alarm is not None:
                return
            await asyncio.to_thread(workshop.turn, {self._move.support: self._move.asked_um / PRACTICE_STEPS})
            await asyncio.sleep(0.25)


def live_turn() -> None:
    """Places that the browser fills: reading of target, a bar, the turns to go and their ring."""
    with box("figure hero"):
        Words("–", "value")._props["data-live"] = "turn-value"
        with box("unit"):
            Words("", "", "span")._props["data-live"] = "turn-unit"
            Words(f" {text('rounds.of_target')} ", "", "span")
            Words("–", "", "span")._props["data-live"] = "turn-target"
    with box("bar") as bar:
        bar._props["data-turn-bar"] = "yes"
        box(tag="i")
    with box("row"):
        ring = box("ring")
        ring._props["data-turn-ring"] = "yes"
        Words("–", "to-go")._props["data-live"] = "turn-words"
    speak = Press(text("rounds.speak"), classes="quiet")
    speak._props["data-does"] = "speak"
    speak.props('data-speak="no" aria-pressed="false"')


def _instruction(correction: Correction, support: str) -> Instruction | None:
    return next((each for each in correction.sheet.instructions if each.support == support), None)
