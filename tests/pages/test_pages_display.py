"""Language and units belong to the person who reads: words, decimal comma, units; what is kept stays as it is."""

from __future__ import annotations

import pytest

from waywright.drawing import plain_number, signed
from waywright.quantities import code
from waywright.web.display import Display, amount, as_now, deviation, display_of, place, shown_as, unit_for
from waywright.wording import spoken, text

HEIGHT, ROLL = code("EYZ"), code("ECZ")


def test_a_cookie_says_what_somebody_has_chosen() -> None:
    chosen = Display("de", "inch", "arcsec", "inch")
    assert display_of(f"other=1; waywright-display={chosen.cookie}") == chosen
    assert display_of("waywright-display=xx.um.nonsense.mm") == Display()
    assert display_of("waywright-display=de") == Display()
    assert display_of("") == Display()


def test_german_has_its_words_and_a_decimal_comma() -> None:
    with shown_as(Display("de")):
        assert spoken() == "de"
        assert signed(-1.25, 2) == "−1,25"
        assert plain_number(0.5, 1) == "0,5"
        assert "4,5" in text("web.expected", now_um=4.5, value_um=4.5, low_um=1.0, high_um=2.0)
        later = as_now(lambda: plain_number(0.5, 1))
    assert plain_number(0.5, 1) == "0.5"
    assert later() == "0,5"


@pytest.mark.parametrize(
    ("shown", "height", "roll", "unit"),
    [
        (Display(), "+25.4", "10.0", "µm"),
        (Display(length="mm", angle="mm_per_m"), "+0.0254", "0.0100", "mm"),
        # 25.4 um is a thousandth of an inch; 1 um/m is 0.206265 arcsec, by definition of radian and arc second
        (Display(length="inch", angle="arcsec"), "+0.00100", "2.06", "in"),
    ],
)
def test_units_are_converted_only_for_the_eye(shown: Display, height: str, roll: str, unit: str) -> None:
    with shown_as(shown):
        assert deviation(HEIGHT, 25.4) == height
        assert amount(ROLL, 10.0) == roll
        assert unit_for(HEIGHT).word == unit


def test_positions_in_inches() -> None:
    with shown_as(Display(place="inch")):
        assert place(254.0) == "10.00"
