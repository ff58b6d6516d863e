"""Step and kink at a joint of a way, from the stations either side of it.

On each side the way is a straight line, both with the bow of the whole way in common (an even bow alone would look like
a kink). One least-squares problem: height, slope, bow, and what the far side has more: a step and a kink.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import Fit, fit
from waywright.evaluate.results import Reason

NEEDED = 4
"""Stations on each side: with the bow there are five unknowns, three more readings tell the noise."""
NEEDED_STRAIGHT = 3
"""Without a bow: four unknowns."""
_ON_IT_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Joint:
    """Step (um) and kink (um/m) at ``at_mm``: the side of larger positions minus the other, in the sign of the heights.

    Figures are floats, or (draws,) for many profiles; each draw has the noise that its own residuals show.
    Standard uncertainties from ``noise_um``, the standard deviation of one reading: from what the model leaves over, or
    the given one if that is larger. ``coverage_factor`` (Student's t, 95 %) widens them; ``step_seen``, ``kink_seen``
    tell whether they stand out of that. Not judged: no values, and the ``reason``. ``before`` and ``after`` count the
    stations used.
    """

    at_mm: float
    before: int
    after: int
    step_um: PerDraw | None = None
    kink_um_per_m: PerDraw | None = None
    step_uncertainty_um: PerDraw | None = None
    kink_uncertainty_um_per_m: PerDraw | None = None
    noise_um: PerDraw | None = None
    coverage_factor: PerDraw | None = None
    bow_removed: bool = True
    reason: Reason | None = None

    @property
    def judged(self) -> bool:
        """Whether there are values."""
        return self.reason is None

    @property
    def step_seen(self) -> PerDraw:
        """Whether the step is larger than its expanded uncertainty."""
        return _seen(self.step_um, self.step_uncertainty_um, self.coverage_factor)

    @property
    def kink_seen(self) -> PerDraw:
        """Whether the kink is larger than its expanded uncertainty."""
        return _seen(self.kink_um_per_m, self.kink_uncertainty_um_per_m, self.coverage_factor)


def joint(
    position_mm: npt.ArrayLike,
    height_um: npt.ArrayLike,
    at_mm: float,
    *,
    within_mm: float | None = None,
    noise_um: float | None = None,
    bow: bool = True,
) -> Joint:
    """Step and kink at a joint from heights (n,) or (n, draws) at positions (n,).

    ``within_mm`` takes only stations so near to the joint; a station on the joint itself belongs to neither side and
    is left out. ``noise_um`` is the known standard deviation of one reading; ``bow=False`` lets the way be straight on
    both sides. With fewer than four (three) stations on either side it is not judged. Raises BadInput for input
    that is no profile.
    """
    x = positions(position_mm, fewest=1)
    y = values(height_um, x)
    if noise_um is not None and not (np.isfinite(noise_um) and noise_um > 0.0):
        raise BadInput("geometry.noise_not_positive", noise_um=noise_um)
    near = (np.abs(x - at_mm) > _ON_IT_MM) & (np.abs(x - at_mm) <= (np.inf if within_mm is None else within_mm))
    x, y = x[near] - at_mm, y[near]
    before, after = (np.unique(x[side]).size for side in (x < 0.0, x > 0.0))
    needed = NEEDED if bow else NEEDED_STRAIGHT
    if min(before, after) < needed:
        facts = {"at_mm": at_mm, "before": before, "after": after, "needed": needed}
        return Joint(at_mm, before, after, bow_removed=bow, reason=Reason("geometry.joint_not_judged", facts))
    return _judged(Joint(at_mm, before, after, bow_removed=bow), fit(_columns(x, bow), y), noise_um)


def _columns(x: FloatArray, bow: bool) -> FloatArray:
    far = (x > 0.0).astype(np.float64)
    return np.column_stack([np.ones_like(x), x, far, far * x, *([x**2] if bow else [])])


def _judged(empty: Joint, found: Fit, known_um: float | None) -> Joint:
    from scipy.stats import norm, t

    shown = np.asarray(found.residual_sd)
    # A given noise that is larger holds; it has no freedom of its own to count.
    given = shown <= (-np.inf if known_um is None else known_um)
    noise = np.where(given, known_um or 0.0, shown)
    factor = np.where(given, norm.ppf(0.975), t.ppf(0.975, found.degrees_of_freedom))
    step_sd, kink_sd = np.sqrt(np.diag(found.cofactor))[2:4]
    return Joint(
        empty.at_mm, empty.before, empty.after,
        step_um=_figure(found.coefficient[2]), kink_um_per_m=_figure(found.coefficient[3] * 1000.0),
        step_uncertainty_um=_figure(noise * step_sd), kink_uncertainty_um_per_m=_figure(noise * kink_sd * 1000.0),
        noise_um=_figure(noise), coverage_factor=_figure(factor), bow_removed=empty.bow_removed,
    )  # fmt: skip


def _figure(value: PerDraw) -> PerDraw:
    return float(value) if np.ndim(value) == 0 else value


def _seen(value: PerDraw | None, uncertainty: PerDraw | None, factor: PerDraw | None) -> PerDraw:
    if value is None or uncertainty is None or factor is None:
        return False
    seen = np.abs(value) > np.multiply(factor, uncertainty)
    return bool(seen) if np.ndim(seen) == 0 else seen
