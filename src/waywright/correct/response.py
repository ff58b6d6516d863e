"""The bed on its supports: what turning a support does, where it rests, and what is read of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.contact import OnSprings, Rest
from waywright.correct.seen import MM, Source, Stations, height_rows, roll_rows, source_rows
from waywright.correct.structure import PER_UM, Structure, beam, rigid_with_twist
from waywright.errors import BadInput
from waywright.machine import Bed, Support

GRAVITY_M_PER_S2 = 9.80665
SIDE = "side-jack"
HARD = 1e3


@dataclass(frozen=True, slots=True)
class Stiffness:
    """What the bed's answer depends on: N m2, N m2, and N/um for each seat."""

    bending_n_m2: float
    torsion_n_m2: float
    seat_n_per_um: FloatArray


@dataclass(frozen=True, slots=True)
class BedModel:
    """A bed ready to be computed. ``at`` (supports, shapes) gives the height of the bed over each support.

    ``weight_n_per_m`` is the bed's own; ``sideways`` models bending in the horizontal plane on side jacks.
    """

    bed: Bed
    structure: Structure
    supports: tuple[Support, ...]
    at: FloatArray
    anchored: BoolArray
    weight_n_per_m: float
    sideways: bool = False

    @property
    def share_n(self) -> float:
        """What each support carries if all carry the same of the bed's own weight."""
        return self.weight_n_per_m * self.bed.length_mm * MM / len(self.supports)

    def on_springs(self, stiffness: Stiffness) -> OnSprings:
        """The bed with a stiffness put in."""
        free = self.structure.stiffness(stiffness.bending_n_m2, stiffness.torsion_n_m2)
        return OnSprings(free, self.at, stiffness.seat_n_per_um, self.anchored)

    def load(self, carriage_mm: float | None = None) -> FloatArray:
        """Load (shapes,) of the bed's own weight, and of the carriage with its bearing centre at ``carriage_mm``."""
        own = self.structure.weight(self.weight_n_per_m)
        carriage = self.bed.carriage
        if carriage_mm is None or carriage is None or self.sideways:
            return own
        half = carriage.pad_spacing_mm / 2
        pads = np.clip(np.array([carriage_mm - half, carriage_mm + half]), 0.0, self.bed.length_mm) * MM
        force = carriage.mass_kg * GRAVITY_M_PER_S2 / 2
        loaded: FloatArray = own - force * self.structure.height_rows(pads).sum(axis=0)
        return loaded

    def rest(self, stiffness: Stiffness, setting_um: FloatArray, carriage_mm: float | None = None) -> Rest:
        """Where the bed rests with its supports set to ``setting_um`` (supports,), one-sided contact included."""
        return self.on_springs(stiffness).rest(setting_um, self.load(carriage_mm))

    def rests(self, stiffness: Stiffness, setting_um: FloatArray, carriage_mm: FloatArray) -> FloatArray:
        """Shapes (places, shapes) of the bed at rest with the carriage at each of many places."""
        return self.on_springs(stiffness).rests(setting_um, self.loads(carriage_mm))

    def loads(self, carriage_mm: FloatArray) -> FloatArray:
        """Loads (places, shapes) as :meth:`load` gives them for each place of the carriage."""
        own, carriage = self.structure.weight(self.weight_n_per_m), self.bed.carriage
        out = np.repeat(own[None, :], carriage_mm.size, axis=0)
        if carriage is not None and not self.sideways:
            force = carriage.mass_kg * GRAVITY_M_PER_S2 / 2
            for side in (-0.5, 0.5):
                pads = np.clip(carriage_mm + side * carriage.pad_spacing_mm, 0.0, self.bed.length_mm) * MM
                out -= force * self.structure.height_rows(pads)
        return out

    def height(self, stiffness: Stiffness, shape: FloatArray, seen: Stations) -> FloatArray:
        """Height of the stations in um, the sag between the supports included."""
        return height_rows(self.structure, self.bed, seen) @ shape + self._sag_in_element(stiffness, seen)

    def rows(self, seen: Stations, source: Source | None = None) -> FloatArray:
        """Rows (stations, shapes) of the height as read: in the frame of ``source``, or of the floor."""
        floor = height_rows(self.structure, self.bed, seen)
        return floor if source is None else floor - source_rows(self.structure, seen, source)

    def roll_rows(self, seen: Stations) -> FloatArray:
        """Rows (stations, shapes) of the roll as a level reads it, in um/m."""
        return roll_rows(self.structure, self.bed, seen)

    def level_shape(self, stiffness: Stiffness) -> FloatArray:
        """The shape (shapes,) under the bed's own weight on hard, level supports: the ways were made straight so."""
        free = self.structure.stiffness(stiffness.bending_n_m2, stiffness.torsion_n_m2)
        hard = HARD * float(np.diag(free).max())
        return np.asarray(np.linalg.solve(free + hard * self.at.T @ self.at, self.load()), dtype=np.float64)

    def influence(self, stiffness: Stiffness, rows: FloatArray, carrying: BoolArray | None = None) -> FloatArray:
        """Change of ``rows`` for each support raised by 1 um, (rows, supports), as long as contact does not change."""
        carrying = np.ones(len(self.supports), dtype=np.bool_) if carrying is None else carrying
        springs = self.on_springs(stiffness)
        push = np.where(carrying, stiffness.seat_n_per_um, 0.0)[:, None] * self.at
        answer: FloatArray = rows @ np.linalg.solve(springs.stiffness_with(carrying), push.T)
        return answer

    def _sag_in_element(self, stiffness: Stiffness, seen: Stations) -> FloatArray:
        """Sag of the bed's own weight between two nodes held firmly: -q x^2 (h - x)^2 / (24 EI)."""
        if self.structure.basis is not None or seen.quantity == "carriage":
            return np.zeros(seen.along_mm.size)
        along = seen.along_mm * MM
        element = self.structure.elements_of(along)
        h = np.diff(self.structure.node_m)[element]
        x = along - self.structure.node_m[element]
        sag: FloatArray = -self.weight_n_per_m * (x * (h - x)) ** 2 / (24 * stiffness.bending_n_m2 * PER_UM)
        return sag


def bed_model(bed: Bed, *, sideways: bool = False) -> BedModel:
    """A model of the bed from its machine record; ``sideways`` takes the side jacks instead of the feet.

    Raises BadInput where the supports cannot hold the bed.
    """
    supports = tuple(support for support in bed.supports if (support.kind == SIDE) == sideways)
    across = np.array([0.0 if sideways else bed.support_across_mm(support) for support in supports]) * MM
    along = np.array([support.bed_mm for support in supports]) * MM
    twisting = bool(across.size and np.ptp(across) > 0.0)
    joints = [(joint.bed_mm * MM, joint.extra_length_mm * MM) for joint in bed.joints]
    structure = beam(bed.length_mm * MM, [float(x) for x in along], joints, twisting=twisting)
    if not sideways and is_stocky(bed):
        structure = rigid_with_twist(structure)
    at = structure.height_rows(along, across if twisting else 0.0)
    _check_held(along, across, twisting, sideways)
    anchored = np.array([sideways or support.anchored for support in supports], dtype=np.bool_)
    weight = 0.0 if sideways else guessed_mass_kg(bed) * GRAVITY_M_PER_S2 / (bed.length_mm * MM)
    return BedModel(bed, structure, supports, at, anchored, weight, sideways)


def is_stocky(bed: Bed) -> bool:
    """Three to five feet in two rows under a bed shorter than four times its height: it does not bend, it twists."""
    feet = [support for support in bed.supports if support.kind != SIDE]
    height = bed.height_mm or 0.0
    rows = {bed.support_across_mm(support) for support in feet}
    return 3 <= len(feet) <= 5 and len(rows) > 1 and bed.length_mm < 4.0 * height


def guessed_mass_kg(bed: Bed) -> float:
    """The mass of the bed; unknown, a third of the box it fills is cast iron (7200 kg/m3)."""
    if bed.mass_kg is not None:
        return bed.mass_kg
    height = (bed.height_mm or bed.length_mm / 10.0) * MM
    width = (bed.row_distance_mm or bed.gauge_mm or bed.length_mm / 10.0) * MM
    return 7200.0 * bed.length_mm * MM * height * width / 3.0


def _check_held(along: FloatArray, across: FloatArray, twisting: bool, sideways: bool) -> None:
    places = np.column_stack([np.ones(along.size), along] + ([across] if twisting else []))
    needed = places.shape[1]
    if along.size < needed or np.linalg.matrix_rank(places) < needed:
        raise BadInput("correct.side_jacks_missing" if sideways else "correct.not_held", supports=along.size)


def names(supports: Sequence[Support]) -> tuple[str, ...]:
    """Names as painted on the floor."""
    return tuple(support.name for support in supports)
