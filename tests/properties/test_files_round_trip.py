"""What is written is read back equal, to the last bit."""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from waywright.files import ReadingsTable, read_table, write_table

NUMBERS = st.floats(allow_nan=False, allow_infinity=False, min_value=-1e12, max_value=1e12)
CODES = st.sampled_from(["EYZ", "EXZ", "ECZ", "EAX", "EZX", "EXX"])
WORDS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\n\r\0"), max_size=12).map(str.strip)
KEYS = WORDS.filter(lambda key: bool(key) and ":" not in key and not key.startswith("#"))


@st.composite
def tables(draw: st.DrawFn) -> ReadingsTable:
    """Any table a pass or several can give: distinct positions, optional columns in any combination."""
    position = draw(st.lists(NUMBERS, min_size=3, max_size=12, unique=True))
    size = len(position)
    column = st.lists(NUMBERS, min_size=size, max_size=size)
    spread = st.lists(NUMBERS.map(abs) | st.just(np.nan), min_size=size, max_size=size)
    counts = st.lists(st.integers(0, 999_999_999), min_size=size, max_size=size)
    codes = draw(st.lists(CODES, min_size=1, max_size=3, unique=True))
    return ReadingsTable(
        position,
        {code: draw(column) for code in codes},
        draw(st.none() | st.lists(st.integers(1, 5), min_size=size, max_size=size)),
        draw(st.none() | st.lists(st.sampled_from(["forward", "backward", None]), min_size=size, max_size=size)),
        {code: draw(spread) for code in codes if draw(st.booleans())},
        draw(st.none() | counts),
        {code: draw(counts) for code in codes if draw(st.booleans())},
        draw(st.dictionaries(KEYS, WORDS, max_size=4)),
    )  # type: ignore[arg-type]


def same(one: ReadingsTable, other: ReadingsTable) -> bool:
    """Equal in every field; NaN equals NaN, and 0.0 is not -0.0."""
    for name in ("position_mm", "pass_number", "samples"):
        if not alike(getattr(one, name), getattr(other, name)):
            return False
    for name in ("columns", "standard_deviation", "samples_of"):
        a, b = getattr(one, name), getattr(other, name)
        if list(a) != list(b) or not all(alike(a[key], b[key]) for key in a):
            return False
    return one.direction == other.direction and dict(one.metadata) == dict(other.metadata)


def alike(a: np.ndarray | None, b: np.ndarray | None) -> bool:
    if a is None or b is None:
        return a is b
    return bool(np.array_equal(a, b, equal_nan=a.dtype.kind == "f") and np.array_equal(np.signbit(a), np.signbit(b)))


@given(tables())
def test_written_and_read_back(table: ReadingsTable) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "t.csv"
        write_table(path, table)
        assert same(read_table(path), table)


@given(tables())
def test_passes_hold_every_row_once(table: ReadingsTable) -> None:
    parts = table.passes()
    assert sorted(np.concatenate([part.position_mm for part in parts])) == sorted(table.position_mm)
    for part in parts:
        assert part.pass_number is None or len(set(part.pass_number.tolist())) == 1


@given(tables(), st.sampled_from([";", "\t"]))
def test_another_hand_writes_the_same_table(table: ReadingsTable, delimiter: str) -> None:
    """Decimal comma, byte order mark and CRLF, as an office program writes it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "t.csv"
        write_table(path, ReadingsTable(table.position_mm, table.columns, table.pass_number))
        text = path.read_text(encoding="utf-8").replace(",", delimiter).replace(".", ",").replace("\n", "\r\n")
        path.write_bytes(b"\xef\xbb\xbf" + text.encode())
        assert same(read_table(path), ReadingsTable(table.position_mm, table.columns, table.pass_number))
