"""Every template can be used as it is: codes fit the machine, rules can be read, procedures and drawings are there."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from waywright.drawing.setup_pictures import PICTURES, setup_picture
from waywright.errors import BadInput
from waywright.files.plan_template import items_of, template, template_for, template_names
from waywright.files.procedures import procedure, procedure_keys
from waywright.quantities import Axes, code
from waywright.verdict import tolerance

LATHE, UPRIGHT_Z, UPRIGHT_Y = Axes("-Y", "+X"), Axes("+Z", "-Y"), Axes("+Y", "+Z")
KINDS = {
    "roll lathe": "lathe",
    "vertical machining centre": "machining-centre-vertical",
    "horizontal machining centre": "machining-centre-horizontal",
    "travelling-column borer": "floor-borer",
    "floor-type boring mill": "floor-borer",
    "portal mill": "portal-mill",
    "gantry mill": "gantry-mill",
    "surface grinder": "surface-grinder",
    "cylindrical grinder": "cylindrical-grinder",
    "bare bed": "bare-bed",
    "surface plate": "surface-plate",
}


def test_every_kind_of_machine_of_the_trade_has_a_template() -> None:
    assert {kind: template_for(kind) for kind in KINDS} == KINDS
    assert set(KINDS.values()) == set(template_names())
    assert template_for("kettle") is None
    with pytest.raises(BadInput, match="There are: bare-bed, cylindrical-grinder"):
        template("kettle")


@pytest.mark.parametrize("name", template_names())
def test_a_template_can_be_used_as_it_is(name: str) -> None:
    for axes in (LATHE, UPRIGHT_Z, UPRIGHT_Y):
        items = items_of(name, axes)
        assert len({item.key for item in items}) == len(items)
        for item in items:
            assert item.tolerance is not None
            tolerance(item.tolerance.rule)
            assert item.standard is not None
            assert item.standard.startswith("ISO ")
            assert procedure(str(item.procedure)).steps
            assert "{" not in item.what
            if item.code is not None:
                assert code(item.code).axis == item.axis


@pytest.mark.parametrize("name", template_names())
def test_no_tolerance_of_a_template_binds_anybody(name: str) -> None:
    for item in items_of(name, UPRIGHT_Z):
        assert item.information_only
        assert item.tolerance is not None
        assert item.tolerance.example
        assert (item.tolerance.source, item.tolerance.confirmed) == (None, False)


def test_codes_follow_the_axes_of_the_machine() -> None:
    """ISO 230-1 letters: direction, then axis; on a lathe's carriage height is Y, on a milling machine's table Z."""
    lathe = {item.key: item.code for item in items_of("lathe", LATHE)}
    assert lathe["z-height"] == "EYZ"
    assert lathe["z-side"] == "EXZ"
    assert (lathe["z-roll"], lathe["z-pitch"], lathe["z-yaw"]) == ("ECZ", "EAZ", "EBZ")
    mill = {item.key: item.code for item in items_of("portal-mill", UPRIGHT_Z)}
    assert (mill["x-height"], mill["x-side"]) == ("EZX", "EYX")
    assert (mill["z-first"], mill["z-second"]) == ("EXZ", "EYZ")


@pytest.mark.parametrize("key", procedure_keys())
def test_a_procedure_says_steps_what_goes_wrong_and_cautions_and_shows_its_set_up(key: str) -> None:
    found = procedure(key)
    assert len(found.steps) >= 3
    assert found.wrong
    assert found.cautions
    assert procedure(key.partition(".")[2]) == found
    drawn = setup_picture(found.picture, found.title, ident="x")
    assert drawn is not None
    root = ElementTree.fromstring(drawn)
    assert root.attrib["role"] == "img"
    assert found.title in str(root[0].text)
    x1, y1, width, height = map(float, root.attrib["viewBox"].split())
    for circle in root.iter("{http://www.w3.org/2000/svg}circle"):
        assert x1 < float(circle.attrib["cx"]) < x1 + width
        assert y1 < float(circle.attrib["cy"]) < y1 + height


def test_no_drawing_is_left_over() -> None:
    assert set(PICTURES) == {key.partition(".")[2] for key in procedure_keys()}
    assert setup_picture("kettle", "x") is None
    with pytest.raises(BadInput, match="no procedure kettle"):
        procedure("kettle")
