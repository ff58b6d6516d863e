"""Sentences from keys and facts where some facts are themselves keys, with true minus signs and none before a zero."""

from __future__ import annotations

import re
from collections.abc import Mapping

from waywright.wording import text

_IDLE_SIGN = re.compile(r"(?<![\w.,])[+-](?=0(?:[.,]0+)?(?!\d|[.,]\d))")
_MINUS = re.compile(r"(?<![\w.])-(?=\d)")
_WORD = "_key"


def sentence(key: str, facts: Mapping[str, object], language: str | None = None) -> str:
    """The sentence of a key. A fact named ``x_key`` holds the key of a word, which fills ``{x}``, with the same facts."""
    words = {
        name.removesuffix(_WORD) if name.endswith(_WORD) else name: text(str(value), language, **facts)
        if name.endswith(_WORD)
        else value
        for name, value in facts.items()
    }
    plain = _IDLE_SIGN.sub("", text(key, language, **words))
    return _MINUS.sub("\N{MINUS SIGN}", plain)
