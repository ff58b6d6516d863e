"""The drawings that came with the report: ribbon, before and after, bars, the bed in space."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hr6_example import HR6, report_content

from waywright.drawing import CurveScene, Series, curve
from waywright.drawing.bars import Bar, BarsScene, bars
from waywright.drawing.bed_in_space import BedInSpace, BedShape, bed_in_space
from waywright.errors import BadInput
from waywright.quantities import Direction
from waywright.report.pictures import bed_picture, overlay_picture

SVG = "{http://www.w3.org/2000/svg}"
X = (0.0, 1000.0, 2000.0, 3000.0)


def of_class(svg: str, name: str) -> list[ElementTree.Element]:
    return [each for each in ElementTree.fromstring(svg).iter() if name in (each.get("class") or "").split()]


def scene(**changes: object) -> CurveScene:
    series = Series("mean", X, (0.0, 4.0, -2.0, 1.0), mean=True, spread=(1.0, 2.0, 3.0, 4.0))
    given: dict[str, object] = {
        "series": (series,), "quantity_word": "height", "code": "EYZ", "direction_word": "up", "unit": "µm",
        "reference_word": "about the least-squares line",
    }  # fmt: skip
    return CurveScene(**{**given, **changes})  # type: ignore[arg-type]


def test_the_ribbon_is_as_wide_as_the_uncertainty_at_each_station() -> None:
    svg = curve(scene())
    [ribbon] = of_class(svg, "ribbon")
    points = [tuple(map(float, pair.split())) for pair in re.findall(r"[ML](-?[\d.]+ -?[\d.]+)", ribbon.get("d") or "")]
    assert len(points) == 8
    widths = [points[7 - k][1] - points[k][1] for k in range(4)]
    assert widths == pytest.approx([widths[0] * factor for factor in (1, 2, 3, 4)], abs=0.5)
    assert not of_class(curve(scene(series=(Series("mean", X, (0.0, 4.0, -2.0, 1.0)),))), "ribbon")
    with pytest.raises(BadInput, match="4 positions and 2 values"):
        curve(scene(series=(Series("mean", X, (0.0, 4.0, -2.0, 1.0), spread=(1.0, 2.0)),)))


def test_bars_are_as_long_as_what_they_stand_for_and_the_largest_is_on_top() -> None:
    made = BarsScene("height", "", "what it is", "µm", (Bar("a", 1.0), Bar("b", 4.0), Bar("c", 0.0)), Bar("all", 4.1))
    groups = of_class(bars(made), "bar")
    assert [each.get("data-name") for each in groups] == ["b", "a", "c", "all"]
    widths = [float(each.find(f"{SVG}rect").get("width") or 0) for each in groups]  # type: ignore[union-attr]
    assert widths[0] == pytest.approx(4 * widths[1], rel=1e-3)
    assert widths[3] == pytest.approx(4.1 * widths[1], rel=1e-3)
    assert 0 < widths[2] < 1
    with pytest.raises(BadInput):
        bars(BarsScene("", "", "", "µm", ()))


def shape(front: tuple[float, ...], rear: tuple[float, ...]) -> BedShape:
    return BedShape("as left", (1050.0, 3000.0, 6250.0), front, rear)


def bed_scene(made: BedShape) -> BedInSpace:
    assert HR6.bed is not None
    return BedInSpace("bed", "", "words", HR6.bed, made)


def polylines(svg: str) -> list[list[tuple[float, float]]]:
    found = [each.get("points") or "" for each in ElementTree.fromstring(svg).iter(f"{SVG}polyline")]
    return [[tuple(map(float, pair.split(","))) for pair in points.split()] for points in found]  # type: ignore[misc]


def test_the_bed_in_space_has_both_guideways_where_they_are() -> None:
    rear, front = polylines(bed_in_space(bed_scene(shape((0.0, 10.0, 0.0), (0.0, -10.0, 0.0)))))
    assert front[1][1] < front[0][1] == front[2][1]  # higher on the sheet in the middle
    assert rear[1][1] > rear[0][1] == rear[2][1]
    assert all(r[0] > f[0] and r[1] < f[1] for f, r in ((front[0], rear[0]), (front[2], rear[2])))  # behind: right, up
    assert front[1][0] - front[0][0] == pytest.approx((front[2][0] - front[0][0]) * 1950 / 5200, rel=1e-3)


def test_the_bed_in_space_names_extremes_and_supports() -> None:
    svg = bed_in_space(bed_scene(shape((0.0, 12.5, 0.0), (0.0, -7.5, 0.0))))
    words = [each.text for each in ElementTree.fromstring(svg).iter(f"{SVG}text")]
    assert "+12.5 µm" in words
    assert "\N{MINUS SIGN}7.5 µm" in words
    assert [each.get("data-support") for each in of_class(svg, "support") if each.get("class") == "support"] == list(
        "1234567"
    )
    with pytest.raises(BadInput):
        bed_in_space(bed_scene(shape((0.0, 1.0), (0.0, 1.0, 2.0))))


def test_heights_of_the_picture_are_height_and_roll_over_half_the_gauge() -> None:
    """Front = height + roll times half the gauge (320 mm), roll positive with the operator's side up."""
    content = report_content()
    line = content.main
    height, _, roll = line.quantities
    assert roll.on_screen is Direction.OPERATOR_SIDE_UP
    flat = replace(height, deviation=tuple(0.0 for _ in height.deviation))
    tilted = replace(roll, deviation=tuple(100.0 if p > 2500 else -100.0 for p in roll.position_mm))
    made = bed_picture(replace(content, lines=(replace(line, quantities=(flat, line.quantities[1], tilted)),)))
    assert made is not None
    tilt = sum(tilted.deviation) / len(tilted.deviation)
    words = [each.text for each in ElementTree.fromstring(made["svg"]).iter(f"{SVG}text")]
    assert f"+{(100.0 - tilt) * 0.32:.1f} µm" in words
    assert bed_picture(replace(content, machine=replace(HR6, bed=None))) is None


def test_before_and_after_lie_over_one_another() -> None:
    content = report_content()
    found = content.main
    after = replace(found.quantities[0], deviation=tuple(0.2 * v for v in found.quantities[0].deviation))
    left = replace(found, line=replace(found.line, state="as-left"), quantities=(after,))
    both = replace(content, lines=(found, left))
    [pair] = both.pairs()
    assert pair == (found, left, found.quantities[0], after)
    made = overlay_picture(both, *pair)
    assert [each.get("data-series") for each in of_class(made["svg"], "series")] == ["as found", "as left"]
    assert "before" in made["alt"]
    assert both.main is left
