"""The direction test on a page: move the detector by a known amount, upwards and sideways."""

from __future__ import annotations

from dataclasses import dataclass, replace

from waywright.errors import BadInput, WaywrightError
from waywright.guard import DirectionTest, KnownMove, Seen
from waywright.jobs.evidence import sentences
from waywright.jobs.recorder import Average
from waywright.jobs.trust import beam_channels, count_as_proved, judge_direction
from waywright.machine import Machine
from waywright.quantities import Direction, code
from waywright.visit import ChannelMeaning, Line
from waywright.web.desk import Desk
from waywright.web.display import deviation, unit_for
from waywright.web.elements import Bar, Press, Words, box, note, number, tried
from waywright.web.pages.listening import averages
from waywright.web.saying import direction_word, heading_of
from waywright.wording import text

SETTLE_S, LISTEN_S = 2.0, 4.0
_MOVES = (("up", Direction.UP, 100.0, 3.0), ("side", Direction.TOWARDS, 100.0, 3.0))


@dataclass(frozen=True, slots=True)
class _Known:
    """One move as far as it is known: averages before and after it."""

    before: dict[str, Average] | None = None
    after: dict[str, Average] | None = None


class DirectionSheet:
    """Two moves, each averaged before and after, then what they prove."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        self._desk, self._machine, self._line = desk, machine, line
        self._setup = desk.archive.setups(line.id)[-1]
        meaning = desk.archive.interpretation(self._setup.id)
        self._channels = beam_channels(meaning) if meaning else ()
        self._known = dict.fromkeys(("up", "side"), _Known())
        if len(self._channels) < 2:
            note(text("trust.no_beam"))
            return
        with box("sheet", "section"):
            Words(text("trust.direction_words"), "mute", "p")
            self._moves = {name: _Move(self, name, way, size, off) for name, way, size, off in _MOVES}
            self._problem = note("", "bad")
            self._problem.set_visibility(False)
            with box("row"):
                Press(text("trust.judge"), tried(self._judge, self._problem), "next")
        self._result = box("stack")

    @property
    def channels(self) -> tuple[ChannelMeaning, ...]:
        """Height first, then side."""
        return self._channels

    @property
    def machine(self) -> Machine:
        """Whose words are spoken."""
        return self._machine

    async def average(self, name: str, moment: str, bar: Bar) -> dict[str, Average]:
        """Listen now, and keep it as what was before or after a move."""
        names = [item.channel for item in self._channels]
        heard = await averages(self._desk, names, LISTEN_S, bar.fill, settle_s=SETTLE_S)
        self._known[name] = replace(self._known[name], **{moment: heard})
        return heard

    def shim(self, direction: Direction, size_um: float) -> None:
        """In practice: somebody moves the detector as on the floor."""
        session = self._desk.session
        if session is not None and session.workshop is not None:
            up = size_um if direction is Direction.UP else 0.0
            session.workshop.shift_detector(up, size_um - up if direction is Direction.TOWARDS else 0.0)

    @property
    def practises(self) -> bool:
        """Whether there is nobody on the floor who could move anything."""
        session = self._desk.session
        return session is not None and session.workshop is not None

    def _judge(self) -> None:
        moves = [self._moves[name].known(known) for name, known in self._known.items()]
        made = [move for move in moves if move is not None]
        if not made:
            raise BadInput("trust.no_move_yet")
        ways = (self._channels[0].positive, self._channels[1].positive)
        found, _ = judge_direction(self._desk.archive, self._setup.id, made, ways, self._desk.clock)
        self._desk.touched()
        self._result.clear()
        with self._result:
            self._show(found)

    def _show(self, found: DirectionTest) -> None:
        with box("sheet", "section"):
            Words(text(f"trust.direction_{found.outcome.value}"), tag="h2")
            for sentence in sentences(found.why):
                note(sentence, "good" if found.outcome.value == "passed" else "bad")
            for scale in found.scales:
                facts = {"direction": direction_word(scale.direction), "percent": 100 * scale.value,
                         "error": 200 * scale.standard_uncertainty}  # fmt: skip
                Words(text("trust.scale", **facts), tag="p")
            if found.roll_deg is not None:
                Words(text("trust.roll", roll=found.roll_deg, error=2 * (found.roll_uncertainty_deg or 0)), tag="p")
            if found.channels is not None and found.channels != found.described:
                problem = note("", "bad")
                problem.set_visibility(False)
                Press(text("trust.count_as_proved"), tried(lambda: self._count(found), problem), "next")

    def _count(self, found: DirectionTest) -> None:
        names = (self._channels[0].channel, self._channels[1].channel)
        reason = text("trust.reason_direction")
        count_as_proved(self._desk.archive_path, str(self._line.id), names, found, reason)
        self._desk.meanings_changed(self._line)
        self._desk.touched("phase")


class _Move:
    """The form of one move."""

    def __init__(self, sheet: DirectionSheet, name: str, direction: Direction, size: float, off: float) -> None:
        self._sheet, self._name, self._direction = sheet, name, direction
        with box("stack reading"):
            Words(text(f"trust.move_{name}"), tag="h3")
            with box("row"):
                self._size = number(text("trust.size"), size, least=1.0)
                self._off = number(text("trust.size_off"), off, least=0.0)
            with box("row"):
                for moment in ("before", "after"):
                    self._press(moment)

    def _press(self, moment: str) -> None:
        with box("stack grow"):
            press = Press(text(f"trust.average_{moment}_{self._name}"))
            bar, said = Bar(), Words("", "small")

        async def listen() -> None:
            press.allow(False)
            try:
                if self._sheet.practises:
                    self._sheet.shim(self._direction, float(self._size.value or 0) if moment == "after" else 0.0)
                heard = await self._sheet.average(self._name, moment, bar)
                said.set_text(self._in_words(heard))
                if self._sheet.practises and moment == "after":
                    self._sheet.shim(self._direction, 0.0)
            except WaywrightError as error:
                said.set_text(str(error))
            finally:
                press.allow(True)

        press.on("click", listen, [])

    def _in_words(self, heard: dict[str, Average]) -> str:
        said = []
        for meaning in self._sheet.channels:
            quantity, average = code(meaning.code), heard[meaning.channel]
            figure = f"{deviation(quantity, average.mean)} {unit_for(quantity).word}"
            said.append(f"{heading_of(quantity, self._sheet.machine)} {figure}")
        return " · ".join(said)

    def known(self, known: _Known) -> KnownMove | None:
        """The move, once it was averaged before and after. Raises BadInput for a size that is none."""
        if known.before is None or known.after is None:
            return None
        before, after = (self._seen(heard) for heard in (known.before, known.after))
        size_um, off_um = float(self._size.value or 0), float(self._off.value or 0)
        return KnownMove(self._direction, size_um, off_um, before, after)

    def _seen(self, heard: dict[str, Average]) -> Seen:
        first, second = (heard[item.channel] for item in self._sheet.channels)
        return Seen(first.mean, second.mean, max(first.error, second.error))
