"""From lines that nobody has described yet to a pattern: what varies and looks like a number is a channel.

A proposal, to be checked by a person: words are taken literally, numbers become groups, units beside a number are
recognised.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

_NUMBER = re.compile(r"[-+]?\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?")
_FRACTION = re.compile(r"[-+]?\d+[.,]\d+")
_UNIT = re.compile(r"\s?(um/m|µm/m|mm/m|mrad|urad|µrad|arcsec|deg|um|µm|nm|mm|inch|in|m|degC|°C|C|K)(?![A-Za-z0-9])")
_KINDS = {
    "um": ("displacement", "um"),
    "µm": ("displacement", "um"),
    "nm": ("displacement", "nm"),
    "in": ("displacement", "inch"),
    "inch": ("displacement", "inch"),
    "mm": ("position", "mm"),
    "m": ("position", "m"),
    "um/m": ("angle", "um/m"),
    "µm/m": ("angle", "um/m"),
    "mm/m": ("angle", "mm/m"),
    "mrad": ("angle", "mrad"),
    "urad": ("angle", "urad"),
    "µrad": ("angle", "urad"),
    "arcsec": ("angle", "arcsec"),
    "deg": ("angle", "deg"),
    "degC": ("temperature", "degC"),
    "°C": ("temperature", "degC"),
    "C": ("temperature", "degC"),
    "K": ("temperature", "K"),
}
_ENOUGH = 5


@dataclass(frozen=True, slots=True)
class ProposedChannel:
    """A number of the lines: its group, what it seems to be, and the values seen."""

    group: str
    kind: str
    unit: str
    unit_seen: bool
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Proposal:
    """A pattern that fits ``matched`` of ``lines`` lines; ``counter`` and ``stamp`` are groups that count up."""

    pattern: str
    channels: tuple[ProposedChannel, ...]
    lines: int
    matched: int
    decimal_comma: bool
    counting: str | None


def propose(lines: Sequence[str]) -> Proposal | None:
    """A pattern for the commonest shape of line; None if no line holds a number."""
    shapes = Counter(_shape(line) for line in lines if _NUMBER.search(line))
    if not shapes:
        return None
    shape, matched = shapes.most_common(1)[0]
    alike = [line for line in lines if _shape(line) == shape]
    columns = [[match.group() for match in _NUMBER.finditer(line)] for line in alike]
    texts = list(zip(*columns, strict=True))
    counting = next((at for at, column in enumerate(texts) if _counts_up(column)), None)
    comma = any("," in text and "." not in text for column in texts for text in column)
    groups = [_group(at, column, at == counting) for at, column in enumerate(texts)]
    pattern = _pattern(alike[0], groups, texts)
    named = [(at, group) for at, group in enumerate(groups) if group is not None and at != counting]
    channels = tuple(_channel(alike[0], at, group, texts[at]) for at, group in named)
    return Proposal(pattern, channels, len(lines), matched, comma, None if counting is None else groups[counting])


def _shape(line: str) -> tuple[str, ...]:
    """What stands between the numbers."""
    return tuple(_NUMBER.split(line))


def _counts_up(column: Sequence[str]) -> bool:
    """Whether these are whole numbers that rise from line to line: a counter or a clock, no measured value."""
    if len(column) < _ENOUGH or not all(text.isdigit() for text in column):
        return False
    numbers = [int(text) for text in column]
    return all(one < other for one, other in pairwise(numbers))


def _group(at: int, column: Sequence[str], counting: bool) -> str | None:
    """The name of the group of a number; None if it never varies and has no decimals: part of the words."""
    if counting:
        return "n"
    varies = len(set(column)) > 1
    return f"v{at + 1}" if varies or any(_FRACTION.fullmatch(text) for text in column) else None


def _pattern(line: str, groups: Sequence[str | None], texts: Sequence[Sequence[str]]) -> str:
    between = _NUMBER.split(line)
    made = [re.escape(between[0])]
    for group, column, after in zip(groups, texts, between[1:], strict=True):
        made.append(re.escape(column[0]) if group is None else f"(?P<{group}>{_form(column)})")
        made.append(re.escape(after))
    return "".join(made).replace("\\ ", " ")


def _form(column: Sequence[str]) -> str:
    """A pattern for the numbers of a column, as narrow as what was seen."""
    sign = "" if all(text[0].isdigit() for text in column) and all(text.isdigit() for text in column) else "[-+]?"
    point = "," if any("," in text for text in column) else r"\."
    fraction = rf"{point}\d+" if all(_FRACTION.match(text) for text in column) else rf"(?:{point}\d+)?"
    exponent = r"(?:[eE][-+]?\d+)?" if any("e" in text.lower() for text in column) else ""
    whole = all(text.lstrip("+-").isdigit() for text in column)
    return rf"{sign}\d+" if whole else rf"{sign}\d+{fraction}{exponent}"


def _channel(line: str, at: int, group: str, column: Sequence[str]) -> ProposedChannel:
    numbers = [float(text.replace(",", ".")) for text in column]
    after = line[list(_NUMBER.finditer(line))[at].end() :]
    seen = _UNIT.match(after)
    kind, unit = _KINDS[seen[1]] if seen else ("displacement", "um")
    return ProposedChannel(group, kind, unit, seen is not None, min(numbers), max(numbers))
