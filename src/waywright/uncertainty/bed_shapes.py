"""What shapes guideways have: the population a true profile is believed to come from before anything is read.

Four families, each on top of a weak bow and a roughness that is alike over some hundred millimetres: a bow (polynomial
of fourth degree), a wave, a step (joint, end of a worn part) and a plateau (two steps, such as a worn middle). How
large they are is left open over three decades, so the readings decide it, and a large deviation is not shrunk.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from waywright.evaluate.arrays import FloatArray, IntArray

COLUMNS = 7  # three of the bow, up to four of the family
_BOW = (1.0, 0.3, 0.15)  # spread of the Legendre polynomials of degree 2, 3 and 4
_WEAK_BOW = 0.3  # of that, under the other families
_WAVES_APART = 0.08  # periods over the length
_EDGE_LENGTHS, _EDGES_APART, _MOST_PLACES = 3, 0.7, 200  # apart in lengths


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
class Smooth:
    """A bow, a wave of given periods, or only the weak bow under an edge; amplitudes stay open."""

    family: str
    weight: float
    periods: float = 0.0
    width: float = 0.0

    def columns(self, share: FloatArray) -> FloatArray:
        """Shapes at shares 0 to 1 of the length, each with a spread of one: (n, columns)."""
        columns = np.zeros((share.size, COLUMNS))
        columns[:, :3] = bow_columns(share) * (1.0 if self.family == "bow" else _WEAK_BOW)
        if self.family == "wave":
            columns[:, 3:] = _wave_columns(share, self.periods, self.width)
        return columns


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """Cells of place and length that a rise may have, with their probabilities; all (edges,).

    ``width_mm`` is the cell's extent along the line; in length it goes from ``length_mm`` / ``factor`` to times it.
    """

    place_mm: FloatArray
    length_mm: FloatArray
    weight: FloatArray
    width_mm: FloatArray
    factor: float

    def inside(self, number: IntArray, share: FloatArray) -> FloatArray:
        """Place and length (n, 2) inside the cells ``number``, for shares (n, 2) from 0 to 1; NaN for -1."""
        place = self.place_mm[number] + (share[:, 0] - 0.5) * self.width_mm[number]
        length = self.length_mm[number] * self.factor ** (2.0 * share[:, 1] - 1.0)
        return np.where(number[:, np.newaxis] >= 0, np.stack([place, length], axis=1), np.nan)

    def at(self, x: FloatArray) -> FloatArray:
        """Every rise at places from the line's start, (edges, n)."""
        return np.asarray(edge(x, self.place_mm[:, np.newaxis], self.length_mm[:, np.newaxis]))


def bow_columns(share: FloatArray) -> FloatArray:
    """The bow's three columns at shares 0 to 1 of the length, shape (n, 3)."""
    t = 2.0 * share - 1.0
    degrees = (1.5 * t**2 - 0.5, 2.5 * t**3 - 1.5 * t, (35.0 * t**4 - 30.0 * t**2 + 3.0) / 8.0)
    return np.stack([spread * p for spread, p in zip(_BOW, degrees, strict=True)], axis=-1)


def edge(position_mm: FloatArray, middle_mm: float | FloatArray, length_mm: float | FloatArray) -> FloatArray:
    """A smooth rise from 0 to 1 over ``length_mm`` around ``middle_mm``."""
    u = np.clip((position_mm - middle_mm) / length_mm + 0.5, 0.0, 1.0)
    return u * u * (3.0 - 2.0 * u)


def smooth_shapes(shapes: BedShapes) -> list[Smooth]:
    """The bow and the waves, and last the weak bow that edges stand on (its weight is left to them).

    Waves come in steps of their period. Between two steps the shape moves nearly along its derivative, which has
    columns of its own; so a few steps stand for all periods.
    """
    low, high = shapes.waves
    count = max(1, round((high - low) / _WAVES_APART))
    width = (high - low) / count
    weight = shapes.wave / count
    waves = [Smooth("wave", weight, low + (k + 0.5) * width, width) for k in range(count)]
    return [Smooth("bow", shapes.bow), *waves, Smooth("edge", 0.0)]


def edges(shapes: BedShapes, length_mm: float, spacing_mm: float = 0.0) -> Edges:
    """Rises of a few lengths, at places closer together than they are long.

    They need not stand closer than a sixth of the stations' ``spacing_mm``: places inside a cell are drawn.
    """
    low, high = np.log(shapes.edge_mm)
    place, length, weight, width = [], [], [], []
    for edge_mm in np.exp(low + (high - low) * (np.arange(_EDGE_LENGTHS) + 0.5) / _EDGE_LENGTHS).tolist():
        count = min(max(4, math.ceil(length_mm / max(_EDGES_APART * edge_mm, spacing_mm / 6.0))), _MOST_PLACES)
        place.append((np.arange(count) + 0.5) * length_mm / count)
        length.append(np.full(count, edge_mm))
        weight.append(np.full(count, 1.0 / _EDGE_LENGTHS / count))
        width.append(np.full(count, length_mm / count))
    factor = float(np.exp((high - low) / _EDGE_LENGTHS / 2.0))
    return Edges(np.concatenate(place), np.concatenate(length), np.concatenate(weight), np.concatenate(width), factor)


def _wave_columns(share: FloatArray, periods: float, width: float) -> FloatArray:
    angle = 2.0 * np.pi * periods * share
    along = 2.0 * np.pi * width / np.sqrt(12.0) * (share - 0.5)
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.stack([cosine, sine, -along * sine, along * cosine], axis=-1)
