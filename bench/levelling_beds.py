"""Random beds of the levelling benchmark: what is true, and the machine record that the planner gets."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bench.levelling_truth import NoRest, Truth, truth
from waywright.machine import Bed, Support

GRAVITY = 9.80665
BENDING_DOUBT, SEAT_DOUBT = 0.35, 0.40
NOISE_UM = 1.0
LARGEST_MOVE_UM = 200.0
LARGEST_SPREAD_UM = 300.0


@dataclass(frozen=True)
class Cell:
    supports: int
    rows: int
    ratio: float
    anchored: bool
    hollow: bool = False

    @property
    def title(self) -> str:
        held = "anchored" if self.anchored else "resting"
        return (
            f"{self.supports:2d} in {self.rows}, k a3/EI {self.ratio:5g}, {held}{', one hollow' if self.hollow else ''}"
        )


@dataclass(frozen=True)
class Case:
    """One bed: the truth, its settings (um), the form in its ways, and the record handed to the planner."""

    truth: Truth
    setting_um: np.ndarray
    form_um: np.ndarray
    bed: Bed
    position_mm: np.ndarray
    rows: int
    weight_n: float

    def seen(self, setting_um: np.ndarray) -> np.ndarray:
        """The true line, without noise."""
        return self.truth.line(self.truth.rest(setting_um)) + self.form_um


def case(cell: Cell, seed: int) -> Case:
    """A random bed of a cell; the same seed gives the same bed."""
    for attempt in range(100):
        made = _attempt(cell, np.random.default_rng([seed, attempt, cell.supports, cell.rows, int(cell.ratio * 10)]))
        if made is not None:
            return made
    raise RuntimeError(f"no bed found for {cell.title}")


def _attempt(cell: Cell, rng: np.random.Generator) -> Case | None:
    per_row = cell.supports // cell.rows
    pitch = round(float(rng.uniform(0.6, 1.0)), 2)
    length = round(pitch * (per_row - 1) + 0.4 * pitch, 3)
    place = 0.2 * pitch + pitch * np.arange(per_row)
    along, across = np.tile(place, cell.rows), np.zeros(cell.supports)
    gauge = 0.6 if cell.rows == 2 else 0.0
    if cell.rows == 2:
        across = np.repeat([gauge / 2, -gauge / 2], per_row)
    station = np.unique(np.round(np.concatenate([[0.0], np.arange(0.1 * pitch, length, pitch / 4), [length]]), 4))
    seat_nominal = 300.0
    bending_nominal = cell.rows * seat_nominal * pitch**3 / cell.ratio * 1e6
    torsion_nominal = 0.3 * bending_nominal
    settled = rng.uniform(10.0, 80.0)
    weight = settled * seat_nominal * cell.supports
    seats = seat_nominal * np.exp(rng.normal(0.0, SEAT_DOUBT, cell.supports))
    true = truth(
        length, along, across, station,
        bending=bending_nominal * np.exp(rng.normal(0.0, BENDING_DOUBT)),
        torsion=torsion_nominal * np.exp(rng.normal(0.0, BENDING_DOUBT)),
        shear_length_m=0.25 * pitch, seat=seats, weight_n=weight, press_um=settled, anchored=cell.anchored,
    )  # fmt: skip
    # The ways were made straight with the bed levelled under its own weight.
    form = _form(station, rng, cell.rows) - true.line(true.machined())
    try:
        found = _as_found(cell, true, form, rng)
    except NoRest:
        return None
    if found is None:
        return None
    names = ("front", "rear") if cell.rows == 2 else ("middle",)
    supports = tuple(
        Support(f"{row}{i}", float(x) * 1e3, row, anchored=cell.anchored, seat_n_per_um=seat_nominal,
                smallest_step_um=2.0, largest_move_um=LARGEST_MOVE_UM)
        for row in names for i, x in enumerate(place)
    )  # fmt: skip
    bed = Bed(
        length * 1e3, supports, gauge_mm=gauge * 1e3 or None, mass_kg=weight / GRAVITY,
        bending_n_m2=bending_nominal, torsion_n_m2=torsion_nominal,
    )  # fmt: skip
    return Case(true, found, form, bed, np.round(station * 1e3, 1), cell.rows, weight)


def _form(station: np.ndarray, rng: np.random.Generator, rows: int) -> np.ndarray:
    """Machined-in form of a few um: a handful of waves."""
    waves = [
        rng.normal(0.0, 1.2) * np.cos(2 * np.pi * station / wave + rng.uniform(0, 6.3))
        for wave in np.ptp(station) / rng.uniform(0.5, 6.0, 4)
    ]
    height = np.sum(waves, axis=0)
    return np.concatenate([height, 0.3 * height[::-1]]) if rows == 2 else height


def _touching(true: Truth, setting: np.ndarray) -> np.ndarray:
    """Supports that hang brought up by hand until each carries a little."""
    setting = setting.copy()
    for _ in range(60):
        lacking = 0.1 * true.press_um - (setting - true.at @ true.rest(setting))
        if (lacking < 0.5).all():
            break
        setting += np.maximum(lacking, 0.0)
    return setting


def _as_found(cell: Cell, true: Truth, form: np.ndarray, rng: np.random.Generator) -> np.ndarray | None:
    """Settings that give 60 to 150 um as found.

    Every support of a resting bed carries at least a tenth of the nominal press, as after the rough stage; a stiff
    bed at rest then deviates by less than 60 um, but by more than 30. The settings spread by 300 um at most. In the
    hollow cells one support hangs 150 to 300 um lower.
    """
    from bench.levelling import value_of

    x = true.along_m / true.along_m.max()
    pattern = sum(rng.normal() / order * np.cos(np.pi * order * x + rng.uniform(0, 6.3)) for order in (1, 2, 3))
    if cell.rows == 2:
        pattern = pattern + np.sign(true.across_m) * rng.normal(0, 0.5) * np.cos(np.pi * x + rng.uniform(0, 6.3))
    pattern = pattern + rng.normal(0.0, 0.35, x.size)
    wanted, largest = rng.uniform(60.0, 150.0), LARGEST_SPREAD_UM / np.ptp(pattern)
    low, high = 0.0, largest
    for _ in range(18):
        middle = (low + high) / 2
        if value_of(true, true.line(true.rest(middle * pattern)) + form) < wanted:
            low = middle
        else:
            high = middle
    setting = high * pattern if cell.anchored else _touching(true, high * pattern)
    if cell.hollow:
        setting = setting.copy()
        setting[rng.integers(1, x.size - 1)] -= rng.uniform(150.0, 300.0)
    reached = value_of(true, true.line(true.rest(setting)) + form)
    return setting if reached > 30.0 else None
