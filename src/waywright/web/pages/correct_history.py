"""Round by round: what was asked, what was read afterwards, what was a surprise, and what the bed is believed to be."""

from __future__ import annotations

from collections.abc import Sequence

from waywright.jobs.evidence import sentences
from waywright.visit.adjustment import Adjustment, BedBelief, NamedCause
from waywright.web.desk import Desk
from waywright.web.display import bare_length, length, length_as_shown
from waywright.web.elements import Words, box, markup, note
from waywright.web.pages.correct_belief import belief_words
from waywright.web.saying import table_markup
from waywright.wording import text

_COLUMNS = ("round", "before", "expected", "after", "supports")


def history_sheet(desk: Desk, rounds: Sequence[Adjustment]) -> None:
    """Every round of the visit, the last first; nothing where there was none."""
    if not rounds:
        return
    with box("sheet", "section"):
        Words(text("rounds.history"), tag="h2")
        unit = length_as_shown().word
        heads = [text(f"rounds.column_{name}", unit=unit) for name in _COLUMNS]
        markup(table_markup(heads, [(None, _cells(each)) for each in rounds], look="worded"), "scroll")
        for each in reversed(rounds):
            _told(desk, each)


def _cells(made: Adjustment) -> list[str]:
    low, high = made.interval_um
    after = text("rounds.not_measured") if made.value_after_um is None else bare_length(made.value_after_um)
    expected = f"{bare_length(made.expected_um)} ({bare_length(low, 0)}–{bare_length(high, 0)})"
    supports = ", ".join(move.support for move in made.moves)
    return [str(made.number), bare_length(made.value_before_um), expected, after, supports]


def _told(desk: Desk, made: Adjustment) -> None:
    """Alarms, surprise with its causes, what was learnt, what was left and why."""
    for alarm in made.alarms:
        (sentence,) = sentences([alarm.statement])
        note(text("rounds.alarm_in", number=made.number, sentence=sentence), "bad")
    if made.surprise is not None:
        key = "rounds.surprise" if made.surprise else "rounds.as_believed"
        note(text(key, number=made.number), "bad" if made.surprise else "good")
        for cause in made.causes:
            Words(_cause(cause), "small", "p")
    _learnt(desk, made)
    if made.moves:
        with box("passes", "details"):
            Words(text("rounds.details", number=made.number), "small", "summary")
            for move in made.moves:
                done = text("rounds.not_told") if move.done_um is None else length(move.done_um, sign=True)
                facts = {"support": move.support, "asked": length(move.asked_um, sign=True), "done": done}
                words = text("rounds.move", **facts) + (f" {move.note}" if move.note else "")
                Words(words, "small", "p")
            for said in made.confirmations:
                (sentence,) = sentences([said.statement])
                Words(f"{sentence} → {said.answer}", "small mute", "p")
            for left in made.not_corrected:
                for sentence in sentences([left.why]):
                    Words(sentence, "small mute", "p")


def _learnt(desk: Desk, made: Adjustment) -> None:
    if made.belief_id is None or made.belief_before_id is None:
        return
    with box("passes", "details"):
        Words(text("rounds.belief", number=made.number), "small", "summary")
        load = desk.archive.load
        for sentence in belief_words(load(BedBelief, made.belief_before_id), load(BedBelief, made.belief_id)):
            Words(sentence, "small", "p")


def _cause(cause: NamedCause) -> str:
    facts = {"support": cause.support, "other": cause.other or "", "probability": cause.probability}
    return text(f"correct.{cause.kind}", **facts)
