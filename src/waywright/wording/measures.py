"""Measures in sentences as one person reads them: sentences are written in µm, µm/m and mm, and shown in other units.

A sentence says ``{value_um:.1f} µm``; where somebody has chosen inches the value is converted and the unit word with
it. A sentence of which not every value of a unit can be converted stays as it is written: never a value of one unit
beside the word of another.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from string import Formatter

_SPACES = " \N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"
_SPEC = re.compile(r"^([+]?)(?:\.(\d+))?([fg]?)$")
_NO_FURTHER = r"(?![\w/²³*])"


@dataclass(frozen=True, slots=True)
class Measure:
    """``written`` is the unit word in the sentences ("µm"), ``suffix`` the end of the names of its facts ("_um").

    It is shown as ``word``, ``per`` of which make one; a whole number of it has ``decimals``, more digits more.
    """

    written: str
    suffix: str
    word: str
    per: float
    decimals: int

    @property
    def unit(self) -> re.Pattern[str]:
        """Where a text says the unit and nothing that it is a part of."""
        return re.compile(rf"(?<![\w/]){re.escape(self.written)}{_NO_FURTHER}")


Piece = tuple[str, str | None, str | None, str | None]

_counting: ContextVar[tuple[Measure, ...]] = ContextVar("counting", default=())


@contextmanager
def counting(measures: Sequence[Measure]) -> Iterator[None]:
    """Show measures so inside; those that are not named as they are written."""
    before = _counting.set(tuple(measures))
    try:
        yield
    finally:
        _counting.reset(before)


def counted(sentence: str, facts: Mapping[str, object]) -> tuple[str, Mapping[str, object]]:
    """A sentence with its facts in the units chosen here."""
    measures = _counting.get()
    if not measures:
        return sentence, facts
    pieces: list[Piece] = list(Formatter().parse(sentence))
    mine: dict[str, Measure] = {}
    shown = []
    for measure in measures:
        names = _names(pieces, measure)
        if names and all(_can_be(facts.get(name), spec) for name, spec in names):
            mine |= {name: measure for name, _ in names}
            shown.append(measure)
    if not shown:
        return sentence, facts
    values = {name: measure.per * float(str(facts[name])) for name, measure in mine.items()}
    return "".join(_written(piece, shown, mine) for piece in pieces), {**facts, **values}


def _names(pieces: Sequence[Piece], measure: Measure) -> list[tuple[str, str]]:
    """The values of a measure with their formats; none where the unit is not said, or stands beside something else."""
    found, said = [], 0
    values: list[tuple[str | None, str | None]] = [(None, None), *((name, spec) for _, name, spec, _ in pieces)]
    literals = [*(piece[0] for piece in pieces), ""]
    for (name, spec), literal in zip(values, literals, strict=True):
        units = len(measure.unit.findall(literal))
        follows = bool(literal) and literal[0] in _SPACES and measure.unit.match(literal, 1) is not None
        if units > (1 if follows and name else 0):
            return []
        said += units
        if name and (follows or name.endswith(measure.suffix)):
            found.append((name, spec or ""))
    return found if said else []


def _can_be(value: object, spec: str) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and _SPEC.match(spec) is not None


def _written(piece: Piece, shown: Sequence[Measure], mine: Mapping[str, Measure]) -> str:
    """A piece of the sentence with other unit words and other formats."""
    literal, name, spec, _ = piece
    words = {measure.written: measure.word for measure in shown}
    any_unit = re.compile("|".join(measure.unit.pattern for measure in shown))
    text = any_unit.sub(lambda found: words[found[0]], literal).replace("{", "{{").replace("}", "}}")
    if name is None:
        return text
    if name not in mine:
        return f"{text}{{{name}:{spec}}}" if spec else f"{text}{{{name}}}"
    found = _SPEC.match(spec or "")
    sign, decimals = (found[1], found[2]) if found else ("", None)
    return f"{text}{{{name}:{sign}.{mine[name].decimals + int(decimals or 0)}f}}"
