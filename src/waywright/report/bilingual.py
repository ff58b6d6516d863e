"""Two languages on one page: what differs stands side by side (drawings one below the other), what is the same once."""

from __future__ import annotations

from typing import Any

_MARK = str.maketrans(",", ".")
_ONCE = ("language", "mark", "author")
"""Taken from the first language."""


def side_by_side(first: Any, second: Any, name: str = "") -> Any:
    """Two sets of pages leaf by leaf: a text or a drawing that differs becomes ``{"a": first, "b": second}``."""
    if isinstance(first, dict):
        return {key: side_by_side(first[key], second[key], key) for key in first}
    if isinstance(first, list | tuple):
        return [side_by_side(a, b, name) for a, b in zip(first, second, strict=True)]
    if name in _ONCE or not isinstance(first, str):
        return first
    if first == second or (name != "svg" and _figures(first) == _figures(second)):
        return first
    if name in ("alt", "description"):
        return f"{first} / {second}"
    return {"a": first, "b": second}


def _figures(text: str) -> str:
    """A text without the difference of decimal marks: figures stand once, as the first language writes them."""
    return text.translate(_MARK)
