"""Errors speak, carry their facts, and cross process borders; the library's names are all there."""

import pickle

import pytest

import waywright
from waywright.errors import ArchiveError, BadInput, WaywrightError


@pytest.mark.parametrize("kind", [WaywrightError, BadInput, ArchiveError])
def test_an_error_survives_pickling_with_its_facts(kind: type[WaywrightError]) -> None:
    error = kind("toml.bad_value", file="a.toml", key="line.axis", reason="Invalid enum value 'Q'")
    back = pickle.loads(pickle.dumps(error))
    assert type(back) is kind
    assert (back.key, back.facts) == (error.key, error.facts)
    assert str(back) == "a.toml, key line.axis: Invalid enum value 'Q'. Correct the value."


def test_every_name_of_the_library_is_there_and_documented() -> None:
    for name in waywright.__all__:
        assert getattr(waywright, name).__doc__, name
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        _ = waywright.nonsense  # type: ignore[attr-defined]
