"""Practise the whole job: as found, plan, the fitter turns, measured again, learnt from, as left.

The fitter of the invented workshop does what the sheet asks, as well as a fitter can; everything else is what happens
on the floor. The workshop tells the truth only for the last lines.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from waywright.archive import Archive, open_archive
from waywright.clocks import Clock, ScaledClock, SystemClock, new_id
from waywright.correct import Belief, Instruction
from waywright.drawing import PRINT, CurveScene, Series, curve
from waywright.evaluate import straightness
from waywright.jobs.adjusting import Parked
from waywright.jobs.bed_seen import levelling_value_um
from waywright.jobs.begin import Begun
from waywright.jobs.correct import Correction, CorrectionOrder, correction_of_line
from waywright.jobs.evidence import person_named
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.measured import MeasuredLine, joined, measured_line, positive_on_screen, results_of_line
from waywright.jobs.practise import (
    ARCHIVE_NAME,
    Observe,
    TruthComparison,
    begin_in,
    compared_with_truth,
    drive_and_take,
)
from waywright.jobs.prove import written_report
from waywright.jobs.report_order import ReportOrder
from waywright.jobs.rounds import Answered, confirm, keep_plan, measured_again, turned
from waywright.quantities import Direction, code, plain_name
from waywright.simulation import Workshop
from waywright.visit import Pass
from waywright.visit.adjustment import Adjustment, NamedCause
from waywright.wording import text

GOAL_UM = 12.0
MOST_ROUNDS = 3
READ_S = 4.0
"""How long the parked reading is averaged before and after a support is turned."""

FITTER = "Tam Orrel (invented)"
ANSWERS = {
    "correct.confirm_axis_locked": "feed clutch out, main switch off, padlock 14",
    "correct.confirm_vertical_supported": "no vertical axis, no roll between the centres",
    "correct.confirm_cribbed": "oak cribbing under both ends",
    "correct.confirm_makers_limit": "200",
}
"""What the invented fitter says when he is asked about safety, one thing after the other."""


@dataclass(frozen=True, slots=True)
class RoundDone:
    """One round of turning. ``moves_um`` is what was asked of each support that was touched, raising positive.

    ``value_before_um``, ``expected_um`` with its 95 % ``interval_um``, and ``value_um`` read afterwards are the worse
    of height and roll times gauge. ``causes`` name a surprise, likeliest first.
    """

    number: int
    moves_um: dict[str, float]
    value_before_um: float
    expected_um: float
    interval_um: tuple[float, float]
    value_um: float
    surprise: bool
    causes: tuple[NamedCause, ...]


@dataclass(frozen=True, slots=True)
class WholeOutcome:
    """The end of the whole job. ``reached`` says whether the line as left keeps the goal."""

    files: tuple[Path, ...]
    archive: Path
    goal_um: float
    reached: bool
    as_found: tuple[StraightnessResult, ...]
    rounds: tuple[RoundDone, ...]
    as_left: tuple[StraightnessResult, ...]
    truth: tuple[TruthComparison, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Whom the job tells how far it is: a pass is armed, a plan is made, a round is done."""

    observe: Observe
    armed: Callable[[Pass], None] | None = None
    planned: Callable[[int, Correction], None] | None = None
    done: Callable[[RoundDone], None] | None = None


async def run_whole_job(
    folder: Path,
    factor: float,
    told: Told,
    *,
    scenario: str | Path = "calm-hall",
    goal_um: float = GOAL_UM,
    most_rounds: int = MOST_ROUNDS,
    reference: str = "least-squares",
) -> WholeOutcome:
    """Measure the invented lathe, correct it round by round until ``goal_um`` or ``most_rounds``, measure it as left.

    Writes one report of the lines as found and as left with the rounds between them, a before-and-after drawing and
    the workshop's files into ``folder``.
    """
    clock: Clock = SystemClock() if factor == 1.0 else ScaledClock(factor)
    archive_file = folder / ARCHIVE_NAME
    async with Workshop.start(scenario, factor, folder) as workshop:
        with open_archive(archive_file, create=True, clock=clock) as archive:
            floor = _Floor(archive, workshop, clock, told, goal_um)
            found = await floor.as_found()
            rounds = await floor.rounds(found, most_rounds)
            left = await floor.measure(floor.next_line(), "whole")
        truth = compared_with_truth(left, reference, workshop)
    both, order = [str(line.line.id) for line in (found, left)], ReportOrder(reference=reference)
    written = written_report(both, folder, order, archive_file)
    picture = _before_and_after(found, left, reference, folder)
    return WholeOutcome(
        files=(*written.files, picture, *workshop.descriptions.values()),
        archive=archive_file,
        goal_um=goal_um,
        reached=levelling_value_um(left) <= goal_um,
        as_found=results_of_line(found, reference, None),
        rounds=rounds,
        as_left=results_of_line(left, reference, None),
        truth=truth,
    )


class _Floor:
    """Archive, workshop and clock of one job, and the line that is measured now."""

    def __init__(self, archive: Archive, workshop: Workshop, clock: Clock, told: Told, goal_um: float) -> None:
        self._archive, self._workshop, self._clock, self._told = archive, workshop, clock, told
        self._order = CorrectionOrder(goal_um=goal_um)
        self._begun = begin_in(workshop, archive, clock)
        self._fitter = person_named(archive, FITTER, clock.utc())

    async def as_found(self) -> MeasuredLine:
        """The line before anything is turned."""
        return await self.measure(self._begun, "whole")

    async def measure(self, begun: Begun, programme: str) -> MeasuredLine:
        """Take the passes of a programme, and wait until the operator is home."""
        told = self._told
        await drive_and_take(self._archive, begun, self._workshop, self._clock, told.observe, told.armed, programme)
        await self._workshop.until_finished()
        return measured_line(self._archive, begun.line)

    def next_line(self, words: str | None = None) -> Begun:
        """The same line once more, from the same set-up, in its state after turning."""
        begun = self._begun
        name = begun.line.name if words is None else f"{begun.line.name}, {words}"
        line = replace(begun.line, id=new_id(self._clock.utc()), name=name, state="as-left")
        setup = replace(begun.setup, id=new_id(self._clock.utc()), line_id=line.id)
        meaning = replace(begun.interpretation, id=new_id(self._clock.utc()), setup_id=setup.id)
        for record in (line, setup, meaning):
            self._archive.save(record, by=begun.visit.technician_id)
        return replace(begun, line=line, setup=setup, interpretation=meaning)

    async def rounds(self, found: MeasuredLine, most: int) -> tuple[RoundDone, ...]:
        """Plan, turn, measure and learn until the goal is kept or nothing better is known."""
        done: list[RoundDone] = []
        measured = found
        correction = self._plan(1, found, None)
        while (
            len(done) < most and correction.plan.value_now_um > self._order.goal_um and correction.plan.moves_um.any()
        ):
            number = len(done) + 1
            kept = await self._turned(measured, correction)
            measured = await self.measure(self.next_line(text("simulation.round", number=number)), "brief")
            ended, learnt = measured_again(self._archive, kept, measured, self._clock, self._begun.visit.technician_id)
            following = self._plan(number + 1, measured, learnt.belief)
            plan = correction.plan
            done.append(
                RoundDone(
                    number,
                    _moves(correction),
                    plan.value_now_um,
                    plan.value_um,
                    plan.interval_um,
                    following.plan.value_now_um,
                    bool(ended.surprise),
                    ended.causes,
                )
            )
            if self._told.done:
                self._told.done(done[-1])
            correction = following
        return tuple(done)

    def _plan(self, number: int, measured: MeasuredLine, belief: Belief | None) -> Correction:
        correction = correction_of_line(measured, self._order, belief)
        if self._told.planned and correction.plan.value_now_um > self._order.goal_um:
            self._told.planned(number, correction)
        return correction

    async def _turned(self, measured: MeasuredLine, correction: Correction) -> Adjustment:
        """The fitter confirms, works the sheet from top to bottom and tells; then the bed is left alone."""
        archive, clock, fitter = self._archive, self._clock, self._fitter
        kept = keep_plan(archive, measured, correction, clock, self._begun.visit.technician_id)
        for asked in kept.to_confirm:
            kept = confirm(archive, kept, asked.key, ANSWERS[asked.key], clock, fitter)
        async with Parked(self._begun, clock) as parked:
            for each in correction.sheet.instructions:
                answer = await self._turn_one(parked, each)
                kept = turned(archive, kept, each.support, None, clock, by=fitter, answer=answer)
        await self._leave_alone(correction.sheet.wait_min * 60.0)
        return kept

    async def _turn_one(self, parked: Parked, each: Instruction) -> Answered:
        """The detector is parked where the reading answers most; the reading before and after is kept."""
        await asyncio.to_thread(self._workshop.drive_to, each.clear_mm)
        await self._workshop.until_standing(every_s=0.05)
        before_um = await parked.height_um(READ_S)
        await asyncio.to_thread(self._workshop.turn, {each.support: each.move_um})
        await self._clock.sleep(READ_S)
        after_um = await parked.height_um(READ_S)
        return Answered(each.clear_mm, each.clear_um, after_um - before_um, each.doubt_um)

    async def _leave_alone(self, duration_s: float) -> None:
        """In practice the wait on the sheet passes at once; in real time it is sat through."""
        if isinstance(self._clock, ScaledClock):
            self._workshop.leave(duration_s)
            self._clock.pass_by(duration_s)
        else:
            await self._clock.sleep(duration_s)


def _moves(correction: Correction) -> dict[str, float]:
    return {each.support: each.move_um for each in correction.sheet.instructions}


def _before_and_after(found: MeasuredLine, left: MeasuredLine, reference: str, folder: Path) -> Path:
    """Both curves of the height over one another, each about its own line."""
    name = next(each for each in found.codes() if positive_on_screen(found, each) == Direction.UP)
    word = plain_name(code(name), found.machine.axes)
    zero = found.passes[-1].setup.zero
    scene = CurveScene(
        (
            _series(text("report.state.as-found"), found, name, reference, mean=False),
            _series(text("report.state.as-left"), left, name, reference, mean=True),
        ),
        text(word.key, **word.facts),
        name,
        text(f"quantities.{Direction.UP.value}"),
        "µm",
        text(f"drawing.about.{reference}"),
        grows_left=zero is not None and zero.sense < 0,
    )
    path = folder / "as-found-as-left.svg"
    path.write_text(curve(scene, palette=PRINT), encoding="utf-8", newline="\n")
    return path


def _series(words: str, measured: MeasuredLine, name: str, reference: str, *, mean: bool) -> Series:
    line = joined(measured, name)
    deviation = straightness(line.position_mm, line.mean, reference).deviation_um
    return Series(words, tuple(line.position_mm.tolist()), tuple(deviation.tolist()), mean)
