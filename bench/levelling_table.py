"""The runs of the levelling benchmark: kept in a file as they come, and their figures cell by cell."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np

from bench.levelling_beds import Cell

METHODS = ("reading", "prior", "ours", "oracle")
SHAPES = ((6, 1), (10, 1), (14, 1), (12, 2), (20, 2))
RATIOS = (0.1, 1.0, 10.0, 100.0)
LONGEST = 15


@dataclass(frozen=True)
class Run:
    """One bed by one method. ``values_um`` before the first round and after each."""

    method: str
    rounds: int
    turned_um: float
    there: bool
    values_um: tuple[float, ...]


@dataclass(frozen=True)
class BedDone:
    """One bed of a cell by every method."""

    cell: str
    seed: int
    runs: tuple[Run, ...]


def cells() -> list[Cell]:
    plain = [Cell(n, rows, ratio, anchored) for n, rows in SHAPES for anchored in (True, False) for ratio in RATIOS]
    return plain + [Cell(n, rows, ratio, False, hollow=True) for n, rows in ((10, 1), (12, 2)) for ratio in RATIOS]


def kept_in(file: Path | None) -> list[BedDone]:
    """The beds that a file holds already; a line cut off in the middle is left out."""
    if file is None or not file.exists():
        return []
    out = []
    for text in file.read_text(encoding="utf-8").splitlines():
        try:
            plain = json.loads(text)
        except ValueError:
            continue
        runs = tuple(Run(**(run | {"values_um": tuple(run["values_um"])})) for run in plain["runs"])
        out.append(BedDone(plain["cell"], plain["seed"], runs))
    return out


def keep(file: Path | None, done: BedDone) -> None:
    """Write a bed down at once."""
    if file is not None:
        with file.open("a", encoding="utf-8") as out:
            out.write(json.dumps(asdict(done)) + "\n")


def row(title: str, beds: Iterable[tuple[Run, ...]]) -> dict[str, object]:
    """Figures of one cell: rounds at the median and 90th percentile with bootstrap interval, not there, turning."""
    runs = list(beds)
    out: dict[str, object] = {"cell": title, "beds": len(runs)}
    rng = np.random.default_rng(1)
    for index, method in enumerate(run.method for run in runs[0]):
        rounds = np.array([bed[index].rounds for bed in runs])
        drawn = rounds[rng.integers(0, rounds.size, (1000, rounds.size))]
        out[method] = {
            "median": float(np.median(rounds)),
            "p90": float(np.percentile(rounds, 90)),
            "p90_95%": [float(v) for v in np.percentile(np.percentile(drawn, 90, axis=1), [2.5, 97.5])],
            "not_there": float(np.mean([not bed[index].there for bed in runs])),
            "turned_mm": float(np.mean([bed[index].turned_um for bed in runs])) / 1e3,
            "worst_growth": float(max(max(bed[index].values_um) / bed[index].values_um[0] for bed in runs)),
        }
    return out


def printed(figures: dict[str, object]) -> str:
    parts = [f"{figures['cell']:<42} {figures['beds']:3d}"]
    for method in METHODS:
        one = figures.get(method)
        if isinstance(one, dict):
            low, high = one["p90_95%"]
            parts.append(
                f"{method} {one['median']:4.1f} {one['p90']:4.1f} ({low:.1f}..{high:.1f}) {one['not_there']:5.1%} "
                f"{one['turned_mm']:5.2f}"
            )
    return " | ".join(parts)


def markdown(table: list[dict[str, object]]) -> str:
    """The whole table for a page: median, 90th percentile with its interval, not there, turning in mm."""
    lines = [
        "| supports, stiffness ratio | beds | " + " | ".join(METHODS) + " | turning, ours / oracle |",
        "|---|" + "---|" * (len(METHODS) + 2),
    ]
    for figures in table:
        found = [figures[method] for method in METHODS]
        ours, oracle = figures["ours"], figures["oracle"]
        assert isinstance(ours, dict)
        assert isinstance(oracle, dict)
        ratio = ours["turned_mm"] / oracle["turned_mm"]
        cells_of = " | ".join(_cell(one) for one in found if isinstance(one, dict))
        lines.append(f"| {' '.join(str(figures['cell']).split())} | {figures['beds']} | {cells_of} | {ratio:.2f} |")
    return "\n".join(lines)


def _cell(one: dict[str, object]) -> str:
    low, high = one["p90_95%"]  # type: ignore[misc, attr-defined]
    there = "" if not one["not_there"] else f", {one['not_there']:.1%} not"
    return f"{one['median']:g} / {one['p90']:.3g} ({low:.3g} to {high:.3g}){there}"


def aims(figures: dict[str, object]) -> list[str]:
    """Which aims a cell misses: within one round of the oracle, turning within 1.5, everything arrives."""
    ours, best = figures["ours"], figures["oracle"]
    assert isinstance(ours, dict)
    assert isinstance(best, dict)
    missed = [key for key in ("median", "p90") if ours[key] > best[key] + 1.0]
    if ours["turned_mm"] > 1.5 * best["turned_mm"]:
        missed.append("turning")
    if ours["not_there"] > best["not_there"] or ours["worst_growth"] > 2.0:
        missed.append("diverged")
    return missed
