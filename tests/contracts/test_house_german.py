"""German on the pages: every sentence a page can speak has a German one that asks for the same facts."""

from __future__ import annotations

import re
import string
from importlib import import_module
from pathlib import Path

import pytest

import waywright

CATALOGUES = Path(waywright.__file__).parent / "wording"
AREAS = sorted(path.stem for path in (CATALOGUES / "en").glob("*.py") if path.stem != "__init__")
GERMAN = sorted(path.stem for path in (CATALOGUES / "de").glob("*.py") if path.stem != "__init__")
PAGES = (
    *("web", "trust", "judge", "rounds", "prove", "visit", "wizard"),
    *("display", "phones", "drawing", "quantities", "verdict"),
)
"""What the pages are written in; areas that pages only quote (errors of files, say) may fall back to English."""


def sentences(language: str, area: str) -> dict[str, str]:
    """The catalogue of an area."""
    found: dict[str, str] = import_module(f"waywright.wording.{language}.{area}").TEXT
    return found


def facts(sentence: str) -> set[str]:
    """The facts a sentence asks for."""
    return {re.split(r"[.\\[]", name)[0] for _, name, _, _ in string.Formatter().parse(sentence) if name}


@pytest.mark.parametrize("area", PAGES)
def test_every_sentence_of_the_pages_has_a_german_one(area: str) -> None:
    lacking = sentences("en", area).keys() - sentences("de", area).keys()
    assert not lacking, sorted(lacking)


@pytest.mark.parametrize("area", GERMAN)
def test_a_german_sentence_carries_the_same_facts(area: str) -> None:
    english = sentences("en", area)
    for key, sentence in sentences("de", area).items():
        assert key in english, key
        assert facts(sentence) <= facts(english[key]), key
        assert facts(english[key]) <= facts(sentence), key
