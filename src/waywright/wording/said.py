"""Sentences from keys and facts where some facts are themselves keys, with true minus signs and none before a zero."""

from __future__ import annotations

import re
from collections.abc import Mapping

from waywright.wording import text

_IDLE_SIGN = re.compile(r"(?<![\w.,])[+-](?=0(?:[.,]0+)?(?!\d|[.,]\d))")
_MINUS = re.compile(r"(?<![\w.])-(?=\d)")
_WORD, _WORDS = "_key", "_keys"


def sentence(key: str, facts: Mapping[str, object], language: str | None = None) -> str:
    """The sentence of a key.

    A fact named ``x_key`` holds the key of a word, which fills ``{x}`` with the same facts; ``x_keys`` several keys,
    whose words stand side by side.
    """
    words = dict(_filled(name, value, facts, language) for name, value in facts.items())
    plain = _IDLE_SIGN.sub("", text(key, language, **words))
    return _MINUS.sub("\N{MINUS SIGN}", plain)


def _filled(name: str, value: object, facts: Mapping[str, object], language: str | None) -> tuple[str, object]:
    if name.endswith(_WORD):
        return name.removesuffix(_WORD), text(str(value), language, **facts)
    if name.endswith(_WORDS) and isinstance(value, tuple | list):
        return name.removesuffix(_WORDS), ", ".join(text(str(each), language, **facts) for each in value)
    return name, value
