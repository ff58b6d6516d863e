"""Refractivity of air against the tables of the paper and of NIST, and a ray traced through the same air."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import Air, beam_bend, bed_bow_um, earth_bow_um, pressure_bow_um, refractivity, sensitivity

# (degC, hPa, % relative humidity, (n - 1) 1e8). Ciddor, Applied Optics 35 (1996) 1566, table 1 (633 nm, 450 ppm CO2);
# then J. A. Stone, J. H. Zimmerman, Engineering Metrology Toolbox, NIST, appendix A (Ciddor, 450 ppm).
PRINTED = [
    (20, 800, 0, 21458.0),
    (20, 1000, 0, 26824.4),
    (20, 1200, 0, 32191.6),
    (10, 1000, 0, 27774.7),
    (30, 1000, 0, 25937.2),
    (20, 1013.25, 0, 27180.0),
    (20, 600, 0, 16092.4),
    (5, 1000, 0, 28275.6),
    (20, 1000, 100, 26739.4),
]


@pytest.mark.parametrize(("degc", "hpa", "humidity", "printed"), PRINTED)
def test_tables(degc: float, hpa: float, humidity: float, printed: float) -> None:
    assert refractivity(Air(degc, hpa, humidity)) * 100 == pytest.approx(printed, abs=0.051)


@pytest.mark.parametrize(("humidity", "stored"), [(20, 271.62853405782175), (80, 271.11834726256666)])
def test_moist_air(humidity: float, stored: float) -> None:
    """Documentation of the ref_index package (equations of the NIST toolbox), 633 nm, 20 degC, 101 325 Pa."""
    assert refractivity(Air(humidity_percent=humidity)) == pytest.approx(stored, abs=2e-5)


def test_derivatives() -> None:
    """Textbook values from memory: -0.93e-6 per K in dry air, 0.27e-6 per hPa."""
    assert sensitivity(Air(humidity_percent=0)).per_k == pytest.approx(-0.93, abs=0.005)
    moist = sensitivity(Air())
    assert moist.per_k == pytest.approx(-0.928, abs=0.001)  # at constant vapour pressure
    assert moist.per_k_constant_humidity == pytest.approx(-0.955, abs=0.001)
    per_hpa = refractivity(Air(pressure_hpa=1013.75)) - refractivity(Air(pressure_hpa=1012.75))
    assert per_hpa == pytest.approx(0.27, abs=0.003)


BENDS = [(1, 1, 0.46492), (5, 1, 11.623), (10, 1, 46.492), (20, 1, 185.968), (10, 0.1, 4.6492)]


@pytest.mark.parametrize(("length_m", "gradient", "end_um"), BENDS)
def test_bend_is_that_of_the_formula(length_m: float, gradient: float, end_um: float) -> None:
    """dn/dT L^2 / 2 with -0.92984e-6 per K (dry air); no published worked value was found."""
    bend = beam_bend(length_m, gradient, Air(humidity_percent=0))
    assert bend.end_um == pytest.approx(end_um, rel=1e-4)
    assert bend.bow_um == pytest.approx(-end_um / 4, rel=1e-4)


def test_bend_against_a_traced_ray() -> None:
    """Ray equation d/ds (n dr/ds) = grad n, stepped through the refractivity itself: 10 m, 1 K/m, 46.5 um."""
    air = Air(humidity_percent=0)

    def index(up_m: float) -> float:
        return 1.0 + refractivity(Air(20.0 + up_m, humidity_percent=0)) * 1e-6

    slope = (index(0.05) - index(-0.05)) / 0.1
    s, up, angle = 0.0, 0.0, 0.0
    step = 0.001
    path = [0.0]
    for _ in range(10_000):
        bend = slope / index(0.0)
        up, angle, s = up + angle * step + bend * step**2 / 2, angle + bend * step, s + step
        path.append(up * 1e6)
    reading = -np.array(path)  # the detector against the beam
    bow = reading[5000] - reading[-1] / 2
    found = beam_bend(10.0, 1.0, air)
    assert reading[-1] == pytest.approx(found.end_um, rel=1e-3)
    assert reading[-1] == pytest.approx(46.5, abs=0.1)
    assert bow == pytest.approx(found.bow_um, rel=1e-3)
    assert found.bow_um == pytest.approx(-11.6, abs=0.05)


def test_pressure_bends_the_beam_down() -> None:
    """Hydrostatic pressure alone: 11.8 Pa per m and 0.268e-6 per hPa, by hand 0.0316e-6 per m."""
    assert pressure_bow_um(10.0) == pytest.approx(-0.0316 * 100 / 8, rel=0.01)


BEDS = [(2, 0.4, 14), (4, 0.6, 37), (6, 0.8, 62), (10, 1.0, 138), (20, 1.2, 458)]


@pytest.mark.parametrize(("length_m", "height_m", "um_per_k"), BEDS)
def test_bow_of_a_bed(length_m: float, height_m: float, um_per_k: float) -> None:
    """alpha dT L^2 / 8 h with 11e-6 per K, worked by hand and rounded."""
    assert bed_bow_um(length_m, height_m, 1.0) == pytest.approx(um_per_k, abs=0.5)
    assert bed_bow_um(length_m, height_m, -1.0) < 0


@pytest.mark.parametrize(("length_m", "bow_um"), [(10, 2.0), (20, 7.8), (40, 31.4)])
def test_earth(length_m: float, bow_um: float) -> None:
    assert earth_bow_um(length_m) == pytest.approx(-bow_um, abs=0.05)


@pytest.mark.parametrize(
    "wrong", [{"temperature_degc": -60.0}, {"pressure_hpa": 101325.0}, {"humidity_percent": 120.0}]
)
def test_impossible_air_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(BadInput, match="holds from"):
        Air(**wrong)
