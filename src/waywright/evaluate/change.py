"""The change of a bed between two states: a plain bow, or a shape that the supports have made?

Supports that have moved bend a bed into curves with their corners at the supports: natural cubic splines with a knot
at each support (a slender beam over hard supports). A bow by heat or season is a parabola, which has no corners. The
change is fitted by both; whether the spline explains more than chance is an F test of the two sums of squares.

Weakness: a bed stiff against its supports smooths the corners away, and then a bow and settlement look alike; two ends
that sank look like a bow as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput

Floats = npt.NDArray[np.float64]
LEVEL = 0.05
_LEAST_SPARE = 3


@dataclass(frozen=True, slots=True)
class Change:
    """A change without its level and tilt, in um over the bed (n,).

    ``shape`` is "none" (not more than the noise), "bow", "supports", or "unexplained" (neither). ``bow_um`` is the
    height of the middle over the ends, ``share_bow`` and ``share_supports`` how much of the sum of squares each
    explains. ``probability`` is that of so much better a fit by the supports by chance; None where there are too few
    stations to tell. ``support_um`` is the change at each support.
    """

    position_mm: Floats
    change_um: Floats
    shape: str
    largest_um: float
    noise_um: float
    bow_um: float
    share_bow: float
    share_supports: float
    probability: float | None
    support_um: tuple[float, ...]


def change_between(
    first_mm: npt.ArrayLike,
    first_um: npt.ArrayLike,
    second_mm: npt.ArrayLike,
    second_um: npt.ArrayLike,
    support_mm: Sequence[float],
    noise_um: float,
) -> Change:
    """The second state minus the first on the stretch that both have, at the stations of the first.

    ``noise_um`` is the standard uncertainty of one difference. Raises BadInput for fewer than four stations in common.
    """
    x1, y1 = _sorted(first_mm, first_um)
    x2, y2 = _sorted(second_mm, second_um)
    inside = (x1 >= x2.min()) & (x1 <= x2.max())
    if inside.sum() < 4:
        raise BadInput("history.nothing_in_common", stations=int(inside.sum()))
    x = x1[inside]
    level = _residual(_powers(x, 1), np.interp(x, x2, y2) - y1[inside])
    knots = np.array(sorted({place for place in support_mm if x.min() < place < x.max()}))
    rest_bow = _residual(_powers(x, 2), level)
    rest_supports = _residual(_spline(x, knots), level) if knots.size else rest_bow
    whole, bow, supports = (float(np.sum(each**2)) for each in (level, rest_bow, rest_supports))
    probability = _better(bow, supports, x.size, knots.size)
    return Change(
        position_mm=x,
        change_um=level,
        shape=_shape(whole, bow, supports, probability, noise_um, x.size),
        largest_um=float(np.ptp(level)),
        noise_um=noise_um,
        bow_um=_bow(x, level),
        share_bow=_share(bow, whole),
        share_supports=_share(supports, whole),
        probability=probability,
        support_um=tuple(float(each) for each in np.interp(knots, x, level)),
    )


def _sorted(position_mm: npt.ArrayLike, value_um: npt.ArrayLike) -> tuple[Floats, Floats]:
    x, y = np.asarray(position_mm, dtype=np.float64), np.asarray(value_um, dtype=np.float64)
    if x.shape != y.shape or x.ndim != 1 or not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise BadInput("history.not_finite")
    order = np.argsort(x, kind="stable")
    return x[order], y[order]


def _scaled(x: Floats) -> Floats:
    scaled: Floats = (x - (x.min() + x.max()) / 2.0) / (np.ptp(x) / 2.0)
    return scaled


def _powers(x: Floats, degree: int) -> Floats:
    return np.asarray(np.polynomial.legendre.legvander(_scaled(x), degree), dtype=np.float64)


def _spline(x: Floats, knots: Floats) -> Floats:
    """A line, and for each support within the stretch what one that sank alone would do: a natural cubic spline."""
    from scipy.interpolate import CubicSpline

    ends = np.array([x.min(), *knots, x.max()])
    columns = [CubicSpline(ends, np.eye(ends.size)[number], bc_type="natural")(x) for number in range(1, ends.size - 1)]
    return np.column_stack([_powers(x, 1), *columns])


def _residual(design: Floats, y: Floats) -> Floats:
    q, _ = np.linalg.qr(design)
    rest: Floats = y - q @ (q.T @ y)
    return rest


def _bow(x: Floats, level: Floats) -> float:
    """Height of the middle of the fitted parabola over its ends."""
    q = np.linalg.lstsq(_powers(x, 2), level, rcond=None)[0]
    return float(-1.5 * q[2])


def _share(rest: float, whole: float) -> float:
    return 1.0 - rest / whole if whole > 0.0 else 0.0


def _better(bow: float, supports: float, stations: int, knots: int) -> float | None:
    """F test: parabola (3 parameters) against the spline (2 + one per support)."""
    from scipy.special import fdtrc

    more, spare = knots - 1, stations - 2 - knots
    if more < 1 or spare < _LEAST_SPARE or supports <= 0.0:
        return None
    return float(fdtrc(more, spare, max(bow - supports, 0.0) / more / (supports / spare)))


def _shape(whole: float, bow: float, supports: float, probability: float | None, noise_um: float, n: int) -> str:
    from scipy.special import chdtrc

    if chdtrc(n - 2, whole / noise_um**2) >= LEVEL:
        return "none"
    if probability is not None and probability < LEVEL:
        return "supports"
    return "bow" if _share(bow, whole) > 0.5 else "unexplained"
