"""Rounds of correction kept: planned, confirmed one by one, turned as the fitter told, measured again, learnt from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.correct import Belief, Cause, Learnt
from waywright.correct.answering import answer_causes
from waywright.correct.left_out import left_out
from waywright.correct.notes import Note
from waywright.correct.surprise import AS_ASKED, NOT_CARRYING
from waywright.errors import BadInput
from waywright.jobs.bed_seen import levelling_value_um
from waywright.jobs.beliefs import as_believed, belief_again, keep_belief
from waywright.jobs.confirming import confirmation, unconfirmed
from waywright.jobs.correct import Correction, learnt_between
from waywright.jobs.evidence import plain
from waywright.jobs.guard_gates import compared_states, keep_gate
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.visit import Line, Statement
from waywright.visit.adjustment import Adjustment, Alarm, BedBelief, MoveMade, NamedCause, NotCorrected

LEAST_AS_ASKED = 0.75
"""Below this probability of having answered as asked, a support is named with what else may have happened."""


@dataclass(frozen=True, slots=True)
class Answered:
    """The change of a parked reading (um) while one support was turned; ``doubt_um`` is that of the
    expectation, ``noise_um`` that of a reading (standard deviations).
    """

    station_mm: float
    expected_um: float
    read_um: float
    doubt_um: float
    noise_um: float = 1.0


def rounds_of(archive: Archive, visit: UUID) -> tuple[Adjustment, ...]:
    """The rounds of a visit, in the order planned."""
    return tuple(sorted(archive.every(Adjustment, visit), key=lambda each: (each.number, each.id)))


def round_named(archive: Archive, wanted: str | None) -> Adjustment:
    """The round whose id ends so; without a name the newest. Raises BadInput unless there is exactly one."""
    found = [each for visit in archive.visits() for each in rounds_of(archive, visit.id)]
    if wanted is None:
        found = sorted(found, key=lambda each: each.id)[-1:]
    else:
        found = [each for each in found if str(each.id).endswith(wanted.lower())]
    if len(found) != 1:
        raise BadInput("adjust.which_round", wanted=wanted or "-", found=len(found), archive=str(archive.path))
    return found[0]


def keep_plan(
    archive: Archive,
    before: MeasuredLine,
    correction: Correction,
    clock: Clock,
    by: UUID | None = None,
) -> Adjustment:
    """Keep a plan for a measured line as the next round of its visit."""
    plan, now = correction.plan, clock.utc()
    sheet = correction.sheet
    belief = keep_belief(archive, before.machine.id, plan.belief, clock)
    made = Adjustment(
        id=new_id(now),
        visit_id=before.visit.id,
        number=len(rounds_of(archive, before.visit.id)) + 1,
        before_line_id=before.line.id,
        goal_um=plan.goal_um,
        value_before_um=plan.value_now_um,
        expected_um=plan.value_um,
        interval_um=plan.interval_um,
        moves=tuple(MoveMade(each.support, each.move_um) for each in sheet.instructions),
        told=statements([*(step for each in sheet.instructions for step in each.steps), *sheet.warnings]),
        to_confirm=statements(sheet.confirm),
        not_corrected=tuple(NotCorrected(subject, *statements([why])) for subject, why in left_out(plan)),
        belief_before_id=belief.id,
        quantity=plan.measured.quantity,
        planned_utc=now,
        by=by,
    )
    archive.save(made, by=by)
    return made


def confirm(
    archive: Archive, made: Adjustment, key: str, answer: str, clock: Clock, by: UUID | None = None
) -> Adjustment:
    """Keep one confirmation of a round. Raises BadInput for one that was not asked, or an answer that says nothing."""
    said = confirmation(made, key, answer, clock.utc(), by)
    others = tuple(each for each in made.confirmations if each.statement.key != key)
    return _kept(archive, replace(made, confirmations=(*others, said)), by)


def turned(
    archive: Archive,
    made: Adjustment,
    support: str,
    done_um: float | None,
    clock: Clock,
    note: str | None = None,
    by: UUID | None = None,
    answer: Answered | None = None,
) -> Adjustment:
    """Keep what the fitter told of one support; ``done_um`` None is "as asked"; ``answer`` is what a reading did.

    A support that is not on the sheet is kept with nothing asked. Raises BadInput while something is not confirmed.
    """
    checked_confirmed(made)
    asked = next((move.asked_um for move in made.moves if move.support == support), 0.0)
    told = MoveMade(support, asked, asked if done_um is None else done_um, clock.utc(), note)
    if answer is not None:
        told = replace(
            told,
            station_mm=answer.station_mm,
            expected_um=answer.expected_um,
            read_um=answer.read_um,
            causes=_told_by(answer, support, asked),
        )
    known = [move.support for move in made.moves]
    moves = [told if move.support == support else move for move in made.moves]
    return _kept(archive, replace(made, moves=tuple(moves if support in known else [*moves, told])), by)


def alarmed(archive: Archive, made: Adjustment, alarms: Iterable[Alarm]) -> Adjustment:
    """Keep what the instruments showed while a support was being turned."""
    return _kept(archive, replace(made, alarms=(*made.alarms, *alarms)), None)


def checked_confirmed(made: Adjustment) -> None:
    """Raises BadInput naming how many confirmations a round still lacks."""
    lacking = unconfirmed(made)
    if lacking:
        raise BadInput("adjust.not_confirmed", lacking=len(lacking), number=made.number)


def measured_again(
    archive: Archive, made: Adjustment, after: MeasuredLine, clock: Clock, by: UUID | None = None
) -> tuple[Adjustment, Learnt]:
    """Learn from a line measured after a round, and keep with the round what was read and what it told.

    The belief learnt is kept with the machine, and with the line what speaks against comparing states that differ.
    Raises BadInput for a round that was planned without one.
    """
    if made.belief_before_id is None:
        raise BadInput("adjust.round_without_belief", number=made.number)
    before = measured_line(archive, archive.load(Line, made.before_line_id))
    planned_on = as_believed(archive.load(BedBelief, made.belief_before_id))
    states = compared_states(before, after)
    if states is not None and not states.open:
        keep_gate(archive, states, after.line.id, by)
    learnt = learnt_between(before, after, planned_on, _told_moves(made), hanging=not_answering(made))
    belief = keep_belief(archive, after.machine.id, learnt.belief, clock, made.id)
    ended = replace(
        made,
        after_line_id=after.line.id,
        value_after_um=levelling_value_um(after),
        surprise=learnt.surprise or bool(_odd(made)),
        causes=(*_odd(made), *_named(learnt.causes)),
        belief_id=belief.id,
        measured_utc=clock.utc(),
    )
    return _kept(archive, ended, by), learnt


def not_answering(made: Adjustment) -> tuple[str, ...]:
    """Supports whose turning was more probably not felt by the bed than felt."""
    return tuple(each.support for each in _odd(made) if each.kind == NOT_CARRYING and each.probability > 0.5)


def _odd(made: Adjustment) -> tuple[NamedCause, ...]:
    """What the parked reading told of supports that did not answer as they should."""
    out = []
    for move in made.moves:
        as_asked = sum(cause.probability for cause in move.causes if cause.kind == AS_ASKED)
        if move.causes and as_asked < LEAST_AS_ASKED:
            out.append(next(cause for cause in move.causes if cause.kind != AS_ASKED))
    return tuple(sorted(out, key=lambda cause: -cause.probability))


def _told_by(answer: Answered, support: str, asked_um: float) -> tuple[NamedCause, ...]:
    return _named(
        answer_causes(support, asked_um, answer.expected_um, answer.read_um, answer.noise_um, answer.doubt_um)
    )


def _named(found: Iterable[Cause]) -> tuple[NamedCause, ...]:
    return tuple(NamedCause(each.kind, each.support, each.probability, each.other) for each in found)


def belief_for(archive: Archive, line: MeasuredLine, now: datetime) -> tuple[Belief | None, tuple[Note, ...]]:
    """What to plan this line on: what the round before it told, or with caution what an earlier visit left."""
    last = [each for each in rounds_of(archive, line.visit.id) if each.after_line_id == line.line.id]
    if last and last[-1].belief_id is not None:
        return as_believed(archive.load(BedBelief, last[-1].belief_id)), ()
    return belief_again(archive, line.machine, now)


def with_cautions(found: Correction, cautions: tuple[Note, ...]) -> Correction:
    """A correction whose sheet says first with what caution its belief is used."""
    sheet = replace(found.sheet, warnings=(*cautions, *found.sheet.warnings))
    return replace(found, sheet=sheet, cautions=cautions)


def statements(notes: Iterable[Note]) -> tuple[Statement, ...]:
    """Notes as they are kept."""
    return tuple(Statement(each.key, plain(dict(each.facts))) for each in notes)


def _told_moves(made: Adjustment) -> dict[str, float]:
    """What was turned, as told; as asked where nothing was told."""
    return {move.support: move.asked_um if move.done_um is None else move.done_um for move in made.moves}


def _kept(archive: Archive, made: Adjustment, by: UUID | None) -> Adjustment:
    archive.save(made, by=by)
    return made
