"""Drawings of results: what they show, in words too; what cannot be drawn is refused."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from test_drawing_way import of_class, parsed

from waywright.drawing import DARK, LIGHT
from waywright.drawing.figures import AngleScene, CylinderScene, angle, cylinder
from waywright.drawing.panels import Mark, Panel, PanelsScene, Trace, panels
from waywright.drawing.surface import SurfaceScene, grid_lines, surface
from waywright.errors import BadInput

X = (0.0, 100.0, 200.0, 300.0)
ONE = Panel("height", "as read", "µm", (Trace("first", X, (0.0, 4.0, -3.0, 1.0), main=True),))
SCENE = PanelsScene("height <EYZ>", "what it says & shows", (ONE,))
GRID = SurfaceScene(
    "flatness", "note", "desc", (0.0, 100.0, 200.0) * 2, (0.0,) * 3 + (80.0,) * 3, (1.0, -2.0, 1.0, 3.0, 0.5, -1.0)
)  # fmt: skip
ROUND = CylinderScene("in space", "note", "desc", "X", "Y", (1.0, -2.0, 0.5), (0.0, 1.0, -1.5), (0.0, 50.0, 100.0), 5.0)
SQUARE = AngleScene("squareness", "note", "desc", "X", "Y", -12.0, True, "−12.0", "µm/m")


def words(drawing: str) -> str:
    """All texts of a drawing."""
    return " ".join(node.text or "" for node in parsed(drawing).iter() if node.tag.endswith("text"))


def places(drawing: str) -> list[tuple[float, float]]:
    """Points of the first curve."""
    line = next(node for node in parsed(drawing).iter() if node.tag.endswith("polyline"))
    return [tuple(map(float, pair.split(","))) for pair in line.attrib["points"].split()]  # type: ignore[misc]


@pytest.mark.parametrize(("draw", "scene"), [(panels, SCENE), (surface, GRID), (cylinder, ROUND), (angle, SQUARE)])
def test_every_drawing_is_well_formed_and_speaks(draw: Callable[..., str], scene: object) -> None:
    light, dark = draw(scene, palette=LIGHT), draw(scene, palette=DARK)
    assert draw(scene) == light
    tree = parsed(light)
    assert {"title", "desc"} <= {node.tag.rpartition("}")[2] for node in tree.iter()}
    assert LIGHT.ink in light
    assert LIGHT.ink not in dark
    assert "nan" not in light.lower()


def test_a_curve_rises_where_values_rise_and_turns_with_the_axis() -> None:
    points = places(panels(SCENE))
    assert [x for x, _ in points] == sorted(x for x, _ in points)
    assert points[1][1] < points[0][1] < points[2][1]
    turned = dict(places(panels(replace(SCENE, grows_left=True))))
    assert turned[max(turned)] == pytest.approx(points[0][1])
    assert turned[min(turned)] == pytest.approx(points[-1][1])


def test_spread_is_a_band_and_marks_have_words() -> None:
    banded = Panel("a", "", "µm", (replace(ONE.traces[0], spread=(1.0,) * 4),), (Mark(90, 110, "slipped", "now"),))
    drawing = panels(PanelsScene("t", "d", (banded, ONE)))
    assert len(of_class(parsed(drawing), "spread")) == 1
    assert len(of_class(parsed(drawing), "now")) == 1
    assert "slipped" in words(drawing)
    assert LIGHT.now in drawing


def test_names_are_escaped() -> None:
    assert "<EYZ>" not in panels(SCENE)
    assert "&lt;EYZ&gt;" in panels(SCENE)


def test_points_of_a_grid_are_joined_along_rows_and_columns() -> None:
    assert set(grid_lines(GRID.x_mm, GRID.y_mm)) == {(0, 1, 2), (3, 4, 5), (0, 3), (1, 4), (2, 5)}


def test_heights_stand_over_their_plane() -> None:
    drawing = surface(replace(GRID, lines=grid_lines(GRID.x_mm, GRID.y_mm)))
    assert len(of_class(parsed(drawing), "point")) == 6
    said = words(drawing)
    assert "+3.0 µm" in said
    assert "\N{MINUS SIGN}2.0 µm" in said
    assert "× enlarged" in said


def test_ends_that_fall_together_are_named_once() -> None:
    assert "0 mm" in words(cylinder(ROUND))
    assert "100 mm" in words(cylinder(ROUND))
    assert "0, 100 mm" in words(cylinder(replace(ROUND, across_um=(1.0, -2.0, 1.0), up_um=(0.0, 1.0, 0.0))))


@pytest.mark.parametrize("opening", [-12.0, 12.0])
def test_a_larger_angle_leans_away(opening: float) -> None:
    """The second axis leans to the left, away from +X to the right, where the angle exceeds 90 degrees."""
    drawing = angle(replace(SQUARE, angle_um_per_m=opening))
    lines = [node.attrib for node in parsed(drawing).iter() if node.tag.endswith("line")]
    leaning = [each for each in lines if each.get("stroke-width") == "1.9" and each["y1"] != each["y2"]]
    assert (float(leaning[0]["x2"]) < float(leaning[0]["x1"])) == (opening > 0)
    assert "10000 × enlarged" in words(drawing)


def test_a_true_angle_is_drawn_true() -> None:
    assert "enlarged" not in words(angle(replace(SQUARE, angle_um_per_m=0.0)))


@pytest.mark.parametrize(
    ("draw", "scene"),
    [
        (panels, PanelsScene("t", "d", ())),
        (panels, PanelsScene("t", "d", (Panel("a", "", "µm", ()),))),
        (panels, PanelsScene("t", "d", (Panel("a", "", "µm", (Trace("", X, (1.0,)),)),))),
        (surface, replace(GRID, deviation_um=(1.0,))),
        (cylinder, replace(ROUND, up_um=(1.0,))),
    ],
)
def test_what_cannot_be_drawn_is_refused(draw: Callable[..., str], scene: object) -> None:
    with pytest.raises(BadInput):
        draw(scene)
