"""The answer of a resting bed to small changes of everything it depends on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.contact import Rest
from waywright.correct.response import BedModel, Stiffness
from waywright.correct.structure import PER_UM


@dataclass(frozen=True, slots=True)
class Answer:
    """Derivatives of the bed's shape (shapes, ...) at a rest, for contact as it is there.

    ``to_stiffness`` is by the logarithms (bending, torsion, seats ...), ``to_setting`` by the settings in um.
    """

    rest: Rest
    to_stiffness: FloatArray
    to_setting: FloatArray


def answer(model: BedModel, stiffness: Stiffness, rest: Rest) -> Answer:
    """Derivatives of ``M u = A' D s + load`` with ``M = EI K_b + GJ K_t + A' D A``."""
    springs = model.on_springs(stiffness)
    whole = springs.stiffness_with(rest.carrying)
    seats = np.where(rest.carrying, stiffness.seat_n_per_um, 0.0)
    bent = _parts(model, stiffness, rest.shape)
    sides = np.hstack([-bent, model.at.T * rest.force_n, model.at.T * seats])
    solved = np.asarray(np.linalg.solve(whole, sides), dtype=np.float64)
    cut = 2 + seats.size
    return Answer(rest, solved[:, :cut], solved[:, cut:])


def seat_forces(model: BedModel, stiffness: Stiffness, carrying: BoolArray) -> tuple[FloatArray, FloatArray]:
    """Shape per um of setting (shapes, supports), and force in N per um (supports, supports), for a contact set."""
    springs = model.on_springs(stiffness)
    seats = np.where(carrying, stiffness.seat_n_per_um, 0.0)
    shape = np.asarray(np.linalg.solve(springs.stiffness_with(carrying), model.at.T * seats), dtype=np.float64)
    force = seats[:, None] * (np.eye(seats.size) - model.at @ shape)
    return shape, force


def _parts(model: BedModel, stiffness: Stiffness, shape: FloatArray) -> FloatArray:
    structure = model.structure
    full = shape if structure.basis is None else structure.basis @ shape
    bent = PER_UM * stiffness.bending_n_m2 * (structure.bend @ full)
    twisted = PER_UM * stiffness.torsion_n_m2 * (structure.twist @ full)
    both = np.column_stack([bent, twisted])
    return both if structure.basis is None else structure.basis.T @ both
