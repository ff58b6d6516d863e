"""The words of a tolerance rule with their places in the text."""

from __future__ import annotations

import re
from dataclasses import dataclass

from waywright.errors import BadInput

_TOKEN = re.compile(
    r"""(?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+))
      | (?P<word>[^\W\d_]+(?:[-'][^\W\d_]+)*(?:/[mM]\b)?)
      | (?P<sign>[,+/;()])
      | (?P<space>\s+)""",
    re.VERBOSE,
)
_LOOKALIKES = str.maketrans({"µ": "u", "μ": "u", "″": '"'})
LONGEST = 2000


@dataclass(frozen=True, slots=True)
class Token:
    """``kind`` is number, word, sign or end; ``position`` counts characters from 1."""

    kind: str
    text: str
    position: int


def syntax_error(rule: str, position: int, *expected: str) -> BadInput:
    """The error that shows the place in the rule and what may stand there."""
    return BadInput(
        "verdict.rule_syntax",
        rule=rule,
        position=position,
        marker=" " * (position - 1) + "^",
        found=rule[position - 1 : position + 15],
        expected=", ".join(expected),
    )


def tokens(rule: str) -> list[Token]:
    """The rule cut into tokens, with an end token; capital letters do not matter. Raises BadInput with the place."""
    if len(rule) > LONGEST:
        raise BadInput("verdict.rule_too_long", length=len(rule), longest=LONGEST)
    text = rule.translate(_LOOKALIKES)
    found: list[Token] = []
    at = 0
    while at < len(text):
        match = _TOKEN.match(text, at)
        if match is None:
            raise syntax_error(rule, at + 1, "number", "word")
        if match.lastgroup != "space":
            word = match.group()
            found.append(Token(str(match.lastgroup), word.lower() if word.isascii() else word, at + 1))
        at = match.end()
    _refuse_decimal_comma(rule, found)
    return [*found, Token("end", "", len(text) + 1)]


def _refuse_decimal_comma(rule: str, found: list[Token]) -> None:
    """``0,02``: a comma squeezed between two numbers may be meant as a decimal sign or not; ask."""
    for before, comma, after in zip(found, found[1:], found[2:], strict=False):
        numbers = before.kind == after.kind == "number" and comma.text == ","
        if numbers and before.position + len(before.text) == comma.position == after.position - 1:
            raise BadInput(
                "verdict.rule_decimal_comma",
                rule=rule,
                position=comma.position,
                marker=" " * (comma.position - 1) + "^",
                number=f"{before.text}.{after.text}",
            )
