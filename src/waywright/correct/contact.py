"""Which supports carry: a bed on springs that push but do not pull, unless anchored.

The rest position minimises a convex energy, quadratic between the changes of contact:
``u K u / 2 - load u + sum k (s - a u)^2 / 2`` over the supports that press (``s > a u``) or are anchored. Newton steps
with an exact line search along the piecewise quadratic end in the exact contact set after finitely many steps
(a semismooth Newton method; L. Qi and J. Sun, Mathematical Programming 58 (1993) 353).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.errors import BadInput

_STEPS = 200
_TINY = 1e-13
_TOUCHING_UM = 1e-7


@dataclass(frozen=True, slots=True)
class Rest:
    """Where the bed comes to rest.

    ``shape`` (shapes,) are the unknowns of the structure, ``force_n`` (supports,) pushes the bed upwards,
    ``carrying`` (supports,) says which supports touch.
    """

    shape: FloatArray
    force_n: FloatArray
    carrying: BoolArray


@dataclass(frozen=True, slots=True)
class OnSprings:
    """A free bed (``stiffness``, N/um) over supports: rows ``at`` (supports, shapes), seats, anchored or not."""

    stiffness: FloatArray
    at: FloatArray
    seat_n_per_um: FloatArray
    anchored: BoolArray

    def stiffness_with(self, carrying: BoolArray) -> FloatArray:
        """Stiffness of the bed on the supports that carry."""
        pressed = self.at[carrying]
        whole: FloatArray = self.stiffness + pressed.T @ (self.seat_n_per_um[carrying, None] * pressed)
        return whole

    def rest(self, setting_um: FloatArray, load_n: FloatArray, guess: BoolArray | None = None) -> Rest:
        """Where the bed rests on supports set to ``setting_um`` under a load. Raises BadInput if nothing holds it."""
        everywhere = np.ones(setting_um.size, dtype=np.bool_)
        shape = self._step(everywhere if guess is None else guess | self.anchored, setting_um, load_n)
        for _ in range(_STEPS):
            pressing = self._pressing(shape, setting_um)
            target = self._step(pressing, setting_um, load_n)
            if self._agrees(target, setting_um, pressing):
                return self._at_rest(target, setting_um, pressing)
            shape = shape + self._part(shape, target, setting_um, load_n) * (target - shape)
        raise BadInput("correct.no_rest")

    def rests(self, setting_um: FloatArray, load_n: FloatArray) -> FloatArray:
        """Shapes (loads, shapes) for many loads (loads, shapes): those with the same contact are solved together."""
        out = np.empty_like(load_n)
        left = np.arange(load_n.shape[0])
        while left.size:
            first = self.rest(setting_um, load_n[left[0]])
            push = load_n[left] + (self.seat_n_per_um * setting_um * first.carrying) @ self.at
            shapes = np.linalg.solve(self.stiffness_with(first.carrying), push.T).T
            alike = ((((setting_um - shapes @ self.at.T) > 0.0) | self.anchored) == first.carrying).all(axis=1)
            shapes[0], alike[0] = first.shape, True
            out[left[alike]] = shapes[alike]
            left = left[~alike]
        return out

    def _agrees(self, shape: FloatArray, setting_um: FloatArray, pressing: BoolArray) -> bool:
        """Contact is as assumed, or differs only where nothing presses and nothing gapes."""
        differs = self._pressing(shape, setting_um) != pressing
        gap = np.abs(setting_um - self.at @ shape)
        return bool((gap[differs] <= _TOUCHING_UM).all())

    def _pressing(self, shape: FloatArray, setting_um: FloatArray) -> BoolArray:
        return (setting_um - self.at @ shape > 0.0) | self.anchored

    def _step(self, carrying: BoolArray, setting_um: FloatArray, load_n: FloatArray) -> FloatArray:
        matrix = self.stiffness_with(carrying)
        push = load_n + (self.seat_n_per_um * setting_um * carrying) @ self.at
        try:
            return np.asarray(np.linalg.solve(matrix, push), dtype=np.float64)
        except np.linalg.LinAlgError:  # too few supports touch on the way: nothing stops the bed but the next ones
            matrix[np.diag_indices_from(matrix)] += _TINY * np.abs(np.diag(matrix)).max()
            return np.asarray(np.linalg.solve(matrix, push), dtype=np.float64)

    def _part(self, shape: FloatArray, target: FloatArray, setting_um: FloatArray, load_n: FloatArray) -> float:
        """The part of the Newton step with the lowest energy."""
        way = target - shape
        gap, closing = setting_um - self.at @ shape, self.at @ way
        slope = float(way @ (self.stiffness @ shape - load_n))
        bend = float(way @ self.stiffness @ way)
        return _lowest(slope, bend, gap, closing, self.seat_n_per_um, self.anchored)

    def _at_rest(self, shape: FloatArray, setting_um: FloatArray, carrying: BoolArray) -> Rest:
        force = np.where(carrying, self.seat_n_per_um * (setting_um - self.at @ shape), 0.0)
        return Rest(shape, force, carrying)


def _lowest(
    slope: float, bend: float, gap: FloatArray, closing: FloatArray, seat: FloatArray, anchored: BoolArray
) -> float:
    """Where along the way the derivative of the energy crosses zero: it rises, and is straight between breaks."""

    def derivative(part: float) -> float:
        press = gap - part * closing
        acting = np.where(anchored, press, np.maximum(press, 0.0))
        return slope + part * bend - float((seat * acting) @ closing)

    moving = closing[(closing != 0.0) & ~anchored]
    breaks = np.sort(gap[(closing != 0.0) & ~anchored] / moving) if moving.size else np.empty(0)
    edges = [0.0, *(float(b) for b in breaks if b > 0.0)]
    low, at_low = 0.0, derivative(0.0)
    for edge in [*edges[1:], max(edges[-1], 1.0) * 2.0]:
        at_edge = derivative(edge)
        if at_edge >= 0.0:
            return low - at_low * (edge - low) / (at_edge - at_low) if at_edge > at_low else low
        low, at_low = edge, at_edge
    return low
