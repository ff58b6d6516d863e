"""Outlier tests against B. Rosner, Technometrics 25 (1983) 165, the NIST/SEMATECH e-Handbook and ISO 5725-2:1994."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import generalized_esd, grubbs, grubbs_limit

# The 54 values of the paper, as in the e-Handbook, 1.3.5.17.3.
ROSNER = np.array(
    [
        "-0.25",
        "0.68",
        "0.94",
        "1.15",
        "1.20",
        "1.26",
        "1.26",
        "1.34",
        "1.38",
        "1.43",
        "1.49",
        "1.49",
        "1.55",
        "1.56",
        "1.58",
        "1.65",
        "1.69",
        "1.70",
        "1.76",
        "1.77",
        "1.81",
        "1.91",
        "1.94",
        "1.96",
        "1.99",
        "2.06",
        "2.09",
        "2.10",
        "2.14",
        "2.15",
        "2.23",
        "2.24",
        "2.26",
        "2.35",
        "2.37",
        "2.40",
        "2.47",
        "2.54",
        "2.62",
        "2.64",
        "2.90",
        "2.92",
        "2.92",
        "2.93",
        "3.21",
        "3.26",
        "3.30",
        "3.59",
        "3.68",
        "4.30",
        "4.64",
        "5.34",
        "5.42",
        "6.01",
    ],
    dtype=float,
)
STATISTICS = [3.118, 2.942, 3.179, 2.810, 2.815, 2.848, 2.279, 2.310, 2.101, 2.067]  # cut after the third decimal
LIMITS = [3.158, 3.151, 3.143, 3.136, 3.128, 3.120, 3.111, 3.103, 3.094, 3.085]  # from memory, as the statistics


def test_the_rosner_set_has_three_outliers() -> None:
    found = generalized_esd(ROSNER, most=10, false_alarm=0.05)
    assert np.floor(found.statistic * 1000) / 1000 == pytest.approx(STATISTICS, abs=1e-9)
    assert np.floor(found.limit * 1000) / 1000 == pytest.approx(LIMITS, abs=1e-9)
    assert ROSNER[found.found].tolist() == [6.01, 5.42, 5.34]


def test_one_at_a_time_would_have_missed_them() -> None:
    """Masking: the first statistic is below its limit, so Grubbs' test alone finds nothing here."""
    assert grubbs(ROSNER, 0.05).found.size == 0


def test_uranium_of_the_handbook() -> None:
    """1.3.5.17.1, Tietjen and Moore: 8 values (from memory); statistic 2.4687, one-sided 5 % limit 2.032."""
    values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]
    found = grubbs(values)
    assert found.statistic[0] == pytest.approx(2.4687, abs=1e-4)
    assert grubbs_limit(8, 0.05, one_sided=True) == pytest.approx(2.032, abs=5e-4)
    assert found.found.tolist() == [7]


TABLE_5 = [(3, 1.155, 1.155), (4, 1.481, 1.496), (5, 1.715, 1.764), (6, 1.887, 1.973), (8, 2.126, 2.274)]
TABLE_5 += [(10, 2.290, 2.482), (15, 2.549, 2.806), (20, 2.709, 3.001), (30, 2.908, 3.236)]


@pytest.mark.parametrize(("count", "five", "one"), TABLE_5)
def test_table_of_iso_5725_2(count: int, five: float, one: float) -> None:
    """Table 5, one outlier, 5 % and 1 % (from memory)."""
    assert grubbs_limit(count, 0.05) == pytest.approx(five, abs=1.5e-3)
    assert grubbs_limit(count, 0.01) == pytest.approx(one, abs=1.5e-3)


@pytest.mark.parametrize("values", [[1.0, 2.0], [1.0, 2.0, float("nan"), 3.0]])
def test_too_little_is_refused(values: list[float]) -> None:
    with pytest.raises(BadInput, match="too few"):
        grubbs(values)
    with pytest.raises(BadInput, match="too few"):
        grubbs_limit(2)
