"""A bed as a finite-element beam: height and twist along its length.

Euler-Bernoulli elements with Hermite shapes for the height (exact at the nodes for any load, exact between them
without one), linear elements of St Venant torsion for the twist: K. J. Bathe, Finite Element Procedures, 2nd ed.,
section 4.2; the cross-section stays rigid, so a place ``across`` the bed lies at ``height + across * twist``. A joint
is a hinge with the stiffness of ``extra_length`` of bed. Nodes stand at the ends, supports and joints only, which is
enough because the elements are exact there.

Units here: m along and across, um up, um/m for slope (rising to the right) and twist (operator's side up), N, N m.
A bending stiffness in N m2 counts 1e-6 in these units.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import FloatArray

SAME_PLACE_M = 1e-6
PER_UM = 1e-6


@dataclass(frozen=True, slots=True)
class Structure:
    """Unit stiffness matrices and where the unknowns stand.

    ``bend`` and ``twist`` are (dofs, dofs) for a stiffness of 1 N m2. ``height_at`` is the unknown of each node's
    height; ``slope_left`` and ``slope_right`` differ at a joint only, as do ``twist_left`` and ``twist_right``.
    ``basis`` (dofs, shapes), if given, restricts the bed to these shapes.
    """

    node_m: FloatArray
    height_at: npt.NDArray[np.intp]
    slope_left: npt.NDArray[np.intp]
    slope_right: npt.NDArray[np.intp]
    twist_left: npt.NDArray[np.intp]
    twist_right: npt.NDArray[np.intp]
    bend: FloatArray
    twist: FloatArray
    twisting: bool
    basis: FloatArray | None = None

    @property
    def dofs(self) -> int:
        """Number of unknowns."""
        return int(self.bend.shape[0])

    def elements_of(self, along_m: FloatArray) -> npt.NDArray[np.intp]:
        """Index of the element each place lies in; a node belongs to the element on its left."""
        found = np.searchsorted(self.node_m, along_m - SAME_PLACE_M, side="left") - 1
        return np.clip(found, 0, self.node_m.size - 2).astype(np.intp)

    def height_rows(self, along_m: FloatArray, across_m: FloatArray | float = 0.0) -> FloatArray:
        """Rows (places, shapes) that give the height of places from the unknowns."""
        rows = self._hermite(along_m, slope=False)
        if self.twisting:
            rows += np.reshape(across_m, (-1, 1)) * self._twist_rows(along_m)
        return self._restricted(rows)

    def slope_rows(self, along_m: FloatArray, across_m: FloatArray | float = 0.0) -> FloatArray:
        """Rows (places, shapes) that give the slope along the bed."""
        rows = self._hermite(along_m, slope=True)
        if self.twisting:
            rows += np.reshape(across_m, (-1, 1)) * self._twist_rate_rows(along_m)
        return self._restricted(rows)

    def twist_rows(self, along_m: FloatArray) -> FloatArray:
        """Rows (places, shapes) that give the twist; nothing where the bed cannot twist."""
        return self._restricted(self._twist_rows(along_m))

    def weight(self, force_n_per_m: float) -> FloatArray:
        """Load (shapes,) of a weight spread evenly, downwards."""
        load = np.zeros(self.dofs)
        for e, h in enumerate(np.diff(self.node_m)):
            ends = self._bend_dofs(e)
            np.add.at(load, ends, -force_n_per_m * h * np.array([0.5, h / 12, 0.5, -h / 12]))
        return load if self.basis is None else load @ self.basis

    def stiffness(self, bending_n_m2: float, torsion_n_m2: float) -> FloatArray:
        """Stiffness of the free bed in N/um, shape (shapes, shapes)."""
        whole = PER_UM * (bending_n_m2 * self.bend + torsion_n_m2 * self.twist)
        return whole if self.basis is None else self.basis.T @ whole @ self.basis

    def _restricted(self, rows: FloatArray) -> FloatArray:
        return rows if self.basis is None else rows @ self.basis

    def _bend_dofs(self, element: int) -> npt.NDArray[np.intp]:
        right = element + 1
        return np.array(
            [self.height_at[element], self.slope_right[element], self.height_at[right], self.slope_left[right]]
        )

    def _hermite(self, along_m: FloatArray, *, slope: bool) -> FloatArray:
        element = self.elements_of(along_m)
        left, h = self.node_m[element], np.diff(self.node_m)[element]
        shapes = _hermite_slopes if slope else _hermite_heights
        rows = np.zeros((along_m.size, self.dofs))
        columns = (
            self.height_at[element],
            self.slope_right[element],
            self.height_at[element + 1],
            self.slope_left[element + 1],
        )
        for column, value in zip(columns, shapes((along_m - left) / h, h), strict=True):
            rows[np.arange(along_m.size), column] += value
        return rows

    def _twist_rows(self, along_m: FloatArray) -> FloatArray:
        rows = np.zeros((along_m.size, self.dofs))
        if self.twisting:
            element = self.elements_of(along_m)
            part = (along_m - self.node_m[element]) / np.diff(self.node_m)[element]
            rows[np.arange(along_m.size), self.twist_right[element]] = 1.0 - part
            rows[np.arange(along_m.size), self.twist_left[element + 1]] += part
        return rows

    def _twist_rate_rows(self, along_m: FloatArray) -> FloatArray:
        rows = np.zeros((along_m.size, self.dofs))
        element = self.elements_of(along_m)
        rate = 1.0 / np.diff(self.node_m)[element]
        rows[np.arange(along_m.size), self.twist_right[element]] = -rate
        rows[np.arange(along_m.size), self.twist_left[element + 1]] += rate
        return rows


def _hermite_heights(t: FloatArray, h: FloatArray) -> tuple[FloatArray, ...]:
    return 1 - 3 * t**2 + 2 * t**3, h * (t - 2 * t**2 + t**3), 3 * t**2 - 2 * t**3, h * (t**3 - t**2)


def _hermite_slopes(t: FloatArray, h: FloatArray) -> tuple[FloatArray, ...]:
    return 6 * (t**2 - t) / h, 1 - 4 * t + 3 * t**2, 6 * (t - t**2) / h, 3 * t**2 - 2 * t


def beam(
    length_m: float,
    nodes_m: Sequence[float],
    joints_m: Sequence[tuple[float, float]] = (),
    *,
    twisting: bool = False,
) -> Structure:
    """A bed with nodes at its ends, at ``nodes_m`` and at the joints (place, extra length), all in m."""
    node = _distinct([0.0, length_m, *nodes_m, *(place for place, _ in joints_m)])
    soft = {int(np.argmin(np.abs(node - place))): extra for place, extra in joints_m}
    numbers = _numbered(node.size, soft, twisting)
    structure = Structure(node, *numbers, *_unit_matrices(node, numbers, soft, twisting), twisting)
    return structure


def rigid_with_twist(structure: Structure) -> Structure:
    """The same bed, too stocky to bend: height and pitch of a rigid body, and the twist along it."""
    node, middle = structure.node_m, structure.node_m.mean()
    height = np.zeros((structure.dofs, 2))
    height[structure.height_at, 0] = 1.0
    height[structure.height_at, 1] = node - middle
    height[structure.slope_left, 1] = height[structure.slope_right, 1] = 1.0
    free = np.union1d(structure.twist_left, structure.twist_right) if structure.twisting else np.empty(0, np.intp)
    twist = np.eye(structure.dofs)[:, free]
    return replace(structure, basis=np.hstack([height, twist]))


def _distinct(places: Sequence[float]) -> FloatArray:
    ordered = np.sort(np.array(places, dtype=np.float64))
    return ordered[np.concatenate(([True], np.diff(ordered) > SAME_PLACE_M))]


Numbers = tuple[
    npt.NDArray[np.intp], npt.NDArray[np.intp], npt.NDArray[np.intp], npt.NDArray[np.intp], npt.NDArray[np.intp]
]


def _numbered(nodes: int, soft: dict[int, float], twisting: bool) -> Numbers:
    """Unknowns in order along the bed; a joint has two slopes and two twists."""
    out = np.zeros((5, nodes), dtype=np.intp)
    following = 0
    for node in range(nodes):
        split = 1 if node in soft else 0
        out[0, node] = following
        out[1, node], out[2, node] = following + 1, following + 1 + split
        following += 2 + split
        if twisting:
            out[3, node], out[4, node] = following, following + split
            following += 1 + split
    return out[0], out[1], out[2], out[3], out[4]


def _unit_matrices(
    node: FloatArray, numbers: Numbers, soft: dict[int, float], twisting: bool
) -> tuple[FloatArray, FloatArray]:
    height, slope_left, slope_right, twist_left, twist_right = numbers
    dofs = int(max(part.max() for part in numbers)) + 1
    bend, twist = np.zeros((dofs, dofs)), np.zeros((dofs, dofs))
    for e, h in enumerate(np.diff(node)):
        at = np.array([height[e], slope_right[e], height[e + 1], slope_left[e + 1]])
        bend[np.ix_(at, at)] += _bending_element(float(h))
        if twisting:
            _spring(twist, int(twist_right[e]), int(twist_left[e + 1]), 1.0 / h)
    for at_node, extra in soft.items():
        _spring(bend, int(slope_left[at_node]), int(slope_right[at_node]), 1.0 / extra)
        if twisting:
            _spring(twist, int(twist_left[at_node]), int(twist_right[at_node]), 1.0 / extra)
    return bend, twist


def _bending_element(h: float) -> FloatArray:
    return (
        np.array(
            [
                [12.0, 6 * h, -12.0, 6 * h],
                [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                [-12.0, -6 * h, 12.0, -6 * h],
                [6 * h, 2 * h * h, -6 * h, 4 * h * h],
            ]
        )
        / h**3
    )


def _spring(matrix: FloatArray, i: int, j: int, stiffness: float) -> None:
    matrix[[i, j], [i, j]] += stiffness
    matrix[[i, j], [j, i]] -= stiffness
