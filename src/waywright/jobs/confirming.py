"""Confirmations of safety before a round: each needs an answer of its own, so that one tap cannot wave them through.

None of them is about measuring. A confirmation is answered by what was done ("main switch off, padlock 14"), the
maker's limit by its number; a bare yes says nothing and is not taken.
"""

from __future__ import annotations

import re
from datetime import datetime
from uuid import UUID

from waywright.errors import BadInput
from waywright.visit import Statement
from waywright.visit.adjustment import Adjustment, Confirmation

LEAST_LETTERS = 4
SAYS_NOTHING = frozenset({"done", "okay", "true", "sure", "yeah", "yes yes", "fine", "checked", "confirmed"})
MAKERS_LIMIT = "correct.confirm_makers_limit"
_NUMBER = re.compile(r"^\s*(\d+(?:[.,]\d+)?)\s*(um|µm|mm)?\s*$")


def unconfirmed(made: Adjustment) -> tuple[Statement, ...]:
    """What must still be confirmed, in the order of the sheet."""
    said = {each.statement.key for each in made.confirmations}
    return tuple(each for each in made.to_confirm if each.key not in said)


def confirmation(made: Adjustment, key: str, answer: str, now: datetime, by: UUID | None) -> Confirmation:
    """One confirmation. Raises BadInput for a key that was not asked, or an answer that says nothing of its own."""
    statement = next((each for each in made.to_confirm if each.key == key), None)
    if statement is None:
        raise BadInput("adjust.not_asked", asked=", ".join(each.key for each in made.to_confirm) or "-", key=key)
    said = " ".join(answer.split())
    if key == MAKERS_LIMIT:
        _checked_limit(said, statement)
    else:
        _checked_words(said, key, made)
    return Confirmation(statement, said, now, by)


def _checked_words(said: str, key: str, made: Adjustment) -> None:
    letters = sum(character.isalpha() for character in said)
    if letters < LEAST_LETTERS or said.casefold() in SAYS_NOTHING:
        raise BadInput("adjust.confirm_says_nothing", answer=said)
    for other in made.confirmations:
        if other.statement.key != key and other.answer.casefold() == said.casefold():
            raise BadInput("adjust.confirm_said_before", answer=said)


def _checked_limit(said: str, statement: Statement) -> None:
    found = _NUMBER.match(said)
    if found is None:
        raise BadInput("adjust.confirm_no_number", answer=said)
    limit_um = float(found[1].replace(",", ".")) * (1000.0 if found[2] == "mm" else 1.0)
    wanted_um = statement.facts.get("move_um")
    if isinstance(wanted_um, int | float) and limit_um < wanted_um:
        raise BadInput("adjust.confirm_limit_below", limit_um=limit_um, move_um=wanted_um)
