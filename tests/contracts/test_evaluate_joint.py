"""Step and kink at a joint; two ways as one surface, gauge and height."""

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import flatness, joint, two_ways

X_MM = np.arange(100.0, 5000.0, 200.0)
AT_MM = 2400.0


def way(step_um: float, kink_um_per_m: float, bow_um: float = 30.0) -> np.ndarray:
    far = X_MM > AT_MM
    bow = bow_um * (1 - ((X_MM - 2500) / 2500) ** 2)
    return np.asarray(bow + 0.003 * X_MM - 12 + far * (step_um + kink_um_per_m * (X_MM - AT_MM) / 1000.0))


@pytest.mark.parametrize(("step", "kink"), [(6.0, 0.0), (0.0, -15.0), (-4.0, 22.0), (0.0, 0.0)])
def test_step_and_kink_come_back(step: float, kink: float) -> None:
    found = joint(X_MM, way(step, kink), AT_MM, noise_um=0.1)
    assert found.step_um == pytest.approx(step, abs=1e-9)
    assert found.kink_um_per_m == pytest.approx(kink, abs=1e-9)
    assert (found.step_seen, found.kink_seen) == (step != 0.0, kink != 0.0)
    assert (found.before, found.after) == (12, 13)
    assert found.judged


def test_without_a_bow_a_bow_is_a_kink() -> None:
    assert joint(X_MM, way(0, 0), AT_MM, bow=False).kink_um_per_m < -10


def test_uncertainties_are_those_of_a_simulation_and_the_rate_of_false_alarms_is_five_percent() -> None:
    rng = np.random.default_rng(17)
    found = joint(X_MM, way(3.0, 0.0)[:, None] + rng.normal(0, 0.5, (X_MM.size, 6000)), AT_MM, within_mm=1300)
    assert (found.before, found.after) == (7, 7)
    assert found.step_um.mean() == pytest.approx(3.0, abs=0.03)
    for size, stated in (
        (found.step_um, found.step_uncertainty_um),
        (found.kink_um_per_m, found.kink_uncertainty_um_per_m),
    ):
        assert np.sqrt(np.mean(stated**2)) == pytest.approx(size.std(), rel=0.03)
    assert np.mean(found.kink_seen) == pytest.approx(0.05, abs=0.01)


def test_a_larger_known_noise_holds() -> None:
    rng = np.random.default_rng(1)
    y = way(0, 0) + rng.normal(0, 0.2, X_MM.size)
    free, known = joint(X_MM, y, AT_MM), joint(X_MM, y, AT_MM, noise_um=5.0)
    assert known.noise_um == 5.0
    assert known.coverage_factor == pytest.approx(1.96, abs=0.001)
    assert free.coverage_factor > 2.0
    ratio = known.step_uncertainty_um / free.step_uncertainty_um
    assert ratio == pytest.approx(5.0 / free.noise_um)
    assert joint(X_MM, y, AT_MM, noise_um=0.001).noise_um == pytest.approx(free.noise_um)


@pytest.mark.parametrize(("bow", "needed"), [(True, 4), (False, 3)])
def test_too_few_stations_are_not_judged(bow: bool, needed: int) -> None:
    x = X_MM[np.argsort(np.abs(X_MM - AT_MM))]
    near = np.sort(np.concatenate([x[x < AT_MM][: needed - 1], x[x > AT_MM]]))
    y = np.interp(near, X_MM, way(5, 0))
    few = joint(near, y, AT_MM, bow=bow)
    assert not few.judged
    assert few.step_um is None
    assert not few.step_seen
    assert few.reason is not None
    assert few.reason.facts["needed"] == needed
    near = np.sort(np.concatenate([x[x < AT_MM][:needed], x[x > AT_MM]]))
    assert joint(near, np.interp(near, X_MM, way(5, 0)), AT_MM, bow=bow).judged


def test_a_station_on_the_joint_belongs_to_no_side() -> None:
    x, y = np.append(X_MM, AT_MM), np.append(way(6, 0), 1e6)
    assert joint(x, y, AT_MM).step_um == pytest.approx(6.0)


def test_mirrored_heights_and_another_order_and_datum() -> None:
    rng = np.random.default_rng(9)
    y = way(4.0, 9.0) + rng.normal(0, 0.3, X_MM.size)
    first, order = joint(X_MM, y, AT_MM), rng.permutation(X_MM.size)
    assert joint(X_MM[order], y[order], AT_MM).step_um == pytest.approx(first.step_um)
    assert joint(X_MM, -y, AT_MM).kink_um_per_m == pytest.approx(-first.kink_um_per_m)
    assert joint(X_MM, y + 40 - 0.1 * X_MM, AT_MM).step_um == pytest.approx(first.step_um)
    back = joint(-X_MM, y, -AT_MM)
    assert back.step_um == pytest.approx(-first.step_um)
    assert back.kink_um_per_m == pytest.approx(first.kink_um_per_m)


def test_joint_refusals() -> None:
    with pytest.raises(BadInput):
        joint(X_MM, way(0, 0), AT_MM, noise_um=0.0)
    with pytest.raises(BadInput):
        joint(X_MM, np.zeros((X_MM.size, 2, 2)), AT_MM)


def test_two_ways_of_a_known_surface() -> None:
    """Heights of both ways from a twisted, tilted, bowed surface; sides from a gauge that opens."""
    first = 20 * np.sin(X_MM / 1500)
    cross = -0.010 + 0.004 * X_MM / 1000.0  # mm/m
    second = first + cross * 800
    found = two_ways(X_MM, first, second, 800.0, first_side_um=X_MM * 0.001, second_side_um=X_MM * 0.004)
    assert found.cross_level_mm_per_m == pytest.approx(cross)
    assert found.twist_um_per_m == pytest.approx(4.0 * 4.8)
    assert found.height_angle_um_per_m == pytest.approx(3.2)
    assert found.gauge_angle_um_per_m == pytest.approx(3.0)
    assert found.gauge_deviation_um is not None
    assert found.gauge_deviation_um.mean() == pytest.approx(0.0, abs=1e-9)
    whole = flatness(np.tile(X_MM, 2), np.repeat([0, 800.0], X_MM.size), np.concatenate([first, second]))
    assert found.as_one_surface.value_um == pytest.approx(whole.value_um)


def test_the_other_side_of_the_gauge() -> None:
    """The second way on the negative side: it still is higher, but the same side motion closes the gauge."""
    y, side = X_MM * 0.002, X_MM * 0.003
    found = two_ways(X_MM, y * 0, y, -500.0, first_side_um=y * 0, second_side_um=side)
    assert (found.cross_level_mm_per_m > 0).all()
    assert found.gauge_angle_um_per_m == pytest.approx(-3.0)


def test_two_plane_ways_are_flat_and_draws_stand_in_the_second_axis() -> None:
    flat = two_ways(X_MM, X_MM * 0.01, X_MM * 0.01 + 7, 600.0)
    assert flat.as_one_surface.value_um == pytest.approx(0.0, abs=1e-9)
    assert flat.gauge_deviation_um is None
    many = np.random.default_rng(2).normal(0, 1, (X_MM.size, 5))
    found = two_ways(X_MM, many * 0, many, 600.0)
    assert found.as_one_surface.value_um.shape == (5,)
    one = two_ways(X_MM, many[:, 3] * 0, many[:, 3], 600.0)
    assert found.twist_um_per_m[3] == pytest.approx(one.twist_um_per_m)
    assert found.height_angle_um_per_m[3] == pytest.approx(one.height_angle_um_per_m)
    assert found.as_one_surface.value_um[3] == pytest.approx(one.as_one_surface.value_um)


def test_two_ways_refusals() -> None:
    with pytest.raises(BadInput, match="not zero"):
        two_ways(X_MM, X_MM, X_MM, 0.0)
    with pytest.raises(BadInput, match="one way only"):
        two_ways(X_MM, X_MM, X_MM, 1.0, first_side_um=X_MM)
