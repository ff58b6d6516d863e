"""Steadiness on a page: record at standstill near and far, the Allan curve, and what it advises."""

from __future__ import annotations

import asyncio

from waywright.drawing import VARIABLES
from waywright.drawing.allan import AllanCurve, AllanScene, allan
from waywright.errors import BadInput
from waywright.guard import Standstill, StandstillFigures, Steadiness
from waywright.jobs.evidence import sentences
from waywright.jobs.figures import Meaning
from waywright.jobs.trust import judge_steadiness, source_distance_m
from waywright.machine import Machine
from waywright.visit import Line
from waywright.web.desk import Desk
from waywright.web.elements import Bar, Press, Words, box, facts, markup, note, number, tried
from waywright.web.pages.listening import listened
from waywright.web.saying import heading_of
from waywright.wording import text

MINUTE_S = 60.0


class SteadinessSheet:
    """Record near, drive, record far."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        self._desk, self._machine, self._line = desk, machine, line
        self._setup = desk.archive.setups(line.id)[-1]
        self._records: dict[str, dict[str, Standstill]] = {}
        with box("sheet", "section"):
            Words(text("trust.steadiness_words"), "mute", "p")
            with box("row"):
                self._minutes = number(text("trust.minutes"), 5.0, least=0.5)
                self._tolerance = number(text("trust.tolerance"), 20.0, least=0.1)
                self._wished = number(text("trust.wished"), 0.5, least=0.05)
                self._pass = number(text("trust.pass_minutes"), 8.0, least=0.5)
                self._distance = number(text("trust.distance"), None, least=0.0)
            self._problem = note("", "bad")
            self._problem.set_visibility(False)
            for place in ("near", "far"):
                self._place(place)
        self._result = box("stack")

    def _place(self, place: str) -> None:
        with box("stack reading"):
            with box("row"):
                press = Press(text(f"trust.record_{place}"), None, "next" if place == "near" else "")
                session = self._desk.session
                workshop = session.workshop if session else None
                if workshop is not None:
                    at = 0.0 if place == "near" else workshop.scenario.travel_mm
                    Press(text(f"trust.drive_{place}"), lambda: workshop.drive_to(at), "quiet")
            bar, said = Bar(), Words("", "small")

        async def record() -> None:
            press.allow(False)
            try:
                self._records[place] = await self._record(bar)
            finally:
                press.allow(True)
            distance_m = next(iter(self._records[place].values())).distance_m
            said.set_text(text("trust.recorded", minutes=float(self._minutes.value or 0), distance=distance_m))
            if len(self._records) == 2:
                await self._judge()

        press.on("click", tried(record, self._problem), [])

    @property
    def _meanings(self) -> list[Meaning]:
        return [item for item in self._desk.state_of(self._line.id).meanings if item.code.is_straightness]

    async def _record(self, bar: Bar) -> dict[str, Standstill]:
        """Listen at the place where the carriage stands. Raises BadInput where it is not known how far that is."""
        session, meanings = self._desk.session, self._meanings
        position_mm = self._desk.state_of(self._line.id).position_mm
        if session is None or not meanings or position_mm is None:
            raise BadInput("trust.not_connected")
        distance_m = self._distance.value or source_distance_m(self._machine, self._setup, position_mm)
        if distance_m is None:
            raise BadInput("trust.distance_unknown")
        seconds = MINUTE_S * float(self._minutes.value or 0)
        began_s, ended_s = await listened(self._desk, meanings[0].channel, seconds, bar.fill)
        self._distance.value = None
        found = {}
        for item in meanings:
            spacing_s, value = session.recorder.recording(item.channel, began_s, ended_s)
            found[item.code.text] = Standstill(float(distance_m), spacing_s, item.factor * value)
        return found

    async def _judge(self) -> None:
        near, far = sorted(self._records.values(), key=lambda record: next(iter(record.values())).distance_m)
        wish = (float(self._tolerance.value or 0), float(self._wished.value or 0),
                MINUTE_S * float(self._pass.value or 0))  # fmt: skip
        archive, setup, clock = self._desk.archive, self._setup.id, self._desk.clock
        found, _ = await asyncio.to_thread(judge_steadiness, archive, setup, near, far, wish, clock)
        self._desk.touched()
        self._result.clear()
        with self._result:
            for meaning in self._meanings:
                self._show(meaning, found[meaning.code.text])

    def _show(self, meaning: Meaning, found: Steadiness) -> None:
        with box("sheet", "section"):
            for sentence in sentences([found.why]):
                note(sentence, "good" if found.advice.value == "use" else "bad")
            heading = text("trust.allan", quantity=heading_of(meaning.code, self._machine))
            curves = (_curve("near", found.near), _curve("far", found.far))
            scene = AllanScene(heading, curves, found.wished_um, found.shortest_averaging_s)
            markup(allan(scene, palette=VARIABLES, ident=f"allan-{meaning.code.text}"), "curve")
            facts([
                (text("trust.scatter"), text("trust.near_far", near=found.near.scatter_um, far=found.far.scatter_um)),
                (text("trust.drift"), text("trust.drift_near_far", near=found.near.drift_um_per_min,
                                           far=found.far.drift_um_per_min)),
                (text("trust.longest_pass"), text("trust.minutes_of", minutes=min(found.longest_pass_s / 60, 999.0))),
            ])  # fmt: skip


def _curve(place: str, found: StandstillFigures) -> AllanCurve:
    name = text(f"trust.at_{place}", distance=found.distance_m)
    times, values = found.allan.averaging_s, found.allan.deviation
    return AllanCurve(name, tuple(times.tolist()), tuple(values.tolist()), tuple(found.allan.upper.tolist()))
