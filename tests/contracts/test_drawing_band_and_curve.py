"""The band that floats, the curve, and figures as people read them."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hr6_example import STATIONS, height_um
from hypothesis import given
from hypothesis import strategies as st
from test_drawing_way import of_class, parsed, words

from waywright.drawing import CurveScene, Series, curve, fitted_band, plain_number, signed
from waywright.drawing.scale import decimals_of, room_for, round_down, round_up, ticks
from waywright.errors import BadInput

VALUES = st.lists(st.floats(-200, 200), min_size=1, max_size=30)


@given(VALUES, st.floats(0.1, 300))
def test_none_outside_if_and_only_if_a_place_holds_all(values: list[float], width: float) -> None:
    band = fitted_band(values, width)
    assert band.high - band.low == pytest.approx(width)
    spread = max(values) - min(values)
    if abs(spread - width) > 1e-6:
        assert band.holds_all == (spread < width)


@given(VALUES, st.floats(0.1, 300))
def test_no_other_place_leaves_fewer_outside(values: list[float], width: float) -> None:
    outside = sum(fitted_band(values, width).outside)
    # A best place can always be shifted until its lower edge rests on a value.
    least = min(sum(not low <= value <= low + width for value in values) for low in values)
    assert outside <= least


@given(VALUES, st.floats(0.1, 300), st.floats(-50, 50))
def test_the_band_follows_the_values(values: list[float], width: float, shift: float) -> None:
    one, other = fitted_band(values, width), fitted_band([value + shift for value in values], width)
    assert sum(one.outside) == pytest.approx(sum(other.outside), abs=1)
    assert fitted_band(values, width) == one


def test_as_wide_as_the_tolerance_is_inside() -> None:
    band = fitted_band([0.1, 0.2, 0.3, 0.1 + 0.2 + 0.1], 0.3)
    assert band.holds_all
    assert not fitted_band([0.0, 30.001], 30.0).holds_all


def test_where_not_all_fit_the_culprit_is_outside() -> None:
    band = fitted_band([0.0, 1.0, 2.0, 3.0, 40.0], 10.0)
    assert band.outside == (False, False, False, False, True)
    assert (band.low, band.high) == pytest.approx((0.0, 10.0), abs=1e-6)


@pytest.mark.parametrize(
    ("value", "decimals", "shown"),
    [
        (12.34, 1, "+12.3"),
        (-0.75, 1, "\N{MINUS SIGN}0.8"),
        (0.04, 1, "0.0"),
        (-0.04, 1, "0.0"),
        (-1234.0, 0, "\N{MINUS SIGN}1234"),
        (float("nan"), 1, "–"),
    ],
)
def test_deviations_show_their_sign_and_a_true_minus(value: float, decimals: int, shown: str) -> None:
    assert signed(value, decimals) == shown


def test_plain_numbers_have_no_plus() -> None:
    assert [plain_number(value, 1) for value in (2.0, -2.0, -0.01)] == ["2.0", "\N{MINUS SIGN}2.0", "0.0"]


@given(st.floats(1e-6, 1e9))
def test_round_steps_embrace_the_value(value: float) -> None:
    assert round_down(value) <= value * (1 + 1e-9)
    assert round_up(value) >= value * (1 - 1e-9)
    assert round_up(value) / round_down(value) <= 2.5 + 1e-9


def test_ticks_and_their_decimals() -> None:
    assert ticks(-0.31, 0.52, 5) == pytest.approx([-0.2, 0.0, 0.2, 0.4])
    assert decimals_of([0.0, 0.25, 0.5]) == 2
    assert decimals_of([0.0, 20.0]) == 0
    assert len(room_for([(i * 10.0, "1000") for i in range(10)], 11.0)) == 3


def shown(passes: int = 2, **changes: object) -> CurveScene:
    series = [
        Series(f"pass {n}", STATIONS, tuple(height_um(p) + (n - 1.5) for p in STATIONS)) for n in range(1, passes + 1)
    ]
    if passes > 1:
        series.append(Series("mean", STATIONS, tuple(height_um(p) for p in STATIONS), mean=True))
    given = {
        "series": tuple(series), "quantity_word": "height", "code": "EYZ", "direction_word": "up", "unit": "µm",
        "reference_word": "about the least-squares line", "grows_left": True,
    }  # fmt: skip
    return CurveScene(**{**given, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize("passes", [1, 2, 5])
@pytest.mark.parametrize("tolerance", [None, 20.0])
def test_a_curve_keeps_its_words_on_the_sheet(passes: int, tolerance: float | None) -> None:
    root = parsed(curve(shown(passes, tolerance=tolerance)))
    boxes = words(root)
    for text, left, right, top, bottom in boxes:
        assert 0 <= left <= right <= 760, text
        assert 0 <= top <= bottom <= 270, text
    said = [text for text, *_ in boxes]
    assert "height (EYZ)" in said
    assert "up is + · about the least-squares line" in said
    assert "µm" in said
    assert "← position, mm" in said
    assert len(of_class(root, "band")) == (tolerance is not None)


def test_largest_and_smallest_are_those_of_the_mean() -> None:
    said = [text for text, *_ in words(parsed(curve(shown())))]
    high, low = max(map(height_um, STATIONS)), min(map(height_um, STATIONS))
    assert f"{signed(high)} largest" in said
    assert f"{signed(low)} smallest" in said


def test_passes_differ_without_colour() -> None:
    root = parsed(curve(shown(4)))
    groups = of_class(root, "series")
    lines = [next(item for item in group if item.tag.endswith("polyline")) for group in groups]
    looks = {
        (line.get("stroke-dasharray"), line.get("stroke-width"), marker(group))
        for line, group in zip(lines, groups, strict=True)
    }
    assert len(looks) == 5
    assert len({line.get("stroke") for line in lines}) == 1


def marker(group: ElementTree.Element) -> str:
    """The shape of the first marker, without its place."""
    shape = next(item for item in group if not item.tag.endswith("polyline"))
    return shape.tag + shape.get("d", "").partition("m")[2]


def test_positions_grow_to_the_left_as_on_the_way_drawing() -> None:
    root = parsed(curve(shown()))
    x = {text: left for text, left, *_ in words(root) if text in ("0", "1000", "4000")}
    assert x["4000"] < x["1000"]
    other = {text: left for text, left, *_ in words(parsed(curve(shown(grows_left=False)))) if text in ("1000", "4000")}
    assert other["4000"] > other["1000"]


@pytest.mark.parametrize("series", [(), (Series("a", (), ()),), (Series("a", (1.0,), (1.0, 2.0)),)])
def test_no_curve_to_draw(series: tuple[Series, ...]) -> None:
    with pytest.raises(BadInput):
        curve(shown(series=series))
