"""Rounds of correction kept: confirmed one by one, turned as told, measured again, learnt from, and used later."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from made_rounds import ANSWERS, CALM, Shop, shop

from waywright.archive import Archive, open_archive
from waywright.correct import bed_model
from waywright.correct.reuse import reused
from waywright.errors import BadInput
from waywright.jobs.beliefs import as_believed, last_belief
from waywright.jobs.confirming import unconfirmed
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.rounds import belief_for, confirm, measured_again, rounds_of, turned
from waywright.visit.adjustment import Adjustment, BedBelief


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Archive]:
    with open_archive(tmp_path_factory.mktemp("rounds") / "a.sqlite", create=True) as opened:
        yield opened


@pytest.fixture(scope="module")
def place(archive: Archive) -> Shop:
    return shop(archive)


@pytest.fixture(scope="module")
def found(place: Shop) -> MeasuredLine:
    return place.measure("as found")


@pytest.fixture(scope="module")
def planned(place: Shop, found: MeasuredLine) -> Adjustment:
    return place.plan(found)[1]


@pytest.fixture(scope="module")
def done(place: Shop, found: MeasuredLine, planned: Adjustment) -> Adjustment:
    return place.turn_all(place.confirm_all(planned))


@pytest.fixture(scope="module")
def after(place: Shop, done: Adjustment) -> MeasuredLine:
    return place.measure("after")


@pytest.fixture(scope="module")
def ended(archive: Archive, place: Shop, done: Adjustment, after: MeasuredLine) -> Adjustment:
    return measured_again(archive, done, after, place.clock)[0]


def test_nothing_is_turned_before_each_confirmation_has_an_answer_of_its_own(
    archive: Archive, place: Shop, planned: Adjustment
) -> None:
    axis, vertical, limit = (each.key for each in planned.to_confirm)
    with pytest.raises(BadInput) as refused:
        turned(archive, planned, planned.moves[0].support, None, place.clock)
    assert refused.value.facts["lacking"] == 3
    for empty in ("", "y", "ok", "yes", "Done"):
        with pytest.raises(BadInput):
            confirm(archive, planned, axis, empty, place.clock)
    once = confirm(archive, planned, axis, ANSWERS[axis], place.clock)
    with pytest.raises(BadInput) as again:
        confirm(archive, once, vertical, ANSWERS[axis].upper(), place.clock)
    assert again.value.key == "adjust.confirm_said_before"
    for wrong in ("yes", "20", "0.01 mm"):
        with pytest.raises(BadInput):
            confirm(archive, once, limit, wrong, place.clock)
    assert [each.key for each in unconfirmed(once)] == [vertical, limit]
    # the kept round carries who said what, and a later attempt starts where this one stopped
    assert place.loaded(planned.id).confirmations[0].answer == ANSWERS[axis]


def test_a_round_keeps_what_was_told_done_and_read(
    archive: Archive, planned: Adjustment, ended: Adjustment, after: MeasuredLine
) -> None:
    [kept] = rounds_of(archive, planned.visit_id)
    assert kept == ended
    assert kept.after_line_id == after.line.id
    assert {move.support: move.done_um for move in kept.moves} == {m.support: m.asked_um for m in kept.moves}
    assert len({each.answer for each in kept.confirmations}) == len(kept.to_confirm) == 3
    assert kept.value_after_um is not None
    assert kept.value_after_um < 0.5 * kept.value_before_um
    assert kept.interval_um[0] < kept.value_after_um < kept.interval_um[1]
    assert {each.subject for each in kept.not_corrected} >= {"1", "8", "short form"}
    assert all(each.why.key.startswith(("adjust.", "correct.")) for each in kept.not_corrected)


def test_what_was_learnt_is_surer_holds_the_true_stiffness_and_is_kept_with_the_machine(
    archive: Archive, ended: Adjustment
) -> None:
    assert ended.belief_before_id is not None
    before = as_believed(archive.load(BedBelief, ended.belief_before_id))
    kept = last_belief(archive, CALM.machine.id)
    assert kept is not None
    assert kept.id == ended.belief_id
    after = as_believed(kept)
    truth = CALM.truth.bed
    assert truth is not None
    off = abs(np.log(after.stiffness.bending_n_m2 / truth.bending_n_m2))
    assert off < 3.0 * np.sqrt(after.covariance[0][0])
    assert after.covariance[0][0] < 0.7 * before.covariance[0][0]


def test_the_next_round_rests_on_it_as_it_is_and_a_later_visit_with_caution(
    archive: Archive, place: Shop, ended: Adjustment, after: MeasuredLine
) -> None:
    belief, cautions = belief_for(archive, after, place.clock.utc())
    kept = last_belief(archive, CALM.machine.id)
    assert kept is not None
    later, said = belief_for(archive, place.measure("a year later"), place.clock.utc() + timedelta(days=365))
    assert later is not None
    assert [each.key for each in said] == ["adjust.belief_reused"]
    assert said[0].facts["age_days"] == pytest.approx(365.0, abs=0.1)
    learnt = as_believed(kept)
    assert not later.placed
    assert later.covariance[0][0] > learnt.covariance[0][0]
    # typed lines are visits of their own: the round's visit is the first line's
    assert belief is not None
    assert cautions == said[:0] or cautions[0].key == "adjust.belief_reused"


def test_a_belief_about_other_supports_is_not_used() -> None:
    assert CALM.machine.bed is not None
    model = bed_model(CALM.machine.bed)
    from dataclasses import replace

    from waywright.correct.belief import prior

    other = replace(prior(model), supports=tuple(f"x{n}" for n in range(14)))
    belief, said = reused(other, model, 10.0)
    assert belief is None
    assert said.key == "adjust.belief_not_reused"


def test_a_support_that_hangs_is_named_when_the_parked_reading_does_not_answer(tmp_path: Path) -> None:
    """Support 10 of the workshop hangs 0.1 mm; raised by half of that under a parked detector nothing happens."""
    with open_archive(tmp_path / "b.sqlite", create=True) as opened:
        place = shop(opened)
        correction, made = place.plan(place.measure("as found"))
        made = place.turn_watched(correction, place.confirm_all(made))
        named = {move.support: move.causes for move in made.moves if move.causes}
        assert place.bed.force_n()["10"] == 0.0
        hangs = sum(cause.probability for cause in named["10"] if cause.kind == "not-carrying")
        assert hangs > 0.2
        assert all(cause.kind != "not-carrying" or cause.probability < 0.1 for cause in named["3"])
