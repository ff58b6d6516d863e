"""The German catalogues say what the English ones say: same keys, same facts, in the same form."""

from __future__ import annotations

from pathlib import Path
from string import Formatter

import pytest

from waywright.wording import ENGLISH, GERMAN, catalogue, text

HERE = Path(__file__).resolve().parents[2] / "src" / "waywright" / "wording"
AREAS = sorted(path.stem for path in (HERE / GERMAN).glob("*.py") if path.stem != "__init__")


def facts(sentence: str) -> set[str]:
    return {field for _, field, _, _ in Formatter().parse(sentence) if field}


@pytest.mark.parametrize("area", AREAS)
def test_an_area_is_whole_and_carries_the_same_facts(area: str) -> None:
    english, german = catalogue(area, ENGLISH), catalogue(area, GERMAN)
    assert set(german) == set(english)
    assert {key: facts(sentence) for key, sentence in german.items()} == {
        key: facts(sentence) for key, sentence in english.items()
    }


def test_figures_have_a_decimal_comma() -> None:
    said = text("capture.lost", GERMAN, position_mm=1200.0, channel="beam.vertical_um", duration_s=2.5)
    assert "2,5 s" in said
    assert "1200 mm" in said
    assert "beam.vertical_um" in said
