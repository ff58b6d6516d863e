"""Samples of a window come back bit for bit, whatever they are."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from waywright.archive.windows import pack_window, unpack_window
from waywright.readings import Trace

ANY_FLOAT = st.floats(allow_nan=True, allow_infinity=True, allow_subnormal=True)


@st.composite
def traces(draw: st.DrawFn) -> Trace:
    count = draw(st.integers(0, 30))
    numbers = [draw(arrays(np.float64, count, elements=ANY_FLOAT)) for _ in range(2)]
    return Trace(draw(st.text(max_size=12)), *numbers)


@given(st.lists(traces(), max_size=4))
def test_every_window_comes_back(window: list[Trace]) -> None:
    found = unpack_window(pack_window(tuple(window)))
    assert [trace.channel for trace in found] == [trace.channel for trace in window]
    for one, two in zip(found, window, strict=True):
        assert one.time_s.tobytes() == two.time_s.tobytes()
        assert one.value.tobytes() == two.value.tobytes()
