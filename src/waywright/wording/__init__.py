"""Words for people: message key + facts + language -> text.

A key is ``area.name``; the sentences of an area stand in ``wording/<language>/<area>.py`` as ``TEXT``.
English is complete; another language falls back to English sentence by sentence.
Values are formatted with Python's format mini-language inside the sentence (``{length_mm:.0f}``).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module

from waywright import errors

ENGLISH = "en"


def text(key: str, language: str = ENGLISH, /, **facts: object) -> str:
    """The sentence for ``key`` with its facts filled in.

    Raises ``KeyError`` for a key without a sentence: that is a defect, found by the tests.
    """
    area = key.partition(".")[0]
    sentence = catalogue(area, language).get(key) or catalogue(area, ENGLISH)[key]
    return sentence.format(**facts)


@cache
def catalogue(area: str, language: str) -> Mapping[str, str]:
    """All sentences of one area in one language; empty where that language has none."""
    try:
        module = import_module(f"{__name__}.{language}.{area}")
    except ModuleNotFoundError:
        return {}
    sentences: Mapping[str, str] = module.TEXT
    return sentences


def sentence_of(error: errors.WaywrightError, language: str = ENGLISH) -> str:
    """The text of an error in a language."""
    return text(error.key, language, **error.facts)


def _speak(key: str, facts: Mapping[str, object]) -> str:
    return text(key, ENGLISH, **facts)


errors.speak_with(_speak)
