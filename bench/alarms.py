"""False alarms by design, and the size of faults found: ``python -m bench.alarms [--visits N] [--tries N]``.

First calm visits: how many raise any alarm, with the one-sided 95 % upper bound of the true share (Clopper, Pearson,
1934). Then each fault: the size found 95 % of the time, in units of the noise named beside it, and how often a fault of
twice that size is found. About ten minutes on two processors.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cache, partial

import numpy as np

from bench.alarm_visits import QUANTITIES, World, calm_visit, changed_closings, changed_pass, moves, world
from waywright.guard import DEFAULT_RATE, Alarm, Figure, VisitEvidence, visit_alarms

Fault = Callable[[World, VisitEvidence, np.random.Generator, float], VisitEvidence]


@dataclass(frozen=True, slots=True)
class Kind:
    """A fault: how it is made from a size, the noise that the size counts in, and which alarms are right."""

    name: str
    unit: str
    make: Fault
    shows_in: str
    right: Callable[[Alarm], bool]
    upper: float


@cache
def hall() -> World:
    return world()


def upper_bound(alarms: int, visits: int, confidence: float = 0.95) -> float:
    from scipy.stats import beta

    return float(beta.ppf(confidence, alarms + 1, visits - alarms)) if alarms < visits else 1.0


def raises_alarm(rate: float, seed: int) -> bool:
    return bool(visit_alarms(calm_visit(hall(), np.random.default_rng([11, seed])), rate))


def swapped(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    return replace(visit, moves=_mounted(at, rng, np.array([[0.0, 1.0], [1.0, 0.0]]), size))


def mirrored(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    return replace(visit, moves=_mounted(at, rng, np.diag([1.0, -1.0]), size))


def _mounted(at: World, rng: np.random.Generator, mounted: np.ndarray, size: float):  # type: ignore[no-untyped-def]
    error = float(np.mean([at.error_um[q][0] for q in QUANTITIES]))
    return moves(at, rng, mounted, size * error)


def slipped(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    """One pass of three off by a step from a station in the inner half on."""
    first = int(rng.integers(6, 16))
    added = np.zeros(at.position_mm.size)
    added[first:] = size * float(at.error_um["height"][first])
    return changed_pass(visit, "height", int(rng.integers(0, 3)), added)


def person(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    place = int(rng.integers(0, at.position_mm.size))
    added = np.zeros(at.position_mm.size)
    added[place] = size * float(at.error_um["height"][place])
    return changed_pass(visit, "height", int(rng.integers(0, 3)), added)


def shifted(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    """A pass that reads, from a station in its first half on, the neighbour's value; the way is as rough as told.

    The size is the root mean square change of the way from station to station, less its bow, over a reading's noise.
    """
    wavy = np.sin(2.0 * np.pi * at.position_mm / 1450.0) + 0.6 * np.sin(2.0 * np.pi * at.position_mm / 830.0 + 1.0)
    change = np.append(np.diff(wavy), np.diff(wavy)[-1])
    back = np.append(np.diff(wavy[::-1]), np.diff(wavy[::-1])[-1])[::-1]  # towards the next station of a backward pass
    scale = size * float(np.median(at.error_um["height"])) / float(np.std(change))
    first, which = int(rng.integers(2, 11)), int(rng.integers(0, 3))
    for number in range(3):
        visit = changed_pass(visit, "height", number, scale * wavy)
    places = np.arange(wavy.size)
    if visit.passes["height"][which].direction == "backward":
        return changed_pass(visit, "height", which, np.where(places <= wavy.size - 1 - first, scale * back, 0.0))
    return changed_pass(visit, "height", which, np.where(places >= first, scale * change, 0.0))


def offset_drift(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    by = size * visit.closings["height"][0].error_um
    return changed_closings(visit, "height", by, by)


def angle_drift(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    far = size * visit.closings["height"][1].error_um
    return changed_closings(visit, "height", far * float(at.distance_m[0] / at.distance_m[-1]), far)


def warm_bed(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    return replace(visit, top_minus_foot_k=_off(visit.top_minus_foot_k, size))


def layered_air(at: World, visit: VisitEvidence, rng: np.random.Generator, size: float) -> VisitEvidence:
    return replace(visit, gradient_k_per_m=_off(visit.gradient_k_per_m, size))


def _off(figure: Figure | None, size: float) -> Figure:
    assert figure is not None
    return replace(figure, value=figure.value + size * figure.standard_uncertainty)


def _named(*pairs: tuple[str, str]) -> Callable[[Alarm], bool]:
    return lambda alarm: any(alarm.test == test and on in alarm.on for test, on in pairs)


_READING = "standard error of one reading"
_MOVES = "standard error of one reading (size of the moves)"
_FAR = "standard error of one reading at the far end"
_CHANGE = "standard error of one reading (change of the way from station to station)"
_KELVIN = "uncertainty of two thermometers' difference"
KINDS = (
    Kind("swapped channel", _MOVES, swapped, "moves", _named(("direction", "swapped")), 60.0),
    Kind("mirrored detector", _MOVES, mirrored, "moves", _named(("direction", "mirrored")), 60.0),
    Kind("slipped magnet", _READING, slipped, "passes", _named(("step", "height"), ("cannot-tell", "height")), 40.0),
    Kind("drift of offset", _READING, offset_drift, "closings", _named(("closure", "near")), 40.0),
    Kind("drift of angle", _FAR, angle_drift, "closings", _named(("closure", "far")), 40.0),
    Kind("warm bed", _KELVIN, warm_bed, "top_minus_foot_k", _named(("temperature", "bed")), 40.0),
    Kind(
        "air gradient",
        "uncertainty of the gradient",
        layered_air,
        "gradient_k_per_m",
        _named(("temperature", "air")),
        40.0,
    ),
    Kind(
        "person in the beam", _READING, person, "passes", _named(("spike", "height"), ("cannot-tell", "height")), 60.0
    ),
    Kind("shifted pass", _CHANGE, shifted, "passes", _named(("shift", "height"), ("cannot-tell", "height")), 60.0),
)


def is_found(kind: Kind, size: float, seed: int) -> bool:
    """Whether a fault raises an alarm that names it (or says that it cannot tell)."""
    rng = np.random.default_rng([17, seed])
    visit = kind.make(hall(), calm_visit(hall(), rng), rng, size)
    tested = only(visit, kind)
    return any(
        kind.right(alarm) for alarm in visit_alarms(tested, DEFAULT_RATE * tested.tests / visit.tests, live=False)
    )


def only(visit: VisitEvidence, kind: Kind) -> VisitEvidence:
    """What the fault can show in, for speed; each test keeps the share that it has in the whole visit."""
    nothing = replace(visit, moves=(), passes={}, closings={}, top_minus_foot_k=None, gradient_k_per_m=None)
    kept = getattr(visit, kind.shows_in)
    return replace(nothing, **{kind.shows_in: {"height": kept["height"]} if isinstance(kept, dict) else kept})


def found_share(kind: Kind, size: float, tries: Sequence[int]) -> float:
    return float(np.mean([is_found(kind, size, seed) for seed in tries]))


def size_found(kind: Kind, tries: int, share: float = 0.95) -> float:
    """The size found so often, by halving; the same visits at every size, so that the share is nearly monotone."""
    low, high = 0.0, kind.upper
    for _ in range(8):
        middle = (low + high) / 2.0
        low, high = (low, middle) if found_share(kind, middle, range(tries)) >= share else (middle, high)
    return high


def row(number: int, tries: int) -> tuple[str, str, float, float]:
    kind = KINDS[number]
    size = size_found(kind, tries)
    return kind.name, kind.unit, size, found_share(kind, 2.0 * size, range(tries, 2 * tries))


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--visits", type=int, default=2000)
    parser.add_argument("--tries", type=int, default=200)
    asked = parser.parse_args()
    with ProcessPoolExecutor() as pool:
        alarms = sum(pool.map(partial(raises_alarm, 0.01), range(asked.visits), chunksize=20))
        bound = upper_bound(alarms, asked.visits)
        print(
            f"calm visits: {alarms} of {asked.visits} raise an alarm; upper 95 % bound {100 * bound:.2f} % (aim 1.7 %)"
        )
        for name, unit, size, twice in pool.map(partial(row, tries=asked.tries), range(len(KINDS))):
            print(
                f"{name}: found 95 % of the time from {size:.1f} x {unit}; twice that: {100 * twice:.0f} %", flush=True
            )
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
