"""Spindle to axis by a mandrel, straightedge reversal with sag and noise: truth, simulated readings, truth again."""

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import (
    cantilever_sag_um,
    rectangle,
    round_bar,
    spindle_to_axis,
    straightedge_reversal,
    straightedge_sag_um,
    supports_at,
)
from waywright.evaluate.gravity import GRANITE, STEEL

PLACES_MM = np.array([20.0, 320.0])
X_MM = np.linspace(0.0, 1000.0, 21)


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("places", [PLACES_MM, np.linspace(10, 310, 7)])
def test_the_spindle_comes_back_whatever_the_mandrel(seed: int, places: np.ndarray) -> None:
    rng = np.random.default_rng(seed)
    angle, own_angle, run_out = rng.normal(0, 40), rng.normal(0, 30), rng.normal(0, 10)
    sag = cantilever_sag_um(places, 350.0, round_bar(40.0, STEEL))
    holder = rng.normal(0, 2, places.size)
    axis, own = 5 + angle * places / 1000, run_out + own_angle * places / 1000
    found = spindle_to_axis(
        places, axis + own + sag + holder, axis - own + sag + holder, mandrel_sag_um=sag, holder_sag_um=holder
    )
    assert found.angle_um_per_m == pytest.approx(angle)
    assert found.over_length_um == pytest.approx(angle * 0.3)
    assert found.mandrel_angle_um_per_m == pytest.approx(own_angle)
    assert found.mandrel_um == pytest.approx(own)
    unknown = spindle_to_axis(places, axis + own + sag + holder, axis - own + sag + holder)
    assert unknown.angle_um_per_m == pytest.approx(angle + found.angle_by_sag_um_per_m)


def test_a_holder_that_sags_alike_changes_nothing_and_draws_are_columns() -> None:
    many = np.random.default_rng(3).normal(0, 5, (2, 6))
    plain, sagging = (spindle_to_axis(PLACES_MM, many, -many + 2, holder_sag_um=s) for s in (0.0, -12.0))
    assert plain.angle_um_per_m == pytest.approx(sagging.angle_um_per_m)
    assert sagging.angle_by_sag_um_per_m == pytest.approx(0.0)
    assert plain.angle_um_per_m.shape == (6,)


def test_uncertainty_of_the_spindle_is_that_of_a_simulation() -> None:
    rng = np.random.default_rng(6)
    first, second = rng.normal(0, 0.7, (2, 2, 6000))
    found = spindle_to_axis(PLACES_MM, first, second, noise_um=0.7)
    assert found.angle_uncertainty_um_per_m == pytest.approx(0.7 / 0.3)  # sqrt 2 / sqrt 2 over 300 mm
    assert found.angle_um_per_m.std() == pytest.approx(0.7 / 0.3, rel=0.03)


def test_sets_of_different_shape_are_refused() -> None:
    with pytest.raises(BadInput):
        spindle_to_axis(PLACES_MM, [1.0, 2.0], np.zeros((2, 2)))


def test_machine_straightedge_and_sag_are_told_apart() -> None:
    rng = np.random.default_rng(12)
    machine, own = rng.normal(0, 3, 21), rng.normal(0, 5, 21)
    sag = straightedge_sag_um(X_MM, 1000.0, supports_at(1000.0), rectangle(60.0, GRANITE))
    assert sag.min() < -0.5
    found = straightedge_reversal(X_MM, machine + own + sag, machine - own + sag, sag)
    assert found.machine_um == pytest.approx(machine)
    assert found.straightedge_um == pytest.approx(own)
    assert found.sag_um == pytest.approx(sag)
    assert found.machine_noise_um is None
    forgotten = straightedge_reversal(X_MM, machine + own + sag, machine - own + sag)
    assert forgotten.machine_um - machine == pytest.approx(sag)
    assert forgotten.straightedge_um == pytest.approx(own)


def test_noise_of_both_parts_is_that_of_a_simulation() -> None:
    rng = np.random.default_rng(13)
    first, second, sag = rng.normal(0, 0.4, (21, 9000)), rng.normal(0, 0.9, (21, 9000)), rng.normal(0, 0.3, 9000)
    found = straightedge_reversal(
        X_MM, first + sag, second + sag, normal_sd_um=0.4, turned_sd_um=np.full(21, 0.9), sag_uncertainty_um=0.3
    )
    assert found.machine_um.std(axis=1) == pytest.approx(found.machine_noise_um, rel=0.04)
    assert found.straightedge_um.std(axis=1) == pytest.approx(found.straightedge_noise_um, rel=0.04)
    together = [np.corrcoef(a, b)[0, 1] for a, b in zip(found.machine_um, found.straightedge_um, strict=True)]
    assert together == pytest.approx(found.correlation, abs=0.04)


def test_a_negative_standard_deviation_is_refused() -> None:
    with pytest.raises(BadInput):
        straightedge_reversal(X_MM, X_MM, X_MM, normal_sd_um=-1.0, turned_sd_um=1.0)


def test_supports_may_lie_anywhere_and_the_mirror_image_is_the_same() -> None:
    k = rectangle(50.0, STEEL)
    one, other = (straightedge_sag_um(X_MM, 1000.0, at, k) for at in ((100.0, 650.0), (900.0, 350.0)))
    assert one == pytest.approx(other[::-1])
    at = straightedge_sag_um([100.0, 650.0], 1000.0, (650.0, 100.0), k)
    assert at == pytest.approx([0.0, 0.0], abs=1e-12)


def test_a_straightedge_obeys_the_beam_equation_between_its_supports() -> None:
    """Fourth difference of the shape is the load, no moment at a free end (not by the formula)."""
    s, k = np.linspace(0, 1000, 2001), rectangle(50.0, STEEL)
    w = straightedge_sag_um(s, 1000.0, (300.0, 800.0), k)
    for part in (slice(0, 601), slice(600, 1601), slice(1600, 2001)):
        fit = np.polynomial.Polynomial.fit(s[part], w[part], 4)
        assert fit.deriv(4)(s[part][0]) == pytest.approx(-k * 1000.0, rel=1e-6)
    ends = (np.polynomial.Polynomial.fit(s[:600], w[:600], 4), np.polynomial.Polynomial.fit(s[1601:], w[1601:], 4))
    for fit, at in zip(ends, (0.0, 1000.0), strict=True):
        assert fit.deriv(2)(at) == pytest.approx(0.0, abs=1e-12 + 1e-6 * k * 1000 * 1000**2 / 8)


@pytest.mark.parametrize("at", [(-1.0, 500.0), (300.0, 300.0), (0.0, 1001.0)])
def test_impossible_supports_are_refused(at: tuple[float, float]) -> None:
    with pytest.raises(BadInput):
        straightedge_sag_um(X_MM, 1000.0, at, 1e-9)


def test_places_off_a_bar_and_impossible_sections_are_refused() -> None:
    with pytest.raises(BadInput):
        straightedge_sag_um([1001.0], 1000.0, (200, 800), 1e-9)
    with pytest.raises(BadInput):
        cantilever_sag_um([-1.0], 300.0, 1e-9)
    with pytest.raises(BadInput):
        round_bar(40.0, STEEL, bore_mm=40.0)
    with pytest.raises(BadInput):
        rectangle(0.0, STEEL)
