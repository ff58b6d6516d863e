"""The one least-squares routine: lines, planes, networks, drift and calibration curves all come here.

Columns are centred and scaled, factored by Householder QR (LAPACK), and the solution is refined with residuals
computed in twofold precision (Björck's augmented system, BIT 7 (1967) 257; Higham, Accuracy and Stability of
Numerical Algorithms, 20.5), until it no longer moves. Normal equations are never formed. The result is good to the
last digits of the data even where the columns are nearly dependent (NIST Filip, Longley).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw
from waywright.evaluate.twofold import Twofold, stacked

_ROUNDS = 60
_REFINED_ROWS = 20_000  # beyond, and for many draws, refinement in double precision has to do


@dataclass(frozen=True, slots=True)
class Fit:
    """A least-squares solution of ``columns @ coefficient ~ observed``.

    ``coefficient`` (p,) or (p, draws), one for each column; ``standard_error`` the same shape, estimated from the
    residuals; ``residual`` observed minus fitted, shape of the observations; ``residual_sd`` with
    ``degrees_of_freedom`` = n - p (NaN at none). ``cofactor`` (p, p): covariance of the coefficients for observations
    of unit variance.
    """

    coefficient: FloatArray
    standard_error: FloatArray
    residual: FloatArray
    residual_sd: PerDraw
    degrees_of_freedom: int
    cofactor: FloatArray


@dataclass(frozen=True, slots=True)
class _Basis:
    """Columns ready for work: an orthogonal triangle of the scaled columns."""

    columns: Twofold
    q: FloatArray
    r: FloatArray
    scale: FloatArray

    @classmethod
    def of(cls, columns: Twofold) -> _Basis:
        largest = np.abs(columns.high).max(axis=0)
        # Powers of two: scaling by them rounds nothing.
        scale = np.exp2(-np.frexp(np.where(largest > 0.0, largest, 1.0))[1].astype(np.float64))
        scaled = Twofold(columns.high * scale, columns.low * scale)
        q, r = np.linalg.qr(scaled.high)
        size = np.abs(np.diag(r))
        if size.size == 0 or size.min() <= size.max() * columns.high.shape[0] * 2.0**-52:
            raise BadInput("evaluate.dependent_columns", columns=int(r.shape[0]))
        return cls(scaled, q, r, scale)


def fit(columns: npt.ArrayLike, observed: npt.ArrayLike) -> Fit:
    """Solve ``columns (n, p) @ coefficient ~ observed`` (n,) or (n, draws) by least squares.

    A column of equal numbers, if there is one, takes up the means of the others and of the observations. One set of
    observations is refined to the last digit; many draws, or more than 20 000 rows, in double precision.
    Raises BadInput if there are fewer rows than columns, or columns that depend on each other.
    """
    design = np.asarray(columns, dtype=np.float64)
    return _fit(Twofold.of(design), np.asarray(observed, dtype=np.float64))


def fit_polynomial(place: npt.ArrayLike, observed: npt.ArrayLike, degree: int) -> Fit:
    """Fit ``c0 + c1 place + ... `` to ``observed`` (n,); coefficients in powers of the place itself.

    The fit is made in the centred and scaled place, where the powers are nearly independent; the coefficients are
    turned back in exact rational numbers, because in the raw powers most of their digits cancel.
    """
    x, y = np.asarray(place, dtype=np.float64), np.asarray(observed, dtype=np.float64)
    middle, width = _middle_and_width(x)
    t = (Twofold.of(x) - Twofold.of(middle)) * Twofold.of(1.0 / width)
    powers = [Twofold.of(np.ones_like(x))]
    for _ in range(degree):
        powers.append(powers[-1] * t)
    basis, solution, residual = _solve(stacked(powers), y)
    back = _powers_back(degree, Fraction(middle), Fraction(width))
    exact = [c * Fraction(s) for c, s in zip(solution.fractions(), basis.scale.tolist(), strict=True)]
    coefficient = [sum((b * c for b, c in zip(row, exact, strict=True)), Fraction(0)) for row in back]
    root = _exact_product(back, np.linalg.inv(basis.r) * basis.scale[:, None])
    return _summary(np.array([float(c) for c in coefficient]), residual.rounded(), root)


def _middle_and_width(x: FloatArray) -> tuple[float, float]:
    low, high = float(x.min()), float(x.max())
    return low + (high - low) / 2, 2.0 ** math.frexp((high - low) / 2 or 1.0)[1]


def _powers_back(degree: int, middle: Fraction, width: Fraction) -> list[list[Fraction]]:
    """Matrix from coefficients of powers of (x - middle) / width to those of powers of x (binomial theorem)."""
    return [
        [math.comb(j, i) * (-middle) ** (j - i) / width**j if j >= i else Fraction(0) for j in range(degree + 1)]
        for i in range(degree + 1)
    ]


def _exact_product(left: list[list[Fraction]], right: FloatArray) -> FloatArray:
    columns = [[Fraction(v) for v in column] for column in right.T.tolist()]
    rows = [[float(sum(map(Fraction.__mul__, row, column), Fraction(0))) for column in columns] for row in left]
    return np.array(rows)


def _fit(columns: Twofold, observed: FloatArray) -> Fit:
    if observed.ndim not in (1, 2) or columns.high.ndim != 2 or columns.high.shape[0] != observed.shape[0]:
        raise BadInput("evaluate.fit_shapes", columns=columns.high.shape, observed=observed.shape)
    centred, constant, middle = _centred(columns)
    basis, solution, residual = _solve(centred, observed)
    coefficient = solution * Twofold.of(basis.scale if observed.ndim == 1 else basis.scale[:, None])
    root = np.linalg.inv(basis.r) * basis.scale[:, None]
    if constant is not None:
        level = coefficient[constant] - (coefficient * Twofold.of(middle.reshape(-1, *[1] * (observed.ndim - 1)))).sum()
        coefficient.high[constant], coefficient.low[constant] = level.high, level.low
        root[constant] -= middle @ root
    return _summary(coefficient.rounded(), residual.rounded(), root)


def _centred(columns: Twofold) -> tuple[Twofold, int | None, FloatArray]:
    """Columns less their middle where a column of ones can take it up; its place; what was taken off each."""
    ones = np.flatnonzero((columns.high == 1.0).all(axis=0))
    middle = np.zeros(columns.high.shape[1])
    if ones.size == 0:
        return columns, None, middle
    constant = int(ones[0])
    middle = columns.high.mean(axis=0)
    middle[constant] = 0.0
    return columns - Twofold.of(middle), constant, middle


def _solve(columns: Twofold, observed: FloatArray) -> tuple[_Basis, Twofold, Twofold]:
    """Coefficients of the scaled columns and the residuals."""
    rows, unknowns = columns.high.shape
    if rows < unknowns:
        raise BadInput("evaluate.too_few_observations", observations=rows, unknowns=unknowns)
    basis = _Basis.of(columns)
    if observed.ndim == 1 and rows <= _REFINED_ROWS:
        return basis, *_refined(basis, observed)
    coefficient = np.zeros((unknowns, *observed.shape[1:]))
    residual = observed
    for _ in range(2):
        step = np.linalg.solve(basis.r, basis.q.T @ residual)
        coefficient = coefficient + step
        residual = observed - basis.columns.high @ coefficient
    return basis, Twofold.of(coefficient), Twofold.of(residual)


def _refined(basis: _Basis, observed: FloatArray) -> tuple[Twofold, Twofold]:
    """Refine coefficients c and residuals r of r + A c = y, A' r = 0 together, both twofold.

    Errors shrink by about (condition number) x 1e-16 a round; the rounds end when they shrink no more.
    """
    y, a = Twofold.of(observed), basis.columns
    c, r = Twofold.of(np.zeros(basis.r.shape[0])), Twofold.of(np.zeros_like(observed))
    smallest = np.inf
    for _ in range(_ROUNDS):
        lack: FloatArray = (y - r - (a * c).transposed().sum()).rounded()
        slant: FloatArray = -(a * Twofold(r.high[:, None], r.low[:, None])).sum().rounded()
        turned = np.linalg.solve(basis.r.T, slant)
        inside = basis.q.T @ lack
        step = np.linalg.solve(basis.r, inside - turned)
        c = c + Twofold.of(step)
        r = r + Twofold.of(lack - basis.q @ (inside - turned))
        size = float(np.abs(step).max())
        if size == 0.0 or size >= smallest / 2 or size <= float(np.abs(c.high).max()) * 1e-31:
            break
        smallest = size
    return c, r


def _summary(coefficient: FloatArray, residual: FloatArray, root: FloatArray) -> Fit:
    freedom = residual.shape[0] - root.shape[0]
    with np.errstate(divide="ignore", invalid="ignore"):
        sd = np.sqrt((residual**2).sum(axis=0) / freedom) if freedom else residual.sum(axis=0) * np.nan
    cofactor = root @ root.T
    spread = np.sqrt(np.diag(cofactor))
    error = spread * sd if coefficient.ndim == 1 else spread[:, None] * sd
    return Fit(coefficient, error, residual, float(sd) if coefficient.ndim == 1 else sd, freedom, cofactor)
