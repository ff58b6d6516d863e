"""Words of people as they can be set: a character that no font has must not keep a report from being written."""

from __future__ import annotations

import re
import unicodedata
from typing import Any

_KEPT = "\n\t\u200b\u00ad"
_NO_FONT = re.compile(r'the text `"(.+?)"` could not be displayed')


def settable(part: Any) -> Any:
    """The same parts (str, list, tuple, dict) with "?" for control characters and others that no font shows."""
    if isinstance(part, str):
        return part if part.isprintable() else "".join(_shown(each) for each in part)
    if isinstance(part, dict):
        return {key: settable(value) for key, value in part.items()}
    if isinstance(part, list | tuple):
        return [settable(each) for each in part]
    return part


def _shown(character: str) -> str:
    return "?" if unicodedata.category(character).startswith("C") and character not in _KEPT else character


def without_unknown(part: Any, problem: str) -> Any | None:
    """The same parts without the characters that a refusal of the setter names; None where it names none."""
    named = _NO_FONT.search(problem)
    return None if named is None else _without(part, frozenset(named.group(1)))


def _without(part: Any, unknown: frozenset[str]) -> Any:
    if isinstance(part, str):
        return part if unknown.isdisjoint(part) else "".join("?" if each in unknown else each for each in part)
    if isinstance(part, dict):
        return {key: _without(value, unknown) for key, value in part.items()}
    return [_without(each, unknown) for each in part] if isinstance(part, list | tuple) else part
