"""Correlated inputs: coefficients of pairs, and the mixing of independent normal draws that gives them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.inputs import Input

Correlation: TypeAlias = Mapping[tuple[str, str], float]
"""Coefficients of pairs of inputs by name, -1 to 1; a pair that is not named is uncorrelated."""


def matrix(inputs: Mapping[str, Input], correlation: Correlation) -> FloatArray:
    """The full matrix in the order of the inputs. Raises BadInput for unknown names and coefficients beyond one."""
    names = list(inputs)
    full = np.eye(len(names))
    for (a, b), coefficient in correlation.items():
        for name in (a, b):
            if name not in inputs:
                raise BadInput("uncertainty.unknown_input", name=name, known=", ".join(names))
            if inputs[name].readings:
                raise BadInput("uncertainty.correlated_readings", name=name)
        if a == b or not -1.0 <= coefficient <= 1.0:
            raise BadInput("uncertainty.bad_correlation", first=a, second=b, coefficient=coefficient)
        full[names.index(a), names.index(b)] = full[names.index(b), names.index(a)] = coefficient
    return full


def mixing(inputs: Mapping[str, Input], correlation: Correlation) -> FloatArray | None:
    """Lower triangular weights of independent normal draws; None where nothing is correlated.

    Works for coefficients of exactly one, where the plain Cholesky factor does not exist.
    """
    if not correlation:
        return None
    full = matrix(inputs, correlation)
    size = len(full)
    lower = np.zeros((size, size))
    for i in range(size):
        for j in range(i + 1):
            rest = full[i, j] - lower[i, :j] @ lower[j, :j]
            if i == j:
                if rest < -1e-9:
                    raise BadInput("uncertainty.impossible_correlation")
                lower[i, i] = np.sqrt(max(rest, 0.0))
            elif lower[j, j] > 1e-9:
                lower[i, j] = rest / lower[j, j]
            elif abs(rest) > 1e-9:
                raise BadInput("uncertainty.impossible_correlation")
    return lower
