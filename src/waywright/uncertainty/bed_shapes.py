"""What shapes guideways have: the population a true profile is believed to come from before anything is read.

Four families, each on top of a weak bow and a roughness that is alike over some hundred millimetres: a bow (polynomial
of fourth degree), a wave, a step (joint, end of a worn part) and a plateau (two steps, such as a worn middle). How
large they are is left open over three decades, so the readings decide it, and a large deviation is not shrunk.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from waywright.evaluate.arrays import FloatArray

COLUMNS = 7  # three of the bow, up to four of the family
_BOW = (1.0, 0.3, 0.15)  # spread of the Legendre polynomials of degree 2, 3 and 4
_WEAK_BOW = 0.3  # of that, under the other families
_WAVES_APART = 0.12  # periods over the length
_STEPS_APART, _PLATEAUS_APART = 0.6, 1.2  # edge lengths


@dataclass(frozen=True, slots=True)
class BedShapes:
    """Population of true profiles; amplitudes in the unit of the readings (um, or um/m for angles).

    ``scale`` is the typical amplitude, log-uniform between the two; shares are probabilities of the families.
    ``waves`` are periods over the line's length, uniform; ``edge_mm`` is the length over which a step rises,
    log-uniform. ``roughness`` is the standard deviation of the rest as a share of the scale, alike over
    ``roughness_length_mm`` (Matern 3/2).
    """

    bow: float = 0.3
    wave: float = 0.3
    step: float = 0.2
    plateau: float = 0.2
    scale: tuple[float, float] = (0.2, 200.0)
    waves: tuple[float, float] = (0.8, 5.0)
    edge_mm: tuple[float, float] = (30.0, 150.0)
    roughness: float = 0.05
    roughness_length_mm: float = 150.0


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """A family with its parameters fixed; amplitudes stay open. ``width`` is how far apart parameters stand."""

    family: str
    weight: float
    places: tuple[float, ...] = ()
    edge_mm: float = 0.0
    width: float = 0.0

    def columns(self, x: FloatArray, length: float) -> FloatArray:
        """Shapes at places from the line's start, each with a spread of one: (n, columns)."""
        columns = np.zeros((x.size, COLUMNS))
        columns[:, :3] = bow_columns(x / length) * (1.0 if self.family == "bow" else _WEAK_BOW)
        if self.family == "wave":
            columns[:, 3:] = _wave_columns(x / length, self.places[0], self.width)
        elif self.places:
            rises = [edge(x, place, self.edge_mm) for place in self.places]
            columns[:, 3] = rises[0] if len(rises) == 1 else rises[0] - rises[1]
            for k, place in enumerate(self.places):
                columns[:, 4 + k] = _moved(x, place, self.edge_mm, self.width)
        return columns


def bow_columns(share: FloatArray) -> FloatArray:
    """The bow's three columns at shares 0 to 1 of the length, shape (n, 3)."""
    t = 2.0 * share - 1.0
    degrees = (1.5 * t**2 - 0.5, 2.5 * t**3 - 1.5 * t, (35.0 * t**4 - 30.0 * t**2 + 3.0) / 8.0)
    return np.stack([spread * p for spread, p in zip(_BOW, degrees, strict=True)], axis=-1)


def edge(position_mm: FloatArray, middle_mm: float, length_mm: float) -> FloatArray:
    """A smooth rise from 0 to 1 over ``length_mm`` around ``middle_mm``."""
    u = np.clip((position_mm - middle_mm) / length_mm + 0.5, 0.0, 1.0)
    return u * u * (3.0 - 2.0 * u)


def hypotheses(shapes: BedShapes, length_mm: float) -> list[Hypothesis]:
    """The families with their parameters in steps.

    Between two steps of a parameter the shape moves nearly along its derivative, which is a column of its own; so a
    few steps stand for all values.
    """
    low, high = np.log(shapes.edge_mm)
    edges = np.exp(low + (high - low) * (np.arange(3) + 0.5) / 3.0).tolist()
    found = [Hypothesis("bow", shapes.bow)] * (shapes.bow > 0.0)
    found += _waves(shapes)
    for edge_mm in edges:
        places, width = _places(length_mm, max(_STEPS_APART * edge_mm, length_mm / 400.0))
        weight = shapes.step / len(edges) / len(places)
        found += [Hypothesis("step", weight, (a,), edge_mm, width) for a in places] * (shapes.step > 0.0)
    places, width = _places(length_mm, max(_PLATEAUS_APART * edges[1], length_mm / 85.0))
    weight = shapes.plateau / (len(places) * (len(places) - 1) / 2)
    pairs = combinations(places, 2)
    found += [Hypothesis("plateau", weight, pair, edges[1], width) for pair in pairs] * (shapes.plateau > 0.0)
    return found


def _waves(shapes: BedShapes) -> list[Hypothesis]:
    low, high = shapes.waves
    count = max(1, round((high - low) / _WAVES_APART))
    width = (high - low) / count
    weight = shapes.wave / count
    return [Hypothesis("wave", weight, (low + (k + 0.5) * width,), 0.0, width) for k in range(count)] * (weight > 0.0)


def _wave_columns(share: FloatArray, periods: float, width: float) -> FloatArray:
    angle = 2.0 * np.pi * periods * share
    along = 2.0 * np.pi * width / np.sqrt(12.0) * (share - 0.5)
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.stack([cosine, sine, -along * sine, along * cosine], axis=-1)


def _places(length_mm: float, apart_mm: float) -> tuple[list[float], float]:
    count = max(4, round(length_mm / apart_mm))
    width = length_mm / count
    return [(k + 0.5) * width for k in range(count)], width


def _moved(x: FloatArray, middle: float, edge_mm: float, width: float) -> FloatArray:
    """What the edge changes by when its place moves by the spread of a place known to ``width``."""
    by = width / np.sqrt(12.0)
    return (edge(x, middle - by, edge_mm) - edge(x, middle + by, edge_mm)) / 2.0
