"""Allan deviation against W. J. Riley, Handbook of Frequency Stability Analysis, NIST SP 1065 (2008).

The 1000-point set is section 12.4, table 31: n[0] = 1234567890, n[i+1] = 16807 n[i] mod 2147483647, divided by
2147483647. The nine-point set is NBS Monograph 140, annex 8.E, printed on page 107.
"""

from __future__ import annotations

import numpy as np
import pytest

from waywright.guard import allan_deviation, overlapping_deviation
from waywright.guard.allan import equivalent_freedom, noise_exponent

NINE = np.array([892, 809, 823, 798, 671, 644, 883, 903, 677], dtype=float)


@pytest.fixture(scope="module")
def thousand() -> np.ndarray:
    numbers = [1234567890]
    for _ in range(999):
        numbers.append(16807 * numbers[-1] % 2147483647)
    assert numbers[:4] == [1234567890, 395529916, 1209410747, 633705974]  # as printed
    return np.array(numbers) / 2147483647


@pytest.mark.parametrize(("factor", "printed"), [(1, 91.22945), (2, 85.95287)])
def test_nine_points(factor: int, printed: float) -> None:
    assert overlapping_deviation(NINE, factor) == pytest.approx(printed, abs=6e-6)


# The overlapping values of table 31 are from memory (a second program agrees with them).
@pytest.mark.parametrize(("factor", "printed"), [(1, 2.922319e-1), (10, 9.159953e-2), (100, 3.241343e-2)])
def test_overlapping_of_the_thousand(thousand: np.ndarray, factor: int, printed: float) -> None:
    assert overlapping_deviation(thousand, factor) == pytest.approx(printed, rel=2e-7)


@pytest.mark.parametrize(("factor", "printed"), [(1, 0.2922319), (10, 0.09965736), (100, 0.03897804)])
def test_plain_deviation_is_that_of_block_means(thousand: np.ndarray, factor: int, printed: float) -> None:
    means = thousand.reshape(-1, factor).mean(axis=1)
    assert overlapping_deviation(means, 1) == pytest.approx(printed, abs=6e-8)


def test_limits_of_the_worked_example(thousand: np.ndarray) -> None:
    """From memory: averages of 10, white noise, 146.177 degrees of freedom, upper 95 % limit 1.0149e-1.

    The handbook takes chi-squared from an approximation, hence a thousandth.
    """
    from scipy.stats import chi2

    freedom = equivalent_freedom(1001, 10, 0)
    assert freedom == pytest.approx(146.177, abs=5e-4)
    assert noise_exponent(thousand) == 0
    upper = overlapping_deviation(thousand, 10) * np.sqrt(freedom / chi2.ppf(0.05, freedom))
    assert upper == pytest.approx(1.0149e-1, rel=1e-3)


def test_limits_come_with_the_deviation(thousand: np.ndarray) -> None:
    found = allan_deviation(thousand, 1.0)
    assert found.averaging_s.tolist() == [
        1,
        2,
        3,
        4,
        5,
        6,
        7,
        8,
        10,
        11,
        13,
        16,
        19,
        23,
        27,
        32,
        38,
        45,
        54,
        64,
        76,
        91,
        108,
    ]
    assert found.deviation[0] == pytest.approx(0.2922319, abs=6e-8)
    assert (found.lower < found.deviation).all()
    assert (found.deviation < found.upper).all()
    assert set(found.noise.tolist()) == {0}
