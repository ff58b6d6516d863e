"""Sentences in somebody's units: value and unit word together or not at all. By definition 1 in = 25.4 mm."""

from __future__ import annotations

import re
from pkgutil import iter_modules
from string import Formatter

import pytest

import waywright.wording.en as english
from waywright.errors import BadInput
from waywright.web.display import Display, bare_length, length, shown_as
from waywright.wording import LANGUAGES, catalogue, spoken, text

INCH = Display(length="inch", angle="arcsec", place="inch")


def test_nothing_is_converted_where_nothing_was_chosen() -> None:
    assert text("rounds.alarm_moved", moved_mm=5.2).startswith("The carriage has moved by 5.2 mm")


def test_value_and_unit_word_change_together() -> None:
    with shown_as(INCH):
        said = text("web.expected", now_um=65.9, value_um=14.6, low_um=8.0, high_um=27.0)
        assert "0.00259 in now" in said
        assert "between 0.0003 and 0.0011 in" in said
        assert "0.205 in" in text("rounds.alarm_moved", moved_mm=5.2)
    with shown_as(Display(length="mm", place="inch")):  # a millimetre that came of micrometres is not converted again
        said = text("correct.step_reading_rise", station_mm=254.0, change_um=5)
        assert "at 10.00 in" in said
        assert "0.005 mm" in said
    with shown_as(Display("de", length="mm")):
        assert spoken() == "de"
        assert "0,0259 mm" in text("web.expected", now_um=25.9, value_um=1.0, low_um=1.0, high_um=2.0)


def test_what_is_no_number_or_no_length_stays() -> None:
    with shown_as(INCH):
        assert "7 mm³" in text("rounds.scraping", volume=7.0, deepest=25.4)
        assert "0.0010 in deep" in text("rounds.scraping", volume=7.0, deepest=25.4)
        assert text("rounds.answer_limit") == "what the maker allows, such as 200 or 0.2 mm"
        assert "At 10.00 in" in str(BadInput("correct.station_does_not_answer", support="3", station_mm=254.0))


def test_lengths_with_their_unit() -> None:
    assert length(55.0, sign=True) == "+55 µm"
    with shown_as(INCH):
        assert length(25.4, sign=True) == "+0.0010 in"
        assert bare_length(25.4) == "0.00100"


def _sentences() -> list[tuple[str, str, str]]:
    areas = [module.name for module in iter_modules(english.__path__)]
    return [(spoke, key, said) for spoke in LANGUAGES for area in areas for key, said in catalogue(area, spoke).items()]


@pytest.mark.parametrize("shown", [INCH, Display("de", "mm", "mm_per_m", "inch")])
def test_every_sentence_can_still_be_said(shown: Display) -> None:
    """A sentence of the pages with numbers in µm says none of them in µm where another unit was chosen."""
    with shown_as(shown):
        for spoke, key, said in _sentences():
            fields = [(name, spec or "") for _, name, spec, _ in Formatter().parse(said) if name]
            facts = {name: 12 if spec[-1:] in tuple("dfge%") else "x" for name, spec in fields}
            made = text(key, spoke, **facts)
            if key.partition(".")[0] in ("rounds", "correct") and re.search(r"f} µm(?!/)", said):
                assert not re.search(r"\d µm(?!/)", made), f"{key}: {made}"
