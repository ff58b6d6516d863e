"""The machine file: what is read, what is written, and what an error names."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from waywright.errors import BadInput
from waywright.files.machine_file import machine_text, read_machine, write_machine
from waywright.machine import Bed, Carriage, Joint, Support, checked_bed

TEXT = """
format = 1
name = "HR-6"
kind = "roll lathe"
invented = true

[axes]
up = "-Y"
operator = "+X"

[bed]
length_mm = 6400
gauge_mm = 500
bending_n_m2 = "unknown"
headstock_mm = [0, 900]

[bed.carriage]
pad_spacing_mm = 700
mass_kg = 900

[bed.every_support]
kind = "wedge-shoe"
lift_um_per_turn = 160

[[bed.support]]
name = "1"
bed_mm = 150

[[bed.support]]
name = "8"
bed_mm = 150
row = "rear"
raise_turn = "anticlockwise"
load_felt = "no"

[[bed.joint]]
bed_mm = 3000
extra_length_mm = 400

[[mark]]
name = "tailstock end"
bed_mm = 6400

[[travel]]
axis = "Z"
from_mm = 900
to_mm = 6100
"""


def written(folder: Path, text: str) -> Path:
    path = folder / "machine.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_every_part_is_read(tmp_path: Path) -> None:
    machine = read_machine(written(tmp_path, TEXT))
    bed = machine.bed
    assert bed is not None
    assert bed.bending_n_m2 is None
    assert bed.carriage == Carriage(700.0, 900.0)
    assert bed.joints == (Joint(3000.0, 400.0),)
    assert [support.lift_um_per_turn for support in bed.supports] == [160.0, 160.0]
    assert bed.supports[1].raise_turn == "anticlockwise"
    assert bed.support_across_mm(bed.supports[0]) == 250.0
    assert bed.support_across_mm(bed.supports[1]) == -250.0
    assert machine.marks[0].bed_mm == 6400.0
    assert machine.travels[0].axis == "Z"


def test_what_is_written_is_read_back_the_same(tmp_path: Path) -> None:
    machine = read_machine(written(tmp_path, TEXT))
    again = tmp_path / "again.toml"
    write_machine(machine, again)
    assert read_machine(again) == machine
    assert machine_text(read_machine(again)) == machine_text(machine)


def test_same_file_gives_same_id(tmp_path: Path) -> None:
    path = written(tmp_path, TEXT)
    assert read_machine(path).id == read_machine(path).id


@pytest.mark.parametrize(
    ("change", "key", "words"),
    [
        (("bed_mm = 150\nrow", "bed_mm = 9150\nrow"), "machine.off_the_bed", ["support[8].bed_mm", "9150"]),
        (('row = "rear"', 'row = "back"'), "machine.not_one_of", ["support[8].row", "back", "front, middle, rear"]),
        (('row = "rear"\n', ""), "machine.support_place_twice", ["8", "1"]),
        (('name = "8"', 'name = "1"'), "machine.support_name_twice", ["1"]),
        (("bed_mm = 150\nrow", "bedmm = 150\nrow"), "machine.file_unknown_key", ["bed.support[8]", "bedmm", "bed_mm"]),
        (("bed_mm = 150\nrow", "row"), "machine.file_missing_key", ["bed.support[8]", "bed_mm"]),
        (("bed_mm = 150\nrow", 'bed_mm = "x"\nrow'), "machine.file_wrong_type", ["bed.support[8]", "bed_mm"]),
        (("gauge_mm = 500", "gauge_mm = -500"), "machine.not_positive", ["gauge_mm", "-500"]),
        (("format = 1", "format = 2"), "machine.file_format", ["2"]),
        (("[axes]", "[axes"), "machine.file_not_toml", ["TOML"]),
        (('operator = "+X"\n', ""), "machine.file_missing_key", ["axes", "operator"]),
        (("lift_um_per_turn = 160", "lift_um_per_turn = 0"), "machine.not_positive", ["support[1].lift_um_per_turn"]),
    ],
)
def test_an_error_names_the_key_and_the_support(
    tmp_path: Path, change: tuple[str, str], key: str, words: list[str]
) -> None:
    assert change[0] in TEXT
    with pytest.raises(BadInput) as caught:
        read_machine(written(tmp_path, TEXT.replace(*change, 1)))
    assert caught.value.key == key
    for word in words:
        assert word in str(caught.value)


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no machine file"):
        read_machine(tmp_path / "none.toml")


def test_a_step_larger_than_the_largest_move_is_refused() -> None:
    bed = Bed(1000.0, (Support("4", 100.0, smallest_step_um=300.0),))
    with pytest.raises(BadInput, match="smallest step of support 4"):
        checked_bed(bed)
    fine = replace(bed, supports=(Support("4", 100.0),))
    assert checked_bed(fine) is fine
