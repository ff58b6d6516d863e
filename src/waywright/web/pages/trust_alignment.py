"""Alignment on a page: read near the source and far from it, and see how the beam lies and what the source must do."""

from __future__ import annotations

from waywright.drawing import VARIABLES, plain_number
from waywright.drawing.beam import BeamScene, beam
from waywright.errors import BadInput
from waywright.guard import Adjuster, Alignment
from waywright.jobs.evidence import sentences
from waywright.jobs.figures import Meaning
from waywright.jobs.trust import Stand, judge_alignment, range_um, source_distance_m
from waywright.machine import Machine
from waywright.quantities import Direction
from waywright.visit import Line
from waywright.web.desk import Desk
from waywright.web.elements import Bar, Press, Words, box, markup, note, number, tried
from waywright.web.pages.listening import averages
from waywright.web.saying import direction_word, heading_of
from waywright.wording import text

SETTLE_S, LISTEN_S = 2.0, 4.0
_UPRIGHT = (Direction.UP, Direction.DOWN)


class AlignmentSheet:
    """Two or more places; the drawn beam of height and side."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        self._desk, self._machine, self._line = desk, machine, line
        self._setup = desk.archive.setups(line.id)[-1]
        self._stands: list[Stand] = []
        with box("sheet", "section"):
            Words(text("trust.alignment_words"), "mute", "p")
            with box("row"):
                self._tolerance = number(text("trust.tolerance"), 20.0, least=0.1)
                self._shift_turn = number(text("trust.shift_per_turn"), None, least=0.0)
                self._tilt_turn = number(text("trust.tilt_per_turn"), None, least=0.0)
            self._distance = number(text("trust.distance"), None, least=0.0)
            with box("row"):
                self._drive_in_practice()
            self._press = Press(text("trust.read_here"), None, "next")
            self._bar = Bar()
            self._problem = note("", "bad")
            self._problem.set_visibility(False)
            self._press.on("click", tried(self._read, self._problem), [])
            with box("list", "ul") as self._list:
                pass
            Press(text("trust.begin_anew"), self._anew, "quiet")
        self._result = box("stack")

    def _drive_in_practice(self) -> None:
        session = self._desk.session
        workshop = session.workshop if session else None
        if workshop is not None:
            for name, at in (("near", 0.0), ("far", workshop.scenario.travel_mm)):
                Press(text(f"trust.drive_{name}"), lambda at=at: workshop.drive_to(at), "quiet")

    @property
    def _meanings(self) -> list[Meaning]:
        """Height and side as the screen shows them."""
        return [item for item in self._desk.state_of(self._line.id).meanings if item.code.is_straightness]

    async def _read(self) -> None:
        """Average where the carriage stands now."""
        meanings, position_mm = self._meanings, self._desk.state_of(self._line.id).position_mm
        if not meanings or position_mm is None:
            raise BadInput("trust.not_connected")
        distance_m = self._distance.value or source_distance_m(self._machine, self._setup, position_mm)
        if distance_m is None:
            raise BadInput("trust.distance_unknown")
        self._press.allow(False)
        try:
            heard = await averages(
                self._desk, [item.channel for item in meanings], LISTEN_S, self._bar.fill, settle_s=SETTLE_S
            )
        finally:
            self._press.allow(True)
        values = {item.code.text: item.factor * heard[item.channel].mean for item in meanings}
        errors = {item.code.text: abs(item.factor) * heard[item.channel].error for item in meanings}
        self._stands.append(Stand(float(distance_m), values, errors))
        self._distance.value = None
        with self._list:
            figures = " · ".join(f"{name} {plain_number(value, 1)} µm" for name, value in values.items())
            Words(text("trust.stand", distance=float(distance_m), figures=figures), tag="li")
        if len({round(stand.distance_m, 2) for stand in self._stands}) > 1:
            self._judge()

    def _judge(self) -> None:
        session = self._desk.session
        if session is None:
            raise BadInput("trust.not_connected")
        meanings = self._meanings
        ranges = {item.code.text: range_um(session.begun.instruments, item.channel) for item in meanings}
        screws = Adjuster(self._shift_turn.value or None, self._tilt_turn.value or None)
        found, _ = judge_alignment(
            self._desk.archive, self._setup.id, self._stands, ranges, float(self._tolerance.value or 0),
            self._desk.clock, screws,
        )  # fmt: skip
        self._desk.touched()
        self._result.clear()
        with self._result:
            for meaning in meanings:
                self._show(meaning, found[meaning.code.text])

    def _show(self, meaning: Meaning, found: Alignment) -> None:
        upright = meaning.on_screen in _UPRIGHT
        name = heading_of(meaning.code, self._machine)
        with box("sheet", "section"):
            scene = BeamScene(
                text("trust.beam_from_the_side" if upright else "trust.beam_from_above", quantity=name),
                direction_word(meaning.on_screen),
                tuple(stand.distance_m for stand in self._stands),
                tuple(stand.value_um[meaning.code.text] for stand in self._stands),
                found.shift_um,
                found.tilt_um_per_m,
            )
            markup(beam(scene, palette=VARIABLES, ident=f"beam-{meaning.code.text}"), "curve")
            for words in _to_do(found, upright):
                Words(words, tag="p")
            for sentence in sentences([found.why]):
                note(sentence, "good" if found.ready.value == "good-enough" else "bad")

    def _anew(self) -> None:
        self._stands.clear()
        self._list.clear()
        self._result.clear()


def _to_do(found: Alignment, upright: bool) -> list[str]:
    """What the source must do, in physical directions; turns where a screw's travel is known."""
    ways = ("up", "down") if upright else ("towards-operator", "away-from-operator")
    said = []
    for what, amount, turns in (
        ("shift", found.shift_um, found.shift_turns),
        ("tilt", found.tilt_um_per_m, found.tilt_turns),
    ):
        way = text(f"quantities.{ways[0] if amount >= 0 else ways[1]}")
        words = text(f"trust.{what}", amount=abs(amount), direction=way)
        if turns is not None:
            words += " " + text(f"trust.turns_{'clockwise' if turns >= 0 else 'anticlockwise'}", turns=abs(turns))
        said.append(words)
    said.append(text("trust.remains", predicted=found.predicted_um))
    return said
