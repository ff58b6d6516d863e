"""Visits for the alarm benchmark: truth, air and noise of a practice scenario, drawn anew for each visit.

A reading's error is what the scenario's detector and air leave of an average of three seconds: white noise, and slow
air with its memory, both growing with the power 3/2 of the distance. A calm visit has no drift, no heat, nothing else.
Everything here is drawn by a seed; sizes of faults are in units of what the noise is where the fault acts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from waywright.guard import Closing, Figure, KnownMove, PassSoFar, Seen, VisitEvidence
from waywright.quantities import Direction
from waywright.simulation.places import Places
from waywright.simulation.scenario import Scenario, load_scenario
from waywright.simulation.truth import carriage_form

AVERAGING_S = 3.0
STATIONS = 22
CHANNELS = (Direction.UP, Direction.TOWARDS)
SHIM_UM, SHIM_TOLERANCE_UM = 100.0, 2.0
THERMOMETER_K, APART_M = 0.1, 0.5
QUANTITIES = ("height", "side")


@dataclass(frozen=True, slots=True, eq=False)
class World:
    """What is alike in all visits: stations (n,), true values, standard errors of readings and scatter of samples."""

    position_mm: np.ndarray
    distance_m: np.ndarray
    truth_um: dict[str, np.ndarray]
    error_um: dict[str, np.ndarray]
    sample_um: dict[str, np.ndarray]
    tolerance_um: float = 0.5  # small, so that limits rest on the noise and not on a tenth of the tolerance


def world(name: str = "calm-hall") -> World:
    scenario = load_scenario(name)
    x = np.linspace(0.0, scenario.travel_mm, STATIONS)
    form = carriage_form(scenario)
    distance = Places(scenario).from_source_m(x)
    shapes = {"height": form.height.at(x), "side": form.side.at(x)}
    errors = {quantity: reading_error_um(scenario, distance, k) for k, quantity in enumerate(QUANTITIES)}
    samples = {quantity: sample_scatter_um(scenario, distance, k) for k, quantity in enumerate(QUANTITIES)}
    return World(x, distance, shapes, errors, samples)


def sample_scatter_um(scenario: Scenario, distance_m: np.ndarray, quantity: int) -> np.ndarray:
    """Scatter of single samples within a reading: the white part of the noise."""
    growth = (distance_m / 5.0) ** 1.5
    return np.asarray(np.hypot(scenario.beam.noise_um, scenario.air.white_um[quantity] * growth))


def reading_error_um(scenario: Scenario, distance_m: np.ndarray, quantity: int) -> np.ndarray:
    """Standard error of an average; slow air of memory m averaged over t: variance 2 m/t (1 - m/t (1 - exp(-t/m)))."""
    air, ratio = scenario.air, scenario.air.memory_s / AVERAGING_S
    growth = (distance_m / 5.0) ** 1.5
    white = np.hypot(scenario.beam.noise_um, air.white_um[quantity] * growth)
    slow = (air.slow_um[quantity] * growth) ** 2 * 2.0 * ratio * (1.0 - ratio * (1.0 - math.exp(-1.0 / ratio)))
    return np.asarray(np.sqrt(white**2 / (AVERAGING_S * scenario.beam.rate_hz) + slow))


def calm_visit(at: World, rng: np.random.Generator, passes: int = 3) -> VisitEvidence:
    """A visit without any fault: direction test, passes forward and backward, both ends read twice, temperatures."""
    taken = {q: tuple(_pass(at, q, k, rng) for k in range(passes)) for q in QUANTITIES}
    return VisitEvidence(
        moves=moves(at, rng, np.eye(2)),
        channels=CHANNELS,
        passes=taken,
        closings={q: tuple(_closing(at, q, place, rng) for place in ("near", "far")) for q in QUANTITIES},
        tolerance_um=at.tolerance_um,
        top_minus_foot_k=_difference(rng, THERMOMETER_K * math.sqrt(2.0)),
        gradient_k_per_m=_difference(rng, THERMOMETER_K * math.sqrt(2.0) / APART_M),
    )


def moves(at: World, rng: np.random.Generator, mounted: np.ndarray, size_um: float = SHIM_UM) -> tuple[KnownMove, ...]:
    """A shim upward and a stop sideways, seen by a detector mounted as ``mounted`` (2, 2) says."""
    error = float(np.mean([at.error_um[q][0] for q in QUANTITIES]))
    made = []
    for direction, unit in ((Direction.UP, [1.0, 0.0]), (Direction.TOWARDS, [0.0, 1.0])):
        tolerance = SHIM_TOLERANCE_UM * size_um / SHIM_UM
        seating = 2.0 * size_um / SHIM_UM
        true = size_um + rng.uniform(-tolerance, tolerance) + rng.normal(0.0, seating)
        after = mounted @ np.array(unit) * true
        noise = rng.normal(0.0, error, (2, 2))
        seen = [Seen(*(float(v) for v in row), error) for row in (noise[0], after + noise[1])]
        made.append(KnownMove(direction, size_um, tolerance, seen[0], seen[1], seating_um=seating))
    return tuple(made)


def changed_pass(visit: VisitEvidence, quantity: str, number: int, added: np.ndarray) -> VisitEvidence:
    """The visit with ``added`` (n,) put on one pass, ``added`` in the order of stations."""
    taken = list(visit.passes[quantity])
    one = taken[number]
    placed = added[::-1] if one.direction == "backward" else added
    taken[number] = replace(one, value=np.asarray(one.value) + placed)
    return replace(visit, passes={**visit.passes, quantity: tuple(taken)})


def changed_closings(visit: VisitEvidence, quantity: str, near_um: float, far_um: float) -> VisitEvidence:
    """The visit with the second readings at both ends off."""
    near, far = visit.closings[quantity]
    both = (replace(near, again_um=near.again_um + near_um), replace(far, again_um=far.again_um + far_um))
    return replace(visit, closings={**visit.closings, quantity: both})


def _pass(at: World, quantity: str, number: int, rng: np.random.Generator) -> PassSoFar:
    """One pass in the order of reading, with the errors and scatters that its samples would show.

    A standard error comes from eight blocks of a reading's samples: seven degrees of freedom. The scatter of samples
    counts forty independent ones. Nothing drifts and nobody zeroes anything between passes.
    """
    error, backward = at.error_um[quantity], number % 2 == 1
    n = error.size
    value = at.truth_um[quantity] + rng.normal(0.0, error)
    shown = error * np.sqrt(rng.chisquare(7, n) / 7.0)
    scatter = at.sample_um[quantity] * np.sqrt(rng.chisquare(40, n) / 40.0)
    order = np.arange(n)[::-1] if backward else np.arange(n)
    began_s = number * n * 20.0
    return PassSoFar(
        at.position_mm[order], value[order], "backward" if backward else "forward",
        float(at.position_mm[1] - at.position_mm[0]), scatter[order], int(AVERAGING_S * 50.0), shown[order],
        began_s + 20.0 * np.arange(n), quantity,
    )  # fmt: skip


def _closing(at: World, quantity: str, place: str, rng: np.random.Generator) -> Closing:
    error = float(at.error_um[quantity][0 if place == "near" else -1])
    first, again = rng.normal(0.0, error, 2)
    return Closing(place, float(first), float(again), error)


def _difference(rng: np.random.Generator, error: float) -> Figure:
    return Figure(float(rng.normal(0.0, error)), error)
