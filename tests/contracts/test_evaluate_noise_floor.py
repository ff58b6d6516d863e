"""What noise alone makes of a perfect axis.

The expected multiples of sigma (least squares 3.0 3.7 4.3, end points 3.2 3.9 4.6 at 11, 21, 41 stations) are common
practice, computed, without a published source; they are therefore checked twice, here against an independent
simulation written with numpy alone. Published constants for the plain range are in test_evaluate_draws.
"""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import REFERENCES, straightness
from waywright.uncertainty import noise_floor_um, noise_values, standard_normals

DRAWS = 40_000


def independent(stations: int, reference: str) -> np.ndarray:
    """Ranges of numpy's own noise about a line found by textbook formulas."""
    y = np.random.default_rng(stations).standard_normal((DRAWS, stations))
    u = np.linspace(-1.0, 1.0, stations)
    slope = (y[:, -1] - y[:, 0]) / 2.0 if reference == "end-points" else (y @ u) / (u @ u)
    off = y - slope[:, None] * u
    return off.max(axis=1) - off.min(axis=1)


@pytest.mark.parametrize(
    ("reference", "stations", "multiple"),
    [
        ("least-squares", 11, 3.0),
        ("least-squares", 21, 3.7),
        ("least-squares", 41, 4.3),
        ("end-points", 11, 3.2),
        ("end-points", 21, 3.9),
        ("end-points", 41, 4.6),
    ],
)
def test_multiples_of_the_noise(reference: str, stations: int, multiple: float) -> None:
    floor = noise_floor_um(np.arange(stations) * 250.0, 1.0, reference, draws=DRAWS)
    check = independent(stations, reference)
    # 3.9 is 3.95 to two places: common practice cuts off where rounding is a toss-up
    assert floor.mean_um == pytest.approx(multiple, abs=0.06)
    standard_error = floor.sd_um * np.sqrt(2.0 / DRAWS)
    assert floor.mean_um == pytest.approx(check.mean(), abs=4.5 * standard_error)
    assert floor.sd_um == pytest.approx(check.std(), rel=0.03)
    assert floor.upper_95_um == pytest.approx(np.quantile(check, 0.95), abs=0.03)


@pytest.mark.parametrize("reference", REFERENCES)
def test_the_values_are_those_of_straightness_on_the_same_draws(reference: str) -> None:
    x = np.array([0.0, 110.0, 250.0, 400.0, 480.0, 700.0, 905.0])
    noise = standard_normals(7 * 200, seed=3).reshape(200, 7).T
    expected = straightness(x, noise, reference).value_um
    assert noise_values(x, reference, 200, seed=3) == pytest.approx(expected, rel=1e-12)


def test_the_floor_grows_with_the_noise_and_shrinks_from_line_to_line() -> None:
    x = np.arange(20) * 100.0
    floors = {reference: noise_floor_um(x, 0.5, reference, draws=5000, seed=4) for reference in REFERENCES}
    means = [floors[reference].mean_um for reference in REFERENCES]
    assert means == sorted(means, reverse=True)
    double = noise_floor_um(x, 1.0, "minimum-zone", draws=5000, seed=4)
    assert double.mean_um == pytest.approx(2.0 * floors["minimum-zone"].mean_um)
    assert (double.stations, double.draws, double.seed) == (20, 5000, 4)


@pytest.mark.parametrize("sigma_um", [0.0, -1.0, np.nan, np.inf])
def test_a_noise_that_is_none_is_refused(sigma_um: float) -> None:
    with pytest.raises(BadInput, match="above zero"):
        noise_floor_um([0.0, 1.0, 2.0], sigma_um)


def test_other_refusals() -> None:
    with pytest.raises(BadInput, match="no reference line"):
        noise_values([0.0, 1.0, 2.0], "mean", 10, seed=1)
    with pytest.raises(BadInput, match="station 3"):
        noise_values([0.0, 2.0, 1.0], "end-points", 10, seed=1)
    with pytest.raises(BadInput, match="at least 1 draws"):
        noise_values([0.0, 1.0, 2.0], "end-points", 0, seed=1)
