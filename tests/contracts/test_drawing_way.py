"""The way drawing: everything is on it, where the operator sees it, in words that fit on the sheet."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hr6_example import FRONT, HR6, REAR, STATIONS, ZERO, height_um, scene

from waywright.drawing import DARK, LIGHT, PRINT, VARIABLES, Palette, Shown, Units, WayScene, font_folder, way
from waywright.drawing.lettering import plain_number, signed, width_of
from waywright.errors import BadInput
from waywright.machine import Machine, Support
from waywright.quantities import code
from waywright.visit import PositionZero, SourceStand

SVG = "{http://www.w3.org/2000/svg}"
INCHES = Units(Shown("in", 1 / 25400, 5), Shown("″", 0.206265, 2), Shown("in", 1 / 25.4, 2))
MOVES = {"1": 70.0, "5": -90.0, "13": 120.0, "7": 200.0, "14": -200.0}
SCENES = {
    "full": scene(),
    "half": scene(
        deviation=tuple(height_um(p) if i < 9 else None for i, p in enumerate(STATIONS)), carriage_mm=2160.0, live=True
    ),
    "judged": scene(tolerance=30.0, moves_um=MOVES),
    "side": scene(quantity=code("EXZ"), tolerance=12.5, carriage_mm=5100.0, source=SourceStand("floor")),
    "roll": scene(quantity=code("ECZ"), carriage_mm=0.0, moves_um={"8": 5.0}),
    "nothing": WayScene(zero=ZERO),
    "flat": scene(deviation=(0.0,) * 22),
    "turns": scene(moves_um=MOVES, turns=dict.fromkeys(MOVES, "1 1/2 turns, anticlockwise")),
    "again": scene(carriage_mm=480.0, live=True, again_mm=(STATIONS[7], STATIONS[15])),
    "inches": scene(tolerance=30.0, moves_um=MOVES, units=INCHES, again_mm=(STATIONS[3],)),
}


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)


def of_class(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [item for item in root.iter() if name in item.get("class", "").split()]


def words(root: ElementTree.Element) -> list[tuple[str, float, float, float, float]]:
    """(text, left, right, top, bottom) of every text on the sheet."""
    found = []
    for item in root.iter(f"{SVG}text"):
        size, x, y = float(item.get("font-size", "0")), float(item.get("x", "0")), float(item.get("y", "0"))
        wide = width_of(item.text or "", size)
        left = x - {"middle": wide / 2, "end": wide}.get(item.get("text-anchor", ""), 0.0)
        found.append((item.text or "", left, left + wide, y - 0.75 * size, y + 0.2 * size))
    return found


@pytest.mark.parametrize("view", ["side", "above"])
@pytest.mark.parametrize("width", [360.0, 660.0, 1000.0, 1384.0])
@pytest.mark.parametrize("name", SCENES)
def test_words_stay_on_the_sheet_and_apart(name: str, width: float, view: str) -> None:
    root = parsed(way(HR6, SCENES[name], view=view, width=width))
    _, _, wide, high = (float(part) for part in root.get("viewBox", "").split())
    assert wide == width
    boxes = words(root)
    assert boxes
    for text, left, right, top, bottom in boxes:
        assert -0.01 <= left <= right <= wide + 0.01, text
        assert -0.01 <= top <= bottom <= high + 0.01, text
    for a, b in combinations(boxes, 2):
        apart = a[2] <= b[1] + 0.5 or b[2] <= a[1] + 0.5 or a[4] <= b[3] + 0.5 or b[4] <= a[3] + 0.5
        assert apart, (a, b)


@pytest.mark.parametrize("view", ["side", "above"])
@pytest.mark.parametrize("name", SCENES)
def test_every_shape_stays_on_the_sheet(name: str, view: str) -> None:
    root = parsed(way(HR6, SCENES[name], view=view, width=660.0))
    _, _, wide, high = (float(part) for part in root.get("viewBox", "").split())
    for item in root.iter():
        for key in ("x", "x1", "x2", "cx"):
            assert 0 <= float(item.get(key, "0")) <= wide, item.attrib
        for key in ("y", "y1", "y2", "cy"):
            assert 0 <= float(item.get(key, "0")) <= high, item.attrib


@pytest.mark.parametrize("view", ["side", "above"])
def test_all_supports_and_stations_are_there(view: str) -> None:
    root = parsed(way(HR6, scene(), view=view))
    shapes = {item.get("data-support") for item in of_class(root, "support")}
    assert shapes == {support.name for support in FRONT + REAR}
    said = [text for text, *_ in words(root)]
    assert [said.count(str(number)) for number in range(1, 15)] == [1] * 14
    ticks = [item.get("data-position-mm") for item in of_class(root, "station")]
    assert ticks == [plain_number(position, 1) for position in STATIONS]
    assert len(of_class(root, "point")) == 22


def test_every_second_position_is_said_where_room_is_scarce() -> None:
    wide, narrow = (
        [text for text, *_ in words(parsed(way(HR6, scene(), width=width))) if text in map(plain_number, STATIONS)]
        for width in (1384.0, 660.0)
    )
    assert len(wide) == 22
    assert len(narrow) == 11


def test_headstock_left_and_positions_grow_to_the_left() -> None:
    root = parsed(way(HR6, scene(carriage_mm=1000.0)))
    x = {item.get("data-position-mm"): float(item.get("x1", "0")) for item in of_class(root, "station")}
    ordered = [x[plain_number(position, 1)] for position in STATIONS]
    assert ordered == sorted(ordered, reverse=True)
    headstock = next(iter(of_class(root, "headstock")[0]))
    assert float(headstock.get("x", "0")) + float(headstock.get("width", "0")) < min(ordered)
    source = next(iter(of_class(root, "source")[0]))
    assert float(source.get("x", "0")) + 9 > max(ordered)


def test_a_station_stands_over_its_place_on_the_bed() -> None:
    """Support 6 is painted at bed 5200; position 1050 from the tailstock mark (bed 6250) is the same place."""
    one = scene(position_mm=(1050.0, 0.0), deviation=(1.0, 2.0))
    root = parsed(way(HR6, one))
    station = float(of_class(root, "station")[0].get("x1", "0"))
    name = next(item for item in root.iter(f"{SVG}text") if item.text == "6")
    assert station == pytest.approx(float(name.get("x", "0")), abs=0.02)


def test_positions_grow_to_the_right_with_the_other_sense() -> None:
    machine = replace(HR6, bed=replace(HR6.bed, headstock_mm=(5500.0, 6400.0)))  # type: ignore[type-var]
    moved = scene(zero=PositionZero("tailstock mark", -6200.0, 1), source=SourceStand("floor"))
    root = parsed(way(machine, moved))
    ordered = [float(item.get("x1", "0")) for item in of_class(root, "station")]
    assert ordered == sorted(ordered)
    assert float(next(iter(of_class(root, "source")[0])).get("x", "0")) < min(ordered)


def heights(root: ElementTree.Element) -> list[float]:
    return [float(item.get("cy", "0")) for item in of_class(root, "point")]


def test_up_is_up_and_towards_the_operator_is_down_the_sheet() -> None:
    rising = scene(position_mm=(5000.0, 2500.0, 0.0), deviation=(-10.0, 0.0, 10.0))
    assert heights(parsed(way(HR6, rising))) == sorted(heights(parsed(way(HR6, rising))), reverse=True)
    side = replace(rising, quantity=code("EXZ"))
    below = heights(parsed(way(HR6, side, view="above")))
    assert below == sorted(below)


def test_the_stated_factor_is_the_drawn_one() -> None:
    root = parsed(way(HR6, scene(position_mm=(0.0, 2000.0, 4000.0), deviation=(-20.0, 0.0, 20.0))))
    said = next(text for text, *_ in words(root) if "enlarged" in text)
    factor = float(re.sub(r"[^0-9]", "", said.split("×")[0]))
    points = of_class(root, "point")
    x = [float(item.get("cx", "0")) for item in points]
    y = [float(item.get("cy", "0")) for item in points]
    px_per_mm = (max(x) - min(x)) / 4000.0
    assert (max(y) - min(y)) / 0.040 == pytest.approx(px_per_mm * factor, rel=1e-3)
    assert factor in {step * 10**power for step in (1, 2, 2.5, 5) for power in range(7)}


def test_outside_has_a_shape_and_a_word() -> None:
    root = parsed(way(HR6, scene(tolerance=30.0)))
    outside = of_class(root, "outside")
    assert 0 < len(outside) < 22
    assert {item.get("fill") for item in outside} == {LIGHT.panel}
    assert any(f"outside (hollow): {len(outside)}" in text for text, *_ in words(root))
    inside = parsed(way(HR6, scene(tolerance=60.0)))
    assert of_class(inside, "outside") == []
    assert any("all stations inside" in text for text, *_ in words(inside))
    assert of_class(parsed(way(HR6, scene())), "band") == []


def test_moves_name_support_and_amount() -> None:
    root = parsed(way(HR6, scene(moves_um=MOVES)))
    said = {text for text, *_ in words(root)}
    assert {"1: +70 µm", "5: \N{MINUS SIGN}90 µm", "13: +120 µm", "7: +200 µm", "14: \N{MINUS SIGN}200 µm"} <= said
    assert len(of_class(root, "move")) == 5


def test_the_carriage_is_amber_only_while_it_is_now() -> None:
    for live, colour in ((True, LIGHT.now), (False, LIGHT.ink)):
        root = parsed(way(HR6, scene(carriage_mm=1000.0, live=live)))
        assert next(iter(of_class(root, "carriage")[0])).get("stroke") == colour


def test_title_and_description_tell_the_picture() -> None:
    root = parsed(way(HR6, scene(moves_um={"1": 70.0}), ident="way-2"))
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert description is not None
    assert root.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}" == "way-2-title way-2-desc"
    assert title.text == "Way drawing of roll lathe HR-6"
    high, low = max(map(height_um, STATIONS)), min(map(height_um, STATIONS))
    for part in (
        "Bed of 6.4 m on 14 supports.", "22 of 22 stations are taken.", "height (EYZ)", "up is +",
        f"largest {signed(high)} µm", f"smallest {signed(low)} µm", "Support 1: move +70 µm.",
    ):  # fmt: skip
        assert part in (description.text or "")


def test_hostile_names_stay_text() -> None:
    wicked = Machine(HR6.id, "<script>&\x00", 'lathe"\'', HR6.axes, bed=replace(HR6.bed, supports=(  # type: ignore[type-var]
        Support("<b>&'\"\x07", 200.0),)))  # fmt: skip
    root = parsed(way(wicked, WayScene(carriage_mm=10.0)))
    assert [text for text, *_ in words(root) if text.startswith("<b>")] == ["<b>&'\"\N{REPLACEMENT CHARACTER}"]
    assert "<script>&\N{REPLACEMENT CHARACTER}" in (root.find(f"{SVG}title").text or "")  # type: ignore[union-attr]


def test_a_machine_without_a_described_bed() -> None:
    root = parsed(way(replace(HR6, bed=None, marks=()), scene(zero=None, source=None)))
    assert len(of_class(root, "point")) == 22


@pytest.mark.parametrize(
    ("changes", "view", "sentence"),
    [
        ({"deviation": (1.0,)}, "side", "There are 22 positions and 1 values. Give one value for each position."),
        ({"moves_um": {"15": 1.0}}, "side",
         "HR-6 has no support '15'. Use a name that is painted at a support."),
        ({"zero": PositionZero("door")}, "side",
         "The position zero is tied to the mark 'door', which HR-6 does not have. "
         "Add the mark to the machine or choose another."),
        ({}, "below", "There is no view 'below' of the way drawing. Use one of: side, above."),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_said(changes: dict[str, object], view: str, sentence: str) -> None:
    with pytest.raises(BadInput) as caught:
        way(HR6, scene(**changes), view=view)
    assert str(caught.value) == sentence


def test_the_same_records_give_the_same_drawing() -> None:
    assert way(HR6, scene()) == way(HR6, scene())


SETTINGS = ("+12.5 µm", "\N{MINUS SIGN}0.7 smallest", "positions in mm from the tailstock mark ×", "0123456789")
SETTINGS += ("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "abcdefghijklmnopqrstuvwxyz", ".,;:·()←→↓%")


@pytest.mark.parametrize("text", SETTINGS)
def test_widths_agree_with_the_font_as_typst_sets_it(text: str) -> None:
    import typst

    source = (
        '#set text(font: "B612", size: 100pt, kerning: false, ligatures: false)\n'
        f"#context [#metadata(measure({json.dumps(text, ensure_ascii=False)}).width / 1pt) <wide>]"
    )
    found = typst.query(
        source.encode(), "<wide>", field="value", one=True, font_paths=[str(font_folder())], ignore_system_fonts=True
    )
    assert width_of(text, 100.0) == pytest.approx(float(json.loads(found)), abs=0.6)


def luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("palette", [LIGHT, DARK, PRINT])
def test_words_can_be_read_in_every_colour(palette: Palette) -> None:
    """WCAG 2.2, success criterion 1.4.3: contrast of 4.5 or more."""
    for colour in (palette.ink, palette.mute, palette.now, palette.inside, palette.outside, palette.undecided):
        for ground in (palette.paper, palette.panel):
            low, high = sorted((luminance(colour), luminance(ground)))
            assert (high + 0.05) / (low + 0.05) >= 4.5, (colour, ground)


def test_pages_can_name_the_colours() -> None:
    assert f'stroke="var(--ink, {LIGHT.ink})"' in way(HR6, scene(), palette=VARIABLES)


def test_a_bed_that_is_not_described_reaches_as_far_as_a_mark_and_its_stations() -> None:
    """Positions that grow to the left of a mark lie before it on the bed: none may fall off the sheet."""
    bare = replace(HR6, bed=None)
    for view in ("side", "above"):
        root = parsed(way(bare, scene(), view=view))
        places = [float(each.get("cx", "nan")) for each in root.iter(f"{SVG}circle")]
        width = float(root.get("viewBox", "").split()[2])
        assert places
        assert all(0.0 <= place <= width for place in places)
