"""What the way drawing says of moves, of stations to take again, and in the units of whoever reads."""

from __future__ import annotations

from xml.etree import ElementTree

from hr6_example import HR6, STATIONS, ZERO, scene

from waywright.drawing import Shown, Units, WayScene, way
from waywright.quantities import code

SVG = "{http://www.w3.org/2000/svg}"
INCHES = Units(Shown("in", 1 / 25400, 5), Shown("″", 0.206265, 2), Shown("in", 1 / 25.4, 2))


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)


def of_class(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [item for item in root.iter() if name in item.get("class", "").split()]


def words(root: ElementTree.Element) -> list[str]:
    return [item.text or "" for item in root.iter(f"{SVG}text")]


def test_a_move_says_its_turn_where_there_is_room() -> None:
    turns = {"1": "1/4 turn, clockwise"}
    broad = words(parsed(way(HR6, scene(moves_um={"1": 70.0}, turns=turns))))
    assert "1: +70 µm" in broad
    assert "1/4 turn, clockwise" in broad
    assert "(1/4 turn, clockwise)" in way(HR6, scene(moves_um={"1": 70.0}, turns=turns), width=360.0)


def test_a_station_to_take_again_is_marked_over_its_place() -> None:
    root = parsed(way(HR6, scene(again_mm=(STATIONS[7],))))
    (mark,) = of_class(root, "again")
    assert f"again: {STATIONS[7]:.0f}" in [item.text for item in mark.iter(f"{SVG}text")]
    tick = next(item for item in of_class(root, "station") if item.get("data-position-mm") == f"{STATIONS[7]:.1f}")
    tip = mark.find(f"{SVG}path")
    assert tip is not None
    assert tip.get("d", "").startswith(f"M{float(tick.get('x1', '0')):.1f} ")


def test_words_are_in_the_reader_s_units_and_places_stay_in_mm() -> None:
    """25.4 um are a thousandth of an inch, 254 mm ten inches, by definition."""
    shown = WayScene((0.0, 254.0), (0.0, 25.4), code("EYZ"), zero=ZERO, moves_um={"1": 25.4}, units=INCHES)
    root = parsed(way(HR6, shown))
    said = words(root)
    assert "1: +0.0010 in" in said
    assert "10.00" in said
    assert not [word for word in said if "µm" in word]
    assert "+0.00100 in at 10.00 in" in way(HR6, shown)
    assert {item.get("data-position-mm") for item in of_class(root, "point")} == {"0.0", "254.0"}
