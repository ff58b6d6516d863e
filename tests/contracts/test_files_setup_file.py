"""The set-up file: what it may say, and how it complains."""

import textwrap
from pathlib import Path

import pytest

from waywright.errors import BadInput
from waywright.files import setup_file
from waywright.files.setup_file import read_setup_file, write_setup_file
from waywright.visit import MachineState, PositionZero, SourceStand

EXAMPLE = textwrap.dedent((setup_file.__doc__ or "").split("::\n", 1)[1])


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "line.toml"


def test_the_documented_example_reads(path: Path) -> None:
    path.write_text(EXAMPLE)
    found = read_setup_file(path)
    assert (found.line.name, found.line.axis, found.line.to_mm) == ("carriage along the bed", "Z", 5200.0)
    assert found.set_up.source == SourceStand("bed", 6250.0)
    assert found.set_up.zero == PositionZero("tailstock mark", sense=-1)
    assert found.conditions.machine == MachineState(anchor_bolts="final")
    assert found.conditions.temperatures[0].value_degc == 20.4


def test_what_is_written_reads_back(path: Path) -> None:
    path.write_text(EXAMPLE)
    facts = read_setup_file(path)
    write_setup_file(facts, path)
    assert read_setup_file(path) == facts


def test_a_name_and_an_axis_are_enough(path: Path) -> None:
    path.write_text('[line]\nname = "ways"\naxis = "X"\n')
    assert read_setup_file(path).set_up.detector_side is None


@pytest.mark.parametrize(
    ("before", "after", "complaint"),
    [
        (
            "detector_side",
            "detecor_side",
            r"key set_up\.detecor_side: there is no such key\. Allowed here: .*detector_side",
        ),
        ('"tool"', '"tol"', r"key set_up\.detector_side: Invalid enum value 'tol'"),
        ("bed_mm = 6250.0", 'bed_mm = "far"', r"key set_up\.source\.bed_mm: Expected `float"),
        ('anchor_bolts = "final"', 'bolts = "final"', r"key conditions\.machine\.bolts: there is no such key"),
        ("value_degc", "degc", r"key conditions\.temperatures\.1\.degc: there is no such key"),
        ("[line]", "[line", "is not a TOML file"),
        ('axis = "Z"', "", "missing required field `axis`"),
    ],
)
def test_a_mistake_is_named_with_file_key_and_what_is_allowed(
    path: Path, before: str, after: str, complaint: str
) -> None:
    path.write_text(EXAMPLE.replace(before, after))
    with pytest.raises(BadInput, match=complaint) as caught:
        read_setup_file(path)
    assert str(path) in str(caught.value)


def test_a_missing_file_says_so(path: Path) -> None:
    with pytest.raises(BadInput, match="cannot be read: No such file"):
        read_setup_file(path)
