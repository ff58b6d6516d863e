"""Words for people: message key + facts + language -> text.

A key is ``area.name``; the sentences of an area stand in ``wording/<language>/<area>.py`` as ``TEXT``.
English is complete; another language falls back to English sentence by sentence.
Values are formatted with Python's format mini-language inside the sentence (``{length_mm:.0f}``), with the decimal
comma where the language has it. Which language is spoken, and in which units, belongs to the context (a request, a
task): English, µm, µm/m and mm where nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from importlib import import_module
from string import Formatter
from typing import Any

from waywright import errors
from waywright.wording.measures import Measure, counted, counting

__all__ = [
    "ENGLISH", "GERMAN", "LANGUAGES", "Measure", "catalogue", "counting", "sentence_of", "speaking", "spoken", "text",
    "with_mark",
]  # fmt: skip
ENGLISH, GERMAN = "en", "de"
LANGUAGES = (ENGLISH, GERMAN)
_COMMA = (GERMAN,)
_spoken: ContextVar[str] = ContextVar("spoken", default=ENGLISH)


def spoken() -> str:
    """The language of this context."""
    return _spoken.get()


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Speak a language inside; one without catalogues speaks English."""
    before = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(before)


def text(key: str, language: str | None = None, /, **facts: object) -> str:
    """The sentence for ``key`` with its facts filled in, in a language or the one spoken here.

    Raises ``KeyError`` for a key without a sentence: that is a defect, found by the tests.
    """
    area, wanted = key.partition(".")[0], language or spoken()
    sentence = catalogue(area, wanted).get(key) or catalogue(area, ENGLISH)[key]
    sentence, shown = counted(sentence, facts)
    return _WithComma().format(sentence, **shown) if wanted in _COMMA else sentence.format(**shown)


def with_mark(figure: str) -> str:
    """A figure written with a point, with the decimal mark of the language spoken here."""
    return figure.replace(".", ",") if spoken() in _COMMA else figure


class _WithComma(Formatter):
    """Numbers with a decimal comma."""

    def format_field(self, value: Any, format_spec: str) -> str:
        made = super().format_field(value, format_spec)
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        return str(made).replace(".", ",") if is_number else str(made)


@cache
def catalogue(area: str, language: str) -> Mapping[str, str]:
    """All sentences of one area in one language; empty where that language has none."""
    try:
        module = import_module(f"{__name__}.{language}.{area}")
    except ModuleNotFoundError:
        return {}
    sentences: Mapping[str, str] = module.TEXT
    return sentences


def sentence_of(error: errors.WaywrightError, language: str | None = None) -> str:
    """The text of an error in a language."""
    return text(error.key, language, **error.facts)


def _speak(key: str, facts: Mapping[str, object]) -> str:
    return text(key, None, **facts)


errors.speak_with(_speak)
