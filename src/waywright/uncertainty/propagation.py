"""The law of propagation of uncertainty (JCGM 100:2008, 5) with second-order terms, beside Monte Carlo.

Derivatives are central differences over a tenth of each standard uncertainty, all points in one call of the model.
First order alone loses contributions whose sensitivity is zero at the estimates (JCGM 100, H.1.7).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.correlation import Correlation, matrix
from waywright.uncertainty.degrees import coverage_factor, welch_satterthwaite
from waywright.uncertainty.inputs import Input
from waywright.uncertainty.monte_carlo import Model

_STEP = 0.1  # of a standard uncertainty: truncation errors of 1e-3, rounding still far below


@dataclass(frozen=True, slots=True)
class Component:
    """One input's share: ``sensitivity`` times its standard uncertainty, in the unit of the value."""

    name: str
    sensitivity: float
    standard_uncertainty: float
    contribution: float
    degrees_of_freedom: float


@dataclass(frozen=True, slots=True)
class Propagated:
    """A value with its combined standard uncertainty, of first order and with second-order terms.

    ``shift`` is what the curvature of the model adds to the mean. ``degrees_of_freedom`` are effective ones.
    """

    value: float
    standard_uncertainty: float
    second_order_uncertainty: float
    shift: float
    degrees_of_freedom: float
    components: tuple[Component, ...]

    def coverage_factor(self, probability: float = 0.95) -> float:
        """t for the effective degrees of freedom, truncated to a whole number (JCGM 100, G.4.1)."""
        return coverage_factor(self.degrees_of_freedom, probability)

    def expanded(self, probability: float = 0.95) -> float:
        """Expanded uncertainty of first order."""
        return self.coverage_factor(probability) * self.standard_uncertainty


def propagate(model: Model, inputs: Mapping[str, Input], *, correlation: Correlation | None = None) -> Propagated:
    """Propagate standard uncertainties through the model at the means of its inputs.

    Inputs are per trial (numbers): readings of many stations belong into Monte Carlo. Correlation enters the
    first-order sum (JCGM 100, eq. 13) and leaves the second-order terms, which hold for independent inputs.
    Raises BadInput for per-reading inputs.
    """
    varied = [name for name, item in inputs.items() if item.standard_uncertainty > 0.0]
    for name, item in inputs.items():
        if item.readings or np.ndim(item.mean):
            raise BadInput("uncertainty.propagate_readings", name=name)
    value, first, second, third = _derivatives(model, inputs, varied)
    coefficients = matrix({name: inputs[name] for name in varied}, correlation or {}) if varied else np.eye(0)
    variance = float(first @ coefficients @ first)
    extra = float((0.5 * second**2 + third * first[:, np.newaxis]).sum())
    components = tuple(
        Component(
            name,
            first[i] / inputs[name].standard_uncertainty,
            inputs[name].standard_uncertainty,
            float(first[i]),
            inputs[name].degrees_of_freedom,
        )
        for i, name in enumerate(varied)
    )
    u = math.sqrt(max(variance, 0.0))
    return Propagated(
        value=value,
        standard_uncertainty=u,
        second_order_uncertainty=math.sqrt(max(variance + extra, 0.0)),
        shift=0.5 * float(np.trace(second)),
        degrees_of_freedom=welch_satterthwaite(u, [(c.contribution, c.degrees_of_freedom) for c in components]),
        components=components,
    )


def _derivatives(
    model: Model, inputs: Mapping[str, Input], varied: list[str]
) -> tuple[float, FloatArray, FloatArray, FloatArray]:
    """Value; first, second and third derivatives (i, j, j), in units of the standard uncertainties."""
    count = len(varied)
    offsets = [np.zeros(count)]
    for i in range(count):
        for j in range(count):
            offsets += [_at(count, i, a, j, b) for a in (-1, 1) for b in (-1, 0, 1)]
    table = np.array(offsets)
    names = {name: k for k, name in enumerate(varied)}
    points = {
        name: item.mean + (table[:, names[name]] * _STEP * item.standard_uncertainty if name in names else 0.0)
        for name, item in inputs.items()
    }
    values = np.broadcast_to(
        np.asarray(model(**{n: np.broadcast_to(p, len(table)) for n, p in points.items()})), len(table)
    )
    centre = float(values[0])
    f = (values[1:] - centre).reshape(count, count, 2, 3)  # i, j, step of i, step of j
    first = np.empty(count)
    second, third = np.empty((count, count)), np.empty((count, count))
    for i in range(count):
        for j in range(count):
            lower, upper = f[i, j]
            if i == j:  # both steps fall on the same input: -2, -1, 0 and 0, 1, 2
                down2, down, up, up2 = lower[0], lower[1], upper[1], upper[2]
                first[i] = (8.0 * (up - down) - (up2 - down2)) / (12.0 * _STEP)
                second[i, i] = (16.0 * (up + down) - (up2 + down2)) / (12.0 * _STEP**2)
                third[i, i] = (up2 - 2.0 * up + 2.0 * down - down2) / (2.0 * _STEP**3)
            else:
                second[i, j] = (upper[2] - upper[0] - lower[2] + lower[0]) / (4.0 * _STEP**2)
                slope = (upper - lower) / (2.0 * _STEP)
                third[i, j] = (slope[2] - 2.0 * slope[1] + slope[0]) / _STEP**2
    return centre, first, second, third


def _at(count: int, i: int, a: int, j: int, b: int) -> FloatArray:
    offset = np.zeros(count)
    offset[i] += a
    offset[j] += b
    return offset
