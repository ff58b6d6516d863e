"""Propagation against GTC, the uncertainty library of a national metrology institute, as an independent oracle."""

import math
from collections.abc import Callable
from typing import Any

import GTC as gtc  # noqa: N811 - its own name
import numpy as np
import pytest

from waywright.uncertainty import normal, propagate

CASES: list[tuple[Callable[..., Any], Callable[..., Any]]] = [
    (lambda a, b, c: a * b / c, lambda a, b, c: a * b / c),
    (lambda a, b, c: np.sin(a) + b**2 * c, lambda a, b, c: gtc.sin(a) + b**2 * c),
    (lambda a, b, c: np.hypot(a, b) * np.exp(c), lambda a, b, c: gtc.sqrt(a**2 + b**2) * gtc.exp(c)),
]
MEANS = (1.3, 2.7, 0.9)
UNCERTAINTIES = (0.01, 0.03, 0.02)
DEGREES = (7.0, 12.0, 25.0)


@pytest.mark.parametrize(("ours", "theirs"), CASES)
@pytest.mark.parametrize("r", [None, -0.6, 0.9])
def test_first_order_with_and_without_correlation(
    ours: Callable[..., Any], theirs: Callable[..., Any], r: float | None
) -> None:
    degrees = DEGREES if r is None else (math.inf,) * 3
    inputs = {n: normal(*arguments) for n, *arguments in zip("abc", MEANS, UNCERTAINTIES, degrees, strict=True)}
    oracle = [gtc.ureal(*x, independent=r is None) for x in zip(MEANS, UNCERTAINTIES, degrees, strict=True)]
    if r is not None:
        gtc.set_correlation(r, oracle[0], oracle[1])
    expected = theirs(*oracle)
    result = propagate(ours, inputs, correlation={} if r is None else {("a", "b"): r})
    assert result.value == pytest.approx(expected.x, rel=1e-12)
    assert result.standard_uncertainty == pytest.approx(expected.u, rel=1e-6)
    if r is None:
        assert result.degrees_of_freedom == pytest.approx(expected.df, rel=1e-5)
        for component, item in zip(result.components, oracle, strict=True):
            assert component.contribution == pytest.approx(gtc.reporting.u_component(expected, item), rel=1e-6)
