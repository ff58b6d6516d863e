"""A bed of 6 m on two rows of supports, and somebody who reads all of it with one level."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from made_sheet import enter
from waywright.jobs.sheet_fill import SheetFill, unit_of
from waywright.visit.sheet import SheetRow

FEET_MM = np.arange(0.0, 6001.0, 1000.0)
GAUGE_MM = 1200.0
ZERO_UM_PER_M = 35.0


def machine_file(folder: Path) -> Path:
    """A bed of 6 m on fourteen wedge shoes in two rows."""
    supports = [
        f'[[bed.support]]\nname = "{k + 1 + 7 * row}"\nbed_mm = {FEET_MM[k]}\nrow = "{name}"\nkind = "wedge-shoe"\n'
        "lift_um_per_turn = 150.0"
        for row, name in enumerate(("front", "rear"))
        for k in range(7)
    ]
    path = folder / "bed.toml"
    path.write_text(
        'format = 1\nname = "HR-9"\nkind = "roll lathe"\ninvented = true\n[axes]\nup = "-Y"\noperator = "+X"\n'
        f"[bed]\nlength_mm = 6000.0\ngauge_mm = {GAUGE_MM}\nrow_distance_mm = {GAUGE_MM}\nmass_kg = 9000.0\n"
        "bending_n_m2 = 1.5e8\ntorsion_n_m2 = 5e7\n" + "\n".join(supports),
        encoding="utf-8",
    )
    return path


def type_bed(fill: SheetFill, front_um: np.ndarray, rear_um: np.ndarray, rows: tuple[SheetRow, ...]) -> None:
    """Read the whole bed with a level whose zero is off, every place with the level turned round as well."""
    tilts = {
        "1": (front_um - rear_um) / GAUGE_MM * 1000.0, "2": np.diff(front_um), "3": np.diff(rear_um)
    }  # fmt: skip
    for row in rows:
        for tilt in tilts.get(row.number, ()):
            for read in (tilt + ZERO_UM_PER_M, ZERO_UM_PER_M - tilt):
                enter(fill, float(read) / unit_of(row).inside_per_unit)
