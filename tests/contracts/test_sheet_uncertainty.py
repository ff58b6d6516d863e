"""How contributions act on the few readings of a row, against what can be worked out by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from waywright.evaluate.sheet_rows import value_of
from waywright.evaluate.sheet_work import KINDS
from waywright.files.row_budget import row_budget
from waywright.uncertainty import Acts, Budget, Contribution
from waywright.uncertainty.of_row import RowReadings, largest_part, row_uncertainty
from waywright.visit.sheet import SheetRow

UNIT = {Acts.READING: "um", Acts.TILT: "um/m", Acts.SCALE: "1", Acts.STEP_ANGLE: "um/m", Acts.STEP: "um",
        Acts.DRIFT_OFFSET: "um", Acts.BOW: "um"}  # fmt: skip


def budget(*given: tuple[Acts, float]) -> Budget:
    return Budget("test", tuple(Contribution(str(acts), acts, size, UNIT[acts]) for acts, size in given))


def spread(row: SheetRow, read: list[float], used: Budget, *, at: list[float] | None = None,
           sense: list[float] | None = None) -> float:  # fmt: skip
    kind = KINDS[row.kind]
    places, senses = np.array(at or [0.0] * len(read)), np.array(sense or [1.0] * len(read))
    measured = RowReadings(np.array(read), kind.reads.value == "um_per_m", places, senses, row.base_mm)
    return row_uncertainty(lambda y: np.asarray(value_of(row, y)), measured, used, linear=kind.linear).standard


def test_two_readings_count_with_the_root_of_two() -> None:
    row = SheetRow("1", "t", "difference")
    assert spread(row, [0.0, 10.0], budget((Acts.READING, 3.0))) == pytest.approx(3.0 * math.sqrt(2.0))


def test_turning_the_mandrel_halves_the_variance_of_every_place() -> None:
    row = SheetRow("1", "t", "spindle", at_mm=(0.0, 300.0))
    assert spread(row, [0.0, 5.0, 1.0, 6.0], budget((Acts.READING, 3.0))) == pytest.approx(3.0)


def test_scale_acts_on_what_was_read() -> None:
    row = SheetRow("1", "t", "difference")
    assert spread(row, [100.0, 300.0], budget((Acts.SCALE, 0.01))) == pytest.approx(2.0)


def test_the_zero_of_a_level_goes_out_by_turning_and_in_differences_only() -> None:
    zero = budget((Acts.TILT, 5.0))
    plain = SheetRow("1", "t", "angle")
    assert spread(plain, [20.0], zero) == pytest.approx(5.0)
    turned = SheetRow("1", "t", "angle", turned=True)
    assert spread(turned, [20.0, -10.0], zero) == pytest.approx(0.0, abs=1e-9)
    column = SheetRow("1", "t", "column", places=("table", "column"))
    assert spread(column, [20.0, 50.0], zero) == pytest.approx(0.0, abs=1e-9)


def test_contact_of_the_feet_acts_over_the_base() -> None:
    row = SheetRow("1", "t", "angle", base_mm=200.0)
    assert spread(row, [20.0], budget((Acts.STEP, 0.5))) == pytest.approx(2.5)


def test_the_squares_own_angle_counts_over_its_length_and_goes_out_by_turning_it_over() -> None:
    own = budget((Acts.TILT, 10.0))
    row = SheetRow("1", "t", "square", at_mm=(0.0, 300.0))
    assert spread(row, [0.0, 9.0], own, at=[0.0, 300.0]) == pytest.approx(3.0)
    over = SheetRow("1", "t", "square", at_mm=(0.0, 300.0), turned=True)
    assert spread(over, [0.0, 9.0, 0.0, 5.0], own, at=[0.0, 300.0] * 2, sense=[1, 1, -1, -1]) == pytest.approx(
        0, abs=1e-9
    )


def test_drift_counts_from_the_first_reading_to_the_last() -> None:
    row = SheetRow("1", "t", "difference")
    assert spread(row, [0.0, 9.0], budget((Acts.DRIFT_OFFSET, 2.0))) == pytest.approx(2.0)


def test_largest_minus_smallest_of_noise_is_known_to_be_too_large() -> None:
    """Range of eight normal readings: 2.847 sigma on average (tables of the studentised range: d2 for n = 8)."""
    row = SheetRow("1", "t", "range", places=tuple("abcdefgh"))
    measured = RowReadings(np.zeros(8), False, np.zeros(8), np.ones(8))
    found = row_uncertainty(lambda y: np.asarray(value_of(row, y)), measured, budget((Acts.READING, 1.0)), linear=False)
    assert found.floor == pytest.approx(2.847, abs=0.06)
    assert found.standard >= found.floor  # about the value read, its excess included


def test_the_coverage_factor_comes_from_the_degrees_of_freedom() -> None:
    """Five degrees of freedom and nothing else: t(97.5 %, 5) = 2.571 (JCGM 100, table G.2)."""
    few = Budget("test", (Contribution("feel", Acts.READING, 1.0, "um", degrees_of_freedom=5),))
    measured = RowReadings(np.array([3.0]), False, np.zeros(1), np.ones(1))
    found = row_uncertainty(lambda y: y[0], measured, few, linear=True)
    assert found.coverage_factor == pytest.approx(2.571, abs=5e-4)
    assert found.expanded == pytest.approx(2.571, abs=5e-4)
    largest = largest_part(found.parts)
    assert largest is not None
    assert largest.name == "feel"


def test_stated_intervals_hold_what_was_made() -> None:
    """A thousand mandrels: the stated U covers the truth about 95 times in 100."""
    row = SheetRow("1", "t", "spindle", at_mm=(0.0, 300.0))
    used = row_budget("mandrel")
    rng = np.random.default_rng(5)
    held = 0
    for _ in range(1000):
        read = np.zeros(4)
        at = np.array([0.0, 300.0, 0.0, 300.0])
        for one in used.contribution:
            u = one.standard_uncertainty
            read += {
                Acts.READING: rng.normal(0.0, u, 4), Acts.DRIFT_OFFSET: rng.normal(0.0, u) * np.linspace(0, 1, 4),
                Acts.TILT: rng.normal(0.0, u) * at / 1000.0, Acts.SCALE: np.zeros(4),
            }[one.acts]  # fmt: skip
        measured = RowReadings(read, False, at, np.ones(4))
        found = row_uncertainty(lambda y: np.asarray(value_of(row, y)), measured, used, linear=True)
        held += abs(float(value_of(row, read))) <= found.expanded
    assert 0.93 <= held / 1000 <= 0.975
