"""Honest coverage: how often the stated 95 % interval holds the truth. ``python -m bench.coverage [--measurements N]``.

Truth is the value of the true profile over the whole measured length on the 10 mm grid. Beds and influences are drawn
anew for each measurement from the distributions that the budget states; a second table shows what happens where those
are wrong by a factor of two. The width stands beside the coverage, so that nobody wins by being vague.
A measurement takes some 20 to 40 ms of one processor: 20 000 of all six cases are about an hour on two processors.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cache
from os import cpu_count

import numpy as np

from bench.coverage_truth import FAMILIES, Beds, Wrong, read
from waywright.evaluate import straightness, twist
from waywright.evaluate.arrays import FloatArray
from waywright.files.budget_file import ready_budget
from waywright.uncertainty import (
    Acts,
    Believer,
    Budget,
    Contribution,
    Measured,
    Outcome,
    covariance,
    effects,
    noise_values,
)
from waywright.uncertainty.effects import disturbance

LEVEL = 0.95
BATCH = 100
SEEDS = 16  # seeds of the belief used in turn: as many sets of population draws are kept


@dataclass(frozen=True, slots=True)
class Case:
    """A method at its stations."""

    name: str
    budget: Budget
    length_mm: float
    stations: int
    values: tuple[str, ...] = ("straightness", "deviation")

    @property
    def position_mm(self) -> FloatArray:
        return np.linspace(0.0, self.length_mm, self.stations)


def square_budget() -> Budget:
    """Two axes by beam; the optical square turns the second."""
    beam = ready_budget("beam")
    square = Contribution("optical square", Acts.TILT, 2.0, "um/m", "rectangular", source="certificate")
    return replace(beam, contribution=(*beam.contribution, square))


CASES = {
    case.name: case
    for case in (
        Case("beam", ready_budget("beam"), 5200.0, 22),
        Case("level", ready_budget("level"), 5000.0, 21),
        Case("autocollimator", ready_budget("autocollimator"), 3000.0, 31),
        Case("straightedge", ready_budget("straightedge"), 1500.0, 13),
        Case("cross-level", ready_budget("cross-level"), 5200.0, 22, ("twist",)),
        Case("square", square_budget(), 2000.0, 15, ("squareness",)),
    )
}


def values_of(case: Case, x: FloatArray, y: FloatArray) -> dict[str, FloatArray]:
    """Every value of the case for profiles (grid, draws); the deviation is the one at a third of the stations."""
    if case.values == ("twist",):
        return {"twist": np.asarray(twist(x, y).end_to_end_um_per_m)}
    found = straightness(x, y, "least-squares")
    if case.values == ("squareness",):
        return {"squareness": np.asarray(found.line.slope_um_per_m)}
    place = int(np.abs(x - case.position_mm[case.stations // 3]).argmin())
    line = found.line.offset_um + found.line.slope_um_per_m * (x[place] / 1e3)
    return {"straightness": np.asarray(found.value_um), "deviation": np.asarray(y[place] - line)}


@cache
def believer(name: str) -> Believer:
    case = CASES[name]
    x = case.position_mm
    found = effects(case.budget, Measured(x, np.zeros(x.size), joins_mm=(float(x.mean()),)))
    return Believer(x, covariance(case.budget, found), case.budget.bed)


@dataclass(frozen=True, slots=True)
class Measurement:
    """One measurement: its family of shape, and for each value the truth, the interval and the readings' own value."""

    family: str
    true: dict[str, float]
    interval: dict[str, tuple[float, float]]


def one(case: Case, beds: Beds, wrong: Wrong, rng: np.random.Generator, draws: int, number: int) -> Measurement:
    made = [_axis(case, beds, wrong, rng, draws, number + k) for k in range(2 if "squareness" in case.values else 1)]
    true: dict[str, float] = {}
    interval: dict[str, tuple[float, float]] = {}
    for name in case.values:
        true[name] = sum((-1) ** k * axis[1][name][0] for k, axis in enumerate(made))
        drawn = sum((-1) ** k * axis[1][name][1] for k, axis in enumerate(made))
        interval[name] = Outcome(np.asarray(drawn), 0.0, 0).interval(LEVEL)
    return Measurement(made[0][0], true, interval)


def _axis(
    case: Case, beds: Beds, wrong: Wrong, rng: np.random.Generator, draws: int, number: int
) -> tuple[str, dict[str, tuple[float, FloatArray]]]:
    belief_maker = believer(case.name)
    grid, x = belief_maker.grid_mm, case.position_mm
    family, profile = beds.draw(rng)
    reading = read(case.budget, x, profile[belief_maker.at], wrong, rng)
    found = effects(case.budget, Measured(x, reading, joins_mm=(float(x.mean()),)))
    seed = 1 + number % SEEDS
    belief = belief_maker.belief(reading, draws, seed, disturbance=lambda count: disturbance(found, count, seed))
    result = {}
    order = np.random.default_rng(number).permutation(draws)
    stated = values_of(case, grid, belief.profile)
    for name, true in values_of(case, grid, profile[:, np.newaxis]).items():
        result[name] = (float(true[0]), stated[name][order])
    return family, result


def batch(name: str, wrong: Wrong, first: int, count: int, draws: int) -> list[Measurement]:
    case, rng = CASES[name], np.random.default_rng([first, 2_718])
    beds = Beds(case.budget.bed, believer(name).grid_mm, wrong)
    return [one(case, beds, wrong, rng, draws, first + k) for k in range(count)]


def measured(name: str, wrong: Wrong, measurements: int, draws: int, workers: int | None = None) -> list[Measurement]:
    """Measurements of one case; the same ones for any number of workers."""
    starts = range(0, measurements, BATCH)
    counts = [min(BATCH, measurements - start) for start in starts]
    if (workers or cpu_count() or 1) == 1:
        parts = [batch(name, wrong, a, n, draws) for a, n in zip(starts, counts, strict=True)]
    else:
        with ProcessPoolExecutor(workers) as pool:
            some = len(starts)
            parts = list(pool.map(batch, [name] * some, [wrong] * some, starts, counts, [draws] * some))
    return [item for part in parts for item in part]


@dataclass(frozen=True, slots=True)
class Coverage:
    """Share of intervals that held the truth, with its own standard error, and how wide they were."""

    case: str
    value: str
    group: str
    measurements: int
    share: float
    standard_error: float
    mean_width: float
    below: float

    @staticmethod
    def of(case: str, value: str, group: str, items: Sequence[Measurement]) -> Coverage:
        true = np.array([item.true[value] for item in items])
        low, high = np.array([item.interval[value] for item in items]).T
        share = float(((low <= true) & (true <= high)).mean())
        error = float(np.sqrt(max(share * (1.0 - share), 1e-4) / len(items)))
        return Coverage(
            case, value, group, len(items), share, error, float((high - low).mean()), float((true < low).mean())
        )


def floor_um(case: Case) -> float:
    """Noise floor of the least-squares value with the scatter of this case (root mean square over the stations)."""
    found = effects(case.budget, Measured(case.position_mm, np.zeros(case.stations)))
    random = [e for e in found if e.random is not None and not e.on_reading]
    variance = sum(e.contribution.standard_uncertainty**2 * (e.matrix**2).sum(axis=1).mean() for e in random)
    return float(noise_values(case.position_mm, "least-squares", 4000, 1).mean() * np.sqrt(variance))


def table(name: str, items: list[Measurement]) -> list[Coverage]:
    case = CASES[name]
    rows = []
    for value in case.values:
        rows.append(Coverage.of(name, value, "all", items))
        rows += [
            Coverage.of(name, value, family, group)
            for family in FAMILIES
            if len(group := [item for item in items if item.family == family]) > 1
        ]
        if value == "straightness":
            floor = 3.0 * floor_um(case)
            groups = {
                "below 3 floors": [item for item in items if item.true[value] < floor],
                "above 3 floors": [item for item in items if item.true[value] >= floor],
            }
            rows += [Coverage.of(name, value, group, members) for group, members in groups.items() if len(members) > 1]
    return rows


WRONG = {
    "influences twice as large": Wrong(influences=2.0),
    "influences half as large": Wrong(influences=0.5),
    "shapes twice as long": Wrong(lengths=2.0),
    "shapes half as long": Wrong(lengths=0.5),
    "roughness twice as large": Wrong(roughness=2.0),
    "roughness half as large": Wrong(roughness=0.5),
}


def _print(title: str, rows: list[Coverage]) -> None:
    from rich.console import Console
    from rich.table import Table

    shown = Table("method", "value", "beds", "measured", "covered", "+-", "truth below", "mean width", title=title)
    for row in rows:
        shown.add_row(
            row.case,
            row.value,
            row.group,
            str(row.measurements),
            f"{100 * row.share:.1f} %",
            f"{100 * row.standard_error:.1f}",
            f"{100 * row.below:.1f} %",
            f"{row.mean_width:.2f} {'um' if row.value in ('straightness', 'deviation') else 'um/m'}",
        )
    Console(width=120).print(shown)


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--measurements", type=int, default=20_000)
    ask.add_argument("--draws", type=int, default=300)
    ask.add_argument("--workers", type=int, default=None)
    ask.add_argument("--case", choices=sorted(CASES), action="append")
    ask.add_argument("--as-stated-only", action="store_true", help="leave out the table of wrong statements")
    wanted = ask.parse_args()
    for name in wanted.case or CASES:
        items = measured(name, Wrong(), wanted.measurements, wanted.draws, wanted.workers)
        _print(f"{name}: as the budget states", table(name, items))
    if wanted.as_stated_only:
        return
    for title, wrong in WRONG.items():
        for name in wanted.case or ("beam",):
            items = measured(name, wrong, wanted.measurements, wanted.draws, wanted.workers)
            _print(f"{name}: {title} than stated", table(name, items))


if __name__ == "__main__":
    main()
