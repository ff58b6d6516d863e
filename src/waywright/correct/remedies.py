"""Other corrections: shim packs, scraping, and a neutral compensation table; each says when it is the wrong one."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import FloatArray
from waywright.correct.notes import Note, note
from waywright.errors import BadInput

DEEP_SCRAPING_UM = 50.0
"""More than this is planed or ground, not scraped."""

SIGN_TEST_UM = 10.0


@dataclass(frozen=True, slots=True)
class ShimPack:
    """``foils_um`` from thick to thin; ``off_um`` is what the pack is thicker than wanted."""

    foils_um: tuple[int, ...]
    off_um: float


def shim_pack(wanted_um: float, stock_um: Sequence[tuple[int, int]], within_um: float = 5.0) -> ShimPack:
    """The fewest foils from a stock of (thickness, number at hand) that come within a tolerance; then the closest.

    Exact, by dynamic programming over whole um. Raises BadInput where the stock cannot make it.
    """
    if not wanted_um > 0.0:
        raise BadInput("correct.no_shim", wanted_um=wanted_um)
    top = int(np.floor(wanted_um + within_um))
    fewest: list[tuple[int, ...] | None] = [None] * (top + 1)
    fewest[0] = ()
    for foil, number in sorted(stock_um, reverse=True):
        fewest = _with_foil(fewest, foil, number)
    reached = [
        (len(pack), abs(total - wanted_um), total, pack)
        for total, pack in enumerate(fewest)
        if pack is not None and abs(total - wanted_um) <= within_um and pack
    ]
    if not reached:
        raise BadInput("correct.stock_too_poor", wanted_um=wanted_um, within_um=within_um)
    _, _, total, pack = min(reached)
    return ShimPack(pack, float(total - wanted_um))


def _with_foil(fewest: list[tuple[int, ...] | None], foil: int, number: int) -> list[tuple[int, ...] | None]:
    out = list(fewest)
    for total, pack in enumerate(fewest):
        if pack is None:
            continue
        for used in range(1, number + 1):
            here = total + used * foil
            if here >= len(out):
                break
            before = out[here]
            if before is None or len(before) > len(pack) + used:
                out[here] = (*pack, *([foil] * used))
    return out


@dataclass(frozen=True, slots=True)
class ScrapingMap:
    """``remove_um`` (n,) to take off at each station, ``volume_mm3`` in all, ``deepest_um``, and remarks."""

    position_mm: FloatArray
    remove_um: FloatArray
    volume_mm3: float
    deepest_um: float
    notes: tuple[Note, ...]


def scraping_map(
    position_mm: npt.ArrayLike,
    height_um: npt.ArrayLike,
    goal_um: float,
    width_mm: float,
    joints_mm: Sequence[float] = (),
) -> ScrapingMap:
    """The least volume whose removal brings the profile below the goal; nothing can be put on.

    Linear programme: a band of height ``goal_um`` lies so that no station is below it; what stands above goes.
    """
    from scipy.optimize import linprog

    x, h = np.asarray(position_mm, dtype=np.float64), np.asarray(height_um, dtype=np.float64)
    if x.shape != h.shape or x.size < 3:
        raise BadInput("correct.too_few_stations", stations=int(min(x.size, h.size)))
    n, share = x.size, _shares(x)
    along = (x - x.mean()) / max(float(np.ptp(x)), 1e-9)
    # variables: removal (n), bottom of the band: offset and tilt
    line = np.column_stack([np.ones(n), along])
    above = np.hstack([-np.eye(n), -line])  # h - r <= bottom + goal
    below = np.hstack([np.eye(n), line])  # h - r >= bottom
    found = linprog(
        np.concatenate([share, [0.0, 0.0]]),
        A_ub=np.vstack([above, below]),
        b_ub=np.concatenate([goal_um - h, h]),
        bounds=[(0.0, None)] * n + [(None, None)] * 2,
        method="highs",
    )
    remove = np.asarray(found.x[:n], dtype=np.float64)
    deepest = float(remove.max())
    return ScrapingMap(x, remove, float(share @ remove) * 1e-3 * width_mm, deepest, _scraping_notes(deepest, joints_mm))


def _scraping_notes(deepest_um: float, joints_mm: Sequence[float]) -> tuple[Note, ...]:
    notes = [note("correct.scrape_after_levelling")]
    if deepest_um > DEEP_SCRAPING_UM:
        notes.append(note("correct.scrape_too_deep", deepest_um=deepest_um))
    notes.extend(note("correct.scrape_not_at_joint", bed_mm=place) for place in joints_mm)
    return tuple(notes)


def _shares(x: FloatArray) -> FloatArray:
    """Length of way each station stands for, mm."""
    edges = np.concatenate([[x[0]], (x[1:] + x[:-1]) / 2, [x[-1]]])
    return np.asarray(np.diff(edges), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class CompensationTable:
    """``correction_um`` (m,) to be added to the axis that corrects, at evenly spaced positions.

    ``repeatable_um`` and ``scatter_um`` tell how much of what is seen comes back (largest mean deviation, and largest
    standard deviation of a single pass); ``notes`` say when a table is the wrong remedy.
    """

    code: str
    position_mm: FloatArray
    correction_um: FloatArray
    spacing_mm: float
    repeatable_um: float
    scatter_um: float
    notes: tuple[Note, ...]

    def text(self) -> str:
        """The table as CSV with its convention in comment lines."""
        out = io.StringIO()
        for key, value in (
            ("quantity", self.code),
            ("spacing_mm", f"{self.spacing_mm:g}"),
            ("sign", "correction = -(mean deviation), ISO 230-1 sign, to be added to the commanded position"),
            ("test", f"apply +{SIGN_TEST_UM:g} um at one point and measure before use"),
        ):
            out.write(f"# {key}: {value}\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(["position_mm", f"correction_{self.code}_um"])
        writer.writerows([f"{x:.3f}", f"{c:.2f}"] for x, c in zip(self.position_mm, self.correction_um, strict=True))
        return out.getvalue()


def compensation_table(
    code: str, position_mm: npt.ArrayLike, deviation_um: npt.ArrayLike, spacing_mm: float
) -> CompensationTable:
    """A table from deviations (n, passes) in the ISO sign; only what comes back in every pass is corrected."""
    x, deviation = np.asarray(position_mm, dtype=np.float64), np.asarray(deviation_um, dtype=np.float64)
    if deviation.ndim != 2 or deviation.shape[0] != x.size or deviation.shape[1] < 2:
        raise BadInput("correct.passes_needed", passes=int(deviation.shape[1]) if deviation.ndim == 2 else 1)
    if not 0.0 < spacing_mm <= np.ptp(x):
        raise BadInput("correct.bad_spacing", spacing_mm=spacing_mm, length_mm=float(np.ptp(x)))
    mean = deviation.mean(axis=1)
    scatter = float(deviation.std(axis=1, ddof=1).max())
    grid = x[0] + spacing_mm * np.arange(int(np.floor(np.ptp(x) / spacing_mm + 1e-9)) + 1)
    repeatable = float(np.abs(mean).max())
    notes = [note("correct.table_after_levelling"), note("correct.table_sign_test", step_um=SIGN_TEST_UM)]
    if scatter > 0.5 * repeatable:
        notes.append(note("correct.table_not_repeatable", scatter_um=scatter, repeatable_um=repeatable))
    return CompensationTable(code, grid, -np.interp(grid, x, mean), spacing_mm, repeatable, scatter, tuple(notes))


def sign_of_table(change_um: float, noise_um: float, applied_um: float = SIGN_TEST_UM) -> int:
    """The sign a controller needs, from the measured change at the point where ``applied_um`` was put in.

    +1 use the table as it is, -1 turn all signs over. Raises BadInput where the change is neither.
    """
    for sign in (1, -1):
        if abs(change_um - sign * applied_um) <= max(4.0 * noise_um, 0.3 * abs(applied_um)):
            return sign
    raise BadInput("correct.sign_test_failed", applied_um=applied_um, change_um=change_um)
