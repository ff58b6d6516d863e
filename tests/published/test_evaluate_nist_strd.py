"""The one least-squares routine against NIST's certified values.

Source: NIST Statistical Reference Datasets, linear regression (see nist_strd/README.md). The certified values are
computed from the decimal data; the data as doubles already differ from them in the 16th digit, which is the
reason why the last of the 15 certified digits is not asked for everywhere.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from waywright.evaluate import Fit, fit, fit_polynomial, straightness

FOLDER = Path(__file__).parent / "nist_strd"
DEGREE = {
    "Norris": 1,
    "Pontius": 2,
    "Filip": 10,
    "Wampler1": 5,
    "Wampler2": 5,
    "Wampler3": 5,
    "Wampler4": 5,
    "Wampler5": 5,
}
NAMES = [*DEGREE, "Longley"]


def data(name: str) -> dict[str, np.ndarray]:
    table = np.genfromtxt(FOLDER / f"{name}.csv", delimiter=",", names=True)
    return {column: table[column] for column in table.dtype.names}


def certified(name: str) -> tuple[np.ndarray, np.ndarray, float]:
    with (FOLDER / "certified.csv").open(newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["dataset"] == name]
    columns = [
        np.array([float(row[key]) for row in rows]) for key in ("certified", "certified_sd", "certified_residual_sd")
    ]
    return columns[0], columns[1], float(columns[2][0])


def fitted(name: str) -> Fit:
    table = data(name)
    if name == "Longley":
        return fit(np.column_stack([np.ones(16), *(table[f"x{i}"] for i in range(1, 7))]), table["y"])
    return fit_polynomial(table["x"], table["y"], DEGREE[name])


def right_digits(found: np.ndarray, value: np.ndarray) -> float:
    """NIST's log relative error, the least over the parameters; log absolute error where the value is zero."""
    error = np.abs(found - value) / np.where(value == 0.0, 1.0, np.abs(value))
    return float(-np.log10(max(error.max(), 1e-16)))


@pytest.mark.parametrize("name", NAMES)
def test_coefficients_have_13_right_digits(name: str) -> None:
    assert right_digits(fitted(name).coefficient, certified(name)[0]) > 13.0


@pytest.mark.parametrize("name", NAMES)
def test_standard_errors_and_residual_sd_have_13_right_digits(name: str) -> None:
    result, (_, sd, residual_sd) = fitted(name), certified(name)
    assert right_digits(result.standard_error, sd) > 13.0
    assert right_digits(np.array([result.residual_sd]), np.array([residual_sd])) > 13.0
    n = len(data(name)["y"])
    assert result.degrees_of_freedom == n - len(sd)


@pytest.mark.parametrize("name", ["Norris", "Pontius"])
def test_raw_powers_as_columns_give_the_same(name: str) -> None:
    table = data(name)
    raw = fit(np.vander(table["x"], DEGREE[name] + 1, increasing=True), table["y"])
    assert right_digits(raw.coefficient, certified(name)[0]) > 13.0
    assert right_digits(raw.standard_error, certified(name)[1]) > 13.0


def test_a_plain_solver_shows_what_the_sets_ask_for() -> None:
    """Filip: an ordinary least-squares call on raw powers gets no digit right, so the check above can fail."""
    table = data("Filip")
    plain = np.linalg.lstsq(np.vander(table["x"], 11, increasing=True), table["y"], rcond=None)[0]
    assert right_digits(plain, certified("Filip")[0]) < 2.0


def test_norris_through_straightness() -> None:
    """36 readings, unsorted, with repeated positions: slope, intercept and residual sd of the certified line."""
    table = data("Norris")
    result = straightness(table["x"], table["y"], "least-squares")
    (intercept, slope), _, residual_sd = certified("Norris")
    assert result.line.offset_um == pytest.approx(intercept, rel=1e-14)
    assert result.line.slope_um_per_m / 1000.0 == pytest.approx(slope, rel=1e-15)
    freedom = result.stations - 2
    assert np.sqrt((result.deviation_um**2).sum() / freedom) == pytest.approx(residual_sd, rel=2e-13)
