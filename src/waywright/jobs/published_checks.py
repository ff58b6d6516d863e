"""Published values that an installed copy can be checked against, each with its source."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

# NIST Statistical Reference Datasets, linear regression, data set Norris: y, x.
_NORRIS = (
    (0.1, 0.2), (338.8, 337.4), (118.1, 118.2), (888.0, 884.6), (9.2, 10.1), (228.1, 226.5), (668.5, 666.3),
    (998.5, 996.3), (449.1, 448.6), (778.9, 777.0), (559.2, 558.2), (0.3, 0.4), (0.1, 0.6), (778.1, 775.5),
    (668.8, 666.9), (339.3, 338.0), (448.9, 447.5), (10.8, 11.6), (557.7, 556.0), (228.3, 228.1), (998.0, 995.8),
    (888.8, 887.6), (119.6, 120.2), (0.3, 0.3), (0.6, 0.3), (557.6, 556.8), (339.3, 339.1), (888.0, 887.2),
    (998.5, 999.0), (778.9, 779.0), (10.2, 11.1), (117.6, 118.3), (228.9, 229.2), (668.4, 669.1), (449.2, 448.9),
    (0.2, 0.5),
)  # fmt: skip
_DIVISIONS = (3.0, 6.0, -3.0, -1.0, -3.0, 4.0)
_NINE = (892.0, 809.0, 823.0, 798.0, 671.0, 644.0, 883.0, 903.0, 677.0)


@dataclass(frozen=True, slots=True)
class PublishedCheck:
    """What is checked, where the value is published, what it is, and how far off it may be."""

    name: str
    source: str
    value: float
    within: float
    computed: Callable[[], float]


def _norris(coefficient: int) -> float:
    from waywright.evaluate import fit_polynomial

    y, x = np.array(_NORRIS).T
    return float(fit_polynomial(x, y, 1).coefficient[coefficient])


def _level_steps() -> float:
    from waywright.evaluate import heights_from_steps, straightness

    height = heights_from_steps(np.array(_DIVISIONS) * 10.0, 200.0)
    return float(straightness(np.arange(7) * 200.0, height, "end-points").value_um)


def _allan() -> float:
    from waywright.guard import overlapping_deviation

    return float(overlapping_deviation(np.array(_NINE), 2))


def _air() -> float:
    from waywright.guard import Air, refractivity

    return float(refractivity(Air(20.0, 1000.0, 0.0))) * 100.0


def _conformity() -> float:
    from waywright.verdict import probability_of_conformity

    return probability_of_conformity(-1.6448536269514722, 0.0, 1.0)


def _false_acceptance() -> float:
    from waywright.verdict import global_risks

    return global_risks(0.0, 4.0, 1.0, 8.0, -8.0).consumers


def _arcsecond() -> float:
    from waywright.quantities import Kind, unit

    return unit(Kind.ANGLE, "arcsec").inside(206264.80624709636)


def _seal() -> float:
    """SHA-256 of "abc" as the first 32 bits of its printed value (FIPS 180-4, example)."""
    from waywright.readings import sealed_hash

    return float(int.from_bytes(sealed_hash(b"abc")[:4]))


_NIST = "NIST StRD, linear regression, Norris"
_TEXT = "technician examination question, coincidence level, six steps of 200 mm, with published solution"
CHECKS = (
    PublishedCheck("least squares: offset", _NIST, -0.262323073774029, 1e-12, lambda: _norris(0)),
    PublishedCheck("least squares: slope", _NIST, 1.00211681802045, 1e-13, lambda: _norris(1)),
    PublishedCheck("straightness from level steps, end points, µm", _TEXT, 20.0, 1e-9, _level_steps),
    PublishedCheck(
        "overlapping Allan deviation of nine points", "NIST SP 1065 (2008), NBS Monograph 140", 85.95287, 6e-6, _allan
    ),
    PublishedCheck(
        "refractivity of dry air, 20 °C, 1000 hPa, 1e-8", "Ciddor, Applied Optics 35 (1996) 1566, table 1", 26824.4,
        0.051, _air,
    ),
    PublishedCheck("probability of conformity at z = 1.64", "JCGM 106:2012, table 1", 0.95, 0.003, _conformity),
    PublishedCheck(
        "risk of false acceptance, ratio 4 to 1", "Deaver, How to maintain your confidence", 0.008, 0.0005,
        _false_acceptance,
    ),
    PublishedCheck("seconds of arc in a radian, µm/m", "definition of the second of arc", 1e6, 1e-6, _arcsecond),
    PublishedCheck("SHA-256 of “abc”, first 32 bits", "FIPS 180-4, example", float(0xBA7816BF), 0.0, _seal),
)  # fmt: skip


def agrees(check: PublishedCheck, found: float) -> bool:
    """Whether a computed value is what is published."""
    return math.isfinite(found) and abs(found - check.value) <= check.within
