"""The bow challenge: nobody turns a support for the weather without saying why."""

from __future__ import annotations

from collections.abc import Callable

from waywright.guard import Belief, BowChallenge
from waywright.jobs.evidence import go_on_anyway
from waywright.jobs.line_bow import challenged, keep_challenge
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.screening import tolerance_um
from waywright.web.desk import Desk
from waywright.web.display import bare_length, length_as_shown
from waywright.web.elements import Words, asking, box, markup, note, tried
from waywright.web.saying import table_markup
from waywright.wording import text

_USUAL_UM = 20.0


def bow_gate(desk: Desk, measured: MeasuredLine) -> tuple[bool, Callable[[], None]]:
    """Whether the bow must be answered for first, and what shows it."""
    allowed_um = tolerance_um(desk.archive, measured.line) or _USUAL_UM
    found = challenged(measured, allowed_um) if measured.passes else None
    answered = any(
        item.test == "bow" and not item.stands_in_the_way for item in desk.archive.evidence(measured.line.id)
    )
    closed = found is not None and found.belief is not Belief.BELIEVE and not answered
    return closed, lambda: _show(desk, measured, found, allowed_um)


def _show(desk: Desk, measured: MeasuredLine, found: BowChallenge | None, allowed_um: float) -> None:
    if found is None:
        return
    with box("sheet", "section"):
        Words(text("rounds.bow_title"), tag="h2")
        Words(text("rounds.bow_words", bow_um=found.bow_um, length_m=found.length_m), "mute", "p")
        note(text(found.why.key, **found.why.facts), "bad")
        unit = length_as_shown().word
        heads = [text(f"rounds.bow_{name}", unit=unit) for name in ("cause", "makes", "doubt", "known")]
        rows = [
            (None, [text(f"guard.cause_{one.cause.value}"), bare_length(one.bow_um, sign=True),
                    bare_length(2.0 * one.standard_uncertainty_um),
                    text("rounds.measured" if one.measured else "rounds.assumed")])
            for one in found.imitations
        ]  # fmt: skip
        markup(table_markup(heads, rows, look="worded"), "scroll")

        def anyway(reason: str) -> None:
            kept = keep_challenge(desk.archive, measured, found, allowed_um, desk.clock)
            go_on_anyway(desk.archive, kept.id, reason, None, desk.clock)
            desk.touched()

        asking(text("rounds.bow_why"), text("rounds.bow_anyway"), tried(anyway))
