"""Rows of a sheet against published examples.

s01: technician examination question, coincidence level of 0.01 mm/m per division on a 1200 mm guideway in six steps of
    200 mm, readings +3 +6 -3 -1 -3 +4; published answer 0.02 mm about the end points (two copies of the question with
    its solution; the book is not named in them).
s02: university course slides on straightness by autocollimator and reflector, base 100 mm; published answer 3 um with
    the classroom factor of 0.5 um per arcsec and 100 mm, 3 % too high; with the exact arcsec 2.909 um.
t02: inspection record printed with a toolroom lathe, tests G1 to G11: permissible and measured, in mm.
set-over: the rule of shop handbooks (for example the US Navy's Machinery Repairman, NAVEDTRA 12204, lathe work; from
    memory): set-over of the tailstock = taper per foot x length of the work in inches / 24.
reversal: a level read at one place and again turned by 180 degrees: half the sum is its zero, half the difference the
    tilt (Evans, Hocken, Estler: Self-calibration, CIRP Annals 45/2 (1996) 617; the rule, numbers of our own).
arcsec: 10 arcsec per division is 0.05 mm/m as trade manuals round it (Machinery Repairman; exactly 0.04848), and
    0.0005 inch per foot is 0.042 mm/m.
"""

from __future__ import annotations

import numpy as np
import pytest

from waywright.evaluate.sheet_rows import entries_of, figures_of, value_of
from waywright.evaluate.taper import CENTRES, TaperSeen, taper_causes
from waywright.jobs.sheet_fill import unit_of
from waywright.verdict import Verdict, decide, tolerance
from waywright.visit.sheet import SheetRow

LEVEL = {"unit": "div", "division": 0.01, "division_unit": "mm/m", "base_mm": 200.0}


def test_level_along_a_guideway() -> None:
    """s01: 10 divisions of 2 um over 200 mm."""
    row = SheetRow("1", "way", "straightness-by-level", places=tuple("abcdef"), reference="end-points", **LEVEL)
    divisions = np.array([3.0, 6.0, -3.0, -1.0, -3.0, 4.0])
    assert value_of(row, divisions * unit_of(row).inside_per_unit) == pytest.approx(20.0, abs=1e-9)


def test_the_same_way_with_the_level_turned_at_every_place_loses_its_zero() -> None:
    """s01 again, read by a level that is 2.5 divisions off, at every place once this way and once that way."""
    row = SheetRow(
        "1", "way", "straightness-by-level", places=tuple("abcdef"), reference="end-points", turned=True, **LEVEL
    )
    tilt, zero = np.array([3.0, 6.0, -3.0, -1.0, -3.0, 4.0]), 2.5
    read = np.ravel(np.column_stack([tilt + zero, zero - tilt])) * unit_of(row).inside_per_unit
    assert value_of(row, read) == pytest.approx(20.0, abs=1e-9)
    assert {name: value for name, value, _ in figures_of(row, read)}["zero"] == pytest.approx(25.0)


def test_autocollimator_in_arcsec() -> None:
    """s02: mean of both runs less the first, in arcsec; row 0 of the slides carries height 0."""
    row = SheetRow("1", "way", "straightness-by-level", places=tuple("abcdef"), reference="end-points", base_mm=100.0,
                   unit="arcsec")  # fmt: skip
    arcsec = np.array([0.0, 3.0, 7.0, -2.0, 0.0, 4.0])
    assert value_of(row, arcsec * unit_of(row).inside_per_unit) == pytest.approx(2.909, abs=5e-4)
    classroom = value_of(row, arcsec * 5.0)  # 0.5 um per 100 mm
    assert classroom == pytest.approx(3.0, abs=1e-9)


RECORD = [  # t02: kind, rule, measured in mm
    ("axial-slip", "0.01", 0.005),
    ("run-out", "0.01", 0.005),
    ("run-out", "0.02", 0.018),
    ("parallel", "0.02/300", 0.005),
    ("parallel", "0.015/300", 0.013),
    ("parallel", "0.03/300", 0.015),
    ("height", "0.04", 0.04),
    ("parallel", "0.015/150", 0.01),
]


@pytest.mark.parametrize(("kind", "rule", "measured"), RECORD)
def test_inspection_record_of_a_lathe(kind: str, rule: str, measured: float) -> None:
    """t02: every value is permissible as read; with U = 2 um nothing is proved of the one on the limit (0.04 of 0.04)
    and of those within the guard band (0.018 of 0.02 is not: 1.645 um)."""
    length = float(rule.partition("/")[2] or 1.0)
    row = SheetRow("1", "test", kind, at_mm=(0.0, length) if kind == "parallel" else (), tolerance=rule)
    read = np.array([0.0, measured * 1000.0]) if len(entries_of(row)) == 2 else np.array([measured * 1000.0])
    value, limit = float(value_of(row, read)), tolerance(rule).limit_um(length)
    assert value == pytest.approx(measured * 1000.0)
    assert value <= limit + 1e-9
    expected = Verdict.UNDECIDED if limit - value < 1.645 else Verdict.CONFORMS
    assert decide(value, limit, 1.0).verdict is expected


def test_set_over_of_the_tailstock() -> None:
    """set-over: half an inch per foot on work of 6 inches needs 0.5 x 6 / 24 = 0.125 inch. That much set-over, found
    on a machine that should turn straight, must be named as the cause of just that taper."""
    inch = 25.4
    set_over_um = 0.5 * 6.0 / 24.0 * inch * 1000.0
    taper_um = 0.5 * 6.0 / 12.0 * inch * 1000.0  # on the diameter over 6 inches
    seen = TaperSeen(taper_um, 6.0 * inch, CENTRES, tailstock_side_um=-set_over_um, between_mm=6.0 * inch)
    found = taper_causes(seen)
    assert found.likely is not None
    assert (found.likely.name, found.likely.share) == ("tailstock-side", pytest.approx(1.0))
    assert found.left_um == pytest.approx(0.0, abs=1e-6)


def test_divisions_of_levels_in_the_units_of_trade_manuals() -> None:
    """arcsec: 0.05 mm/m and 0.042 mm/m are right to the digits printed."""
    ten_seconds = unit_of(SheetRow("1", "x", "level", unit="div", division=10.0, division_unit="arcsec"))
    assert ten_seconds.inside_per_unit == pytest.approx(50.0, abs=5.0)
    assert ten_seconds.inside_per_unit == pytest.approx(48.4814, abs=1e-4)
    per_foot = unit_of(SheetRow("1", "x", "level", unit="div", division=0.0005 / 12.0 * 1000.0, division_unit="mm/m"))
    assert per_foot.inside_per_unit == pytest.approx(42.0, abs=0.5)


def test_reversal_of_a_level() -> None:
    """reversal: 12 and -8 divisions: zero 2, tilt 10."""
    row = SheetRow("1", "table", "level", places=("middle",), turned=True, unit="um/m")
    read = np.array([12.0, -8.0])
    assert value_of(row, read) == 10.0
    assert ("zero", 2.0, "um/m") in figures_of(row, read)
