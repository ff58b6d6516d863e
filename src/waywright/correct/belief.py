"""What is believed about a bed: how stiff it and its seats are, and how high each support stands.

The belief is a normal distribution over the logarithms of bending and torsional stiffness, the logarithms of the
seats, and the settings of the supports (where the unloaded seat would stand, um). It starts from the machine record:
stated figures are doubted by a third, unknown ones widely. Too local a prior is safe and too coupled a one diverges
(own simulation), therefore guesses lean to the slender bed on hard seats.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.response import BedModel, Stiffness

STATED_BENDING, STATED_TORSION, STATED_SEAT = 0.35, 0.5, 0.4
UNKNOWN_BENDING, UNKNOWN_TORSION, UNKNOWN_SEAT = 0.8, 0.9, 0.7
"""Standard deviations of the logarithms."""

GUESSED_SEAT_N_PER_UM = 500.0
UNKNOWN_SETTING_UM = 100.0
IRON_PA = 110e9


@dataclass(frozen=True, slots=True)
class Belief:
    """A state of knowledge about one bed, stored with the machine.

    ``mean`` is (log bending, log torsion, log seats ..., settings in um ...), the bending in N m2, seats in N/um;
    ``covariance`` its rows. ``supports`` names the order. ``placed`` is True once the settings were fitted to a
    measured line. ``rounds`` counts what was learnt from.
    """

    supports: tuple[str, ...]
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    placed: bool = False
    rounds: int = 0

    @property
    def stiffness(self) -> Stiffness:
        """The most probable stiffness."""
        return split(np.array(self.mean), len(self.supports))[0]

    @property
    def setting_um(self) -> FloatArray:
        """The most probable settings (supports,)."""
        return split(np.array(self.mean), len(self.supports))[1]


def split(state: FloatArray, supports: int) -> tuple[Stiffness, FloatArray]:
    """Stiffness and settings of a state vector."""
    seats = np.exp(state[2 : 2 + supports])
    return Stiffness(float(np.exp(state[0])), float(np.exp(state[1])), seats), state[2 + supports :]


def belief_of(
    supports: tuple[str, ...], mean: FloatArray, covariance: FloatArray, *, placed: bool, rounds: int
) -> Belief:
    """A belief record from arrays."""
    rows = tuple(tuple(float(v) for v in row) for row in (covariance + covariance.T) / 2)
    return Belief(supports, tuple(float(v) for v in mean), rows, placed, rounds)


def prior(model: BedModel) -> Belief:
    """The belief before anything was turned, from the machine record alone."""
    bed, supports = model.bed, model.supports
    stated = bed.side_bending_n_m2 if model.sideways else bed.bending_n_m2
    bending = stated or guessed_bending_n_m2(model)
    torsion = bed.torsion_n_m2 or 0.3 * bending
    seats = [support.seat_n_per_um or GUESSED_SEAT_N_PER_UM for support in supports]
    doubt = [
        STATED_BENDING if stated else UNKNOWN_BENDING,
        STATED_TORSION if bed.torsion_n_m2 else UNKNOWN_TORSION,
        *(STATED_SEAT if support.seat_n_per_um else UNKNOWN_SEAT for support in supports),
        *(UNKNOWN_SETTING_UM for _ in supports),
    ]
    mean = np.concatenate([np.log([bending, torsion, *seats]), np.zeros(len(supports))])
    names = tuple(support.name for support in supports)
    return belief_of(names, mean, np.diag(np.square(doubt)), placed=False, rounds=0)


def guessed_bending_n_m2(model: BedModel) -> float:
    """Bending stiffness of a cast-iron box of the bed's size, leaning to the slender side.

    A third of the box is iron, its second moment of area that of a box section with walls as thick as that leaves,
    about a fortieth of ``width * height^3``; unknown sizes are a tenth of the length.
    """
    bed = model.bed
    height = (bed.height_mm or bed.length_mm / 10) * 1e-3
    width = (bed.row_distance_mm or bed.gauge_mm or bed.length_mm / 10) * 1e-3
    if model.sideways:
        height, width = width, height
    return IRON_PA * width * height**3 / 40
