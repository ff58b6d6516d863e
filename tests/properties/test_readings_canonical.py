"""The canonical bytes of a reading: everything comes back, everything is sealed."""

from dataclasses import FrozenInstanceError, replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waywright.readings import (
    ChannelValue,
    Reading,
    Trace,
    canonical_bytes,
    packed,
    read_canonical,
    seal,
    sealed_hash,
    unpacked,
)
from waywright.readings.sealed import read_sealed

floats = st.floats(allow_nan=False, allow_infinity=False)
moments = st.datetimes(datetime(1971, 1, 1), datetime(2200, 1, 1), timezones=st.just(UTC))
ids = st.uuids(allow_nil=False)
values = st.builds(
    ChannelValue, st.text(max_size=20).map(lambda t: f"beam.{t}_um"), floats, floats, st.integers(0, 2**31)
)


@st.composite
def made_readings(draw: st.DrawFn) -> Reading:
    return Reading(
        id=draw(ids),
        pass_id=draw(ids),
        number=draw(st.integers(0, 2**32 - 1)),
        position_mm=draw(floats),
        direction=draw(st.sampled_from(["forward", "backward", None])),
        values=tuple(draw(st.lists(values, max_size=4))),
        began_utc=draw(moments),
        ended_utc=draw(moments),
        taken_by=draw(st.sampled_from(["standstill", "hand", "typed"])),
        supersedes=draw(st.none() | ids),
    )


def nfc(reading: Reading) -> Reading:
    import unicodedata

    kept = tuple(replace(value, channel=unicodedata.normalize("NFC", value.channel)) for value in reading.values)
    return replace(reading, values=kept)


def comparable(reading: Reading) -> list[object]:
    return [getattr(reading, name) for name in reading.__slots__ if name not in ("window", "hash")]


@given(made_readings(), made_readings())
def test_a_sealed_reading_comes_back_from_its_bytes(first: Reading, second: Reading) -> None:
    sealed = seal(second, seal(first, None))
    back = read_canonical(canonical_bytes(sealed))
    assert comparable(back) == comparable(nfc(sealed))
    assert back.hash == sealed.hash
    assert canonical_bytes(back) == canonical_bytes(sealed)


@given(made_readings(), made_readings())
def test_a_reading_is_the_same_by_the_quick_way(one: Reading, other: Reading) -> None:
    """The first time a layout is met, the second time, and with other numbers and names of the same length."""
    named = replace(one, values=tuple(replace(value, channel=value.channel[::-1]) for value in one.values))
    numbered = replace(other, direction=one.direction, taken_by=one.taken_by, values=one.values)
    for reading in (one, one, numbered, named, one):
        data = canonical_bytes(seal(reading, None))
        quick, careful = read_sealed(data, sealed_hash(data)), read_canonical(data)
        assert comparable(quick) == comparable(careful)
        assert (type(quick), quick.hash, quick.window) == (Reading, careful.hash, ())
        assert all(type(value) is ChannelValue for value in quick.values)
        with pytest.raises(FrozenInstanceError):
            quick.number = 1  # type: ignore[misc]


@given(made_readings(), st.integers(0), st.integers(0, 7))
def test_every_bit_is_under_the_seal(reading: Reading, place: int, bit: int) -> None:
    data = bytearray(canonical_bytes(seal(reading, None)))
    data[place % len(data)] ^= 1 << bit
    assert sealed_hash(bytes(data)) != seal(reading, None).hash


def test_the_windows_samples_are_under_the_seal() -> None:
    moment = datetime(2026, 3, 1, tzinfo=UTC)
    trace = Trace("beam.vertical_um", np.array([0.0, 0.02]), np.array([1.0, 2.0]))
    one = Reading(
        UUID(int=1), UUID(int=2), 0, 1.0, "forward", (), moment, moment + timedelta(seconds=2), window=(trace,)
    )
    other = replace(one, window=(replace(trace, value=np.array([1.0, np.nextafter(2.0, 3)])),))
    assert seal(one, None).hash != seal(other, None).hash


def test_the_bytes_are_as_documented() -> None:
    """Laid out by hand from the documentation, not by the code."""
    moment = datetime(1970, 1, 1, 0, 0, 1, tzinfo=UTC)
    reading = Reading(UUID(int=1), UUID(int=2), 3, 0.5, None, (ChannelValue("a", 1.0, 2.0, 4),), moment, moment)
    expected = (
        b"WWR1" + bytes(15) + b"\x01" + bytes(15) + b"\x02" + b"\x03\0\0\0" + b"\0\0\0\0\0\0\xe0\x3f"
        + b"\0\0\0\0" + b"\x0a\0\0\0standstill" + b"\x40\x42\x0f\0\0\0\0\0" * 2 + bytes(16)
        + b"\x01\0\0\0" + b"\x01\0\0\0a" + b"\0\0\0\0\0\0\xf0\x3f" + b"\0\0\0\0\0\0\0\x40" + b"\x04\0\0\0"
        + b"\0\0\0\0" + bytes(32)
    )  # fmt: skip
    assert canonical_bytes(reading) == expected


@pytest.mark.parametrize("damage", [lambda d: d[:-1], lambda d: d + b"\0", lambda d: b"XXXX" + d[4:], lambda d: b""])
def test_bytes_that_are_not_canonical_are_refused(damage: object) -> None:
    moment = datetime(2026, 3, 1, tzinfo=UTC)
    reading = Reading(UUID(int=1), UUID(int=2), 0, 1.0, "forward", (), moment, moment)
    with pytest.raises(ValueError, match="canonical"):
        read_canonical(damage(canonical_bytes(reading)))  # type: ignore[operator]


@given(st.lists(st.floats(), max_size=200))
def test_packing_loses_no_bit(numbers: list[float]) -> None:
    array = np.array(numbers, dtype=np.float64)
    assert unpacked(packed(array), array.shape).tobytes() == array.tobytes()
