"""Round by round: what was asked, what was read afterwards, what was a surprise, and what the bed is believed to be."""

from __future__ import annotations

from collections.abc import Sequence

from waywright.drawing import plain_number, signed
from waywright.jobs.evidence import sentences
from waywright.visit.adjustment import Adjustment, NamedCause
from waywright.web.desk import Desk
from waywright.web.elements import Words, box, markup, note
from waywright.web.saying import table_markup
from waywright.wording import text


def history_sheet(desk: Desk, rounds: Sequence[Adjustment]) -> None:
    """Every round of the visit, the last first; nothing where there was none."""
    if not rounds:
        return
    with box("sheet", "section"):
        Words(text("rounds.history"), tag="h2")
        heads = [text(f"rounds.column_{name}") for name in ("round", "before", "expected", "after", "supports")]
        markup(table_markup(heads, [(None, _cells(each)) for each in rounds], look="worded"), "scroll")
        for each in reversed(rounds):
            _told(each)


def _cells(made: Adjustment) -> list[str]:
    low, high = made.interval_um
    after = text("rounds.not_measured") if made.value_after_um is None else plain_number(made.value_after_um, 1)
    expected = f"{plain_number(made.expected_um, 1)} ({plain_number(low)}–{plain_number(high)})"
    supports = ", ".join(move.support for move in made.moves)
    return [str(made.number), plain_number(made.value_before_um, 1), expected, after, supports]


def _told(made: Adjustment) -> None:
    """Alarms, surprise with its causes, what was left and why."""
    for alarm in made.alarms:
        (sentence,) = sentences([alarm.statement])
        note(text("rounds.alarm_in", number=made.number, sentence=sentence), "bad")
    if made.surprise is not None:
        key = "rounds.surprise" if made.surprise else "rounds.as_believed"
        note(text(key, number=made.number), "bad" if made.surprise else "good")
        for cause in made.causes:
            Words(_cause(cause), "small", "p")
    if made.moves:
        with box("passes", "details"):
            Words(text("rounds.details", number=made.number), "small", "summary")
            for move in made.moves:
                done = text("rounds.not_told") if move.done_um is None else f"{signed(move.done_um, 0)} µm"
                facts = {"support": move.support, "asked": signed(move.asked_um, 0), "done": done}
                words = text("rounds.move", **facts) + (f" {move.note}" if move.note else "")
                Words(words, "small", "p")
            for said in made.confirmations:
                (sentence,) = sentences([said.statement])
                Words(f"{sentence} → {said.answer}", "small mute", "p")
            for left in made.not_corrected:
                for sentence in sentences([left.why]):
                    Words(sentence, "small mute", "p")


def _cause(cause: NamedCause) -> str:
    facts = {"support": cause.support, "other": cause.other or "", "probability": cause.probability}
    return text(f"correct.{cause.kind}", **facts)
