"""Beds and influences drawn from the distributions that a budget states: the truth of the coverage test.

Parameters are continuous here (the belief works with steps of them), and every influence has the distribution the
budget names, where the belief takes all of them as normal.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty import BedShapes, Budget, Contribution, Effect, Measured, effects

FAMILIES = ("bow", "wave", "step", "plateau")


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with the budget's statements, as factors on the truth."""

    influences: float = 1.0
    lengths: float = 1.0
    roughness: float = 1.0


class Beds:
    """True profiles on a grid."""

    def __init__(self, shapes: BedShapes, grid_mm: FloatArray, wrong: Wrong) -> None:
        self.shapes, self.wrong = shapes, wrong
        self.x = grid_mm - grid_mm[0]
        self.length = float(self.x[-1])
        d = np.sqrt(3.0) * np.abs(self.x[:, None] - self.x) / (shapes.roughness_length_mm * wrong.lengths)
        self.rough = np.linalg.cholesky((1.0 + d) * np.exp(-d) + 1e-10 * np.eye(self.x.size))
        t = 2.0 * self.x / self.length - 1.0
        self.legendre = np.polynomial.legendre.legvander(t, 4)[:, 2:] * (1.0, 0.3, 0.15)

    def draw(self, rng: np.random.Generator) -> tuple[str, FloatArray]:
        s = self.shapes
        shares = np.array([getattr(s, name) for name in FAMILIES])
        family = str(rng.choice(FAMILIES, p=shares / shares.sum()))
        scale = np.exp(rng.uniform(*np.log(s.scale)))
        profile = self.legendre @ rng.standard_normal(3) * (1.0 if family == "bow" else 0.3)
        profile += s.roughness * self.wrong.roughness * (self.rough @ rng.standard_normal(self.x.size))
        if family == "wave":
            angle = 2.0 * np.pi * rng.uniform(*s.waves) / self.wrong.lengths * self.x / self.length
            profile += rng.standard_normal() * np.cos(angle) + rng.standard_normal() * np.sin(angle)
        elif family == "step":
            profile += rng.standard_normal() * self.rise(rng.uniform(0.0, self.length), rng)
        elif family == "plateau":
            first, last = rng.uniform(0.0, self.length, 2)
            profile += rng.standard_normal() * (self.rise(first, rng) - self.rise(last, rng))
        return family, scale * profile

    def rise(self, place: float, rng: np.random.Generator) -> FloatArray:
        over = np.exp(rng.uniform(*np.log(self.shapes.edge_mm))) * self.wrong.lengths
        u = np.clip((self.x - place) / over + 0.5, 0.0, 1.0)
        return np.asarray(u * u * (3.0 - 2.0 * u))


def standard_draw(one: Contribution, rng: np.random.Generator, size: int) -> FloatArray:
    """Draws of a contribution in its unit, from the distribution that the budget names."""
    if one.distribution == "rectangular":
        return rng.uniform(-one.value, one.value, size)
    if one.distribution == "triangular":
        return rng.triangular(-one.value, 0.0, one.value, size) if one.value else np.zeros(size)
    if one.distribution == "arcsine":
        return one.value * np.sin(rng.uniform(-np.pi, np.pi, size))
    return one.value * rng.standard_normal(size)


def read(
    budget: Budget, position_mm: FloatArray, true: FloatArray, wrong: Wrong, rng: np.random.Generator
) -> FloatArray:
    """Readings of a true profile at the stations, with every influence of the budget."""
    measured = Measured(position_mm, true, joins_mm=(float(position_mm.mean()),))
    errors = [_error(effect, rng) for effect in effects(budget, measured)]
    return np.asarray(true + wrong.influences * np.sum(errors, axis=0))


def _error(effect: Effect, rng: np.random.Generator) -> FloatArray:
    columns = effect.matrix
    return np.asarray(columns @ standard_draw(effect.contribution, rng, columns.shape[1]))
