"""A slip, a bad reading, a pass one station off: found by comparing passes, told apart or not; nothing is repaired.

All passes of a set-up read one profile, whatever its shape, each with its own offset, tilt and drift parabola. What
does not fit is tried against three explanations: a *spike* (one reading), a *step* (all readings of a pass from a
station on), a *shift* (from a station on, values that belong to a neighbouring station). Each explanation is one
more column of the least-squares problem, and its size over its standard error is Student's t when there is nothing
to find (Baarda's data snooping: W. Baarda, A testing procedure for use in geodetic networks, 1968; with estimated
variance, A. J. Pope, NOAA TR NOS 65 NGS 1, 1976). With the limit at ``false_alarm`` divided by the number of
different explanations (Bonferroni) at most that share of clean sets of passes raises an alarm.

Explanations that the readings make less than 100 times as unlikely as the best one stay beside it: one pass shifted
by a station is another one shifted back; a shifted parabola is a tilt and vanishes; then "cannot tell" is the answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.alternatives import Alternatives, alternatives_of
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.least_squares import fit
from waywright.evaluate.passes import CommonStations, Traverse, common_stations
from waywright.evaluate.results import Reason
from waywright.evaluate.unknown_profile import UnknownProfile

SPIKE, STEP, SHIFT, CANNOT_TELL = "spike", "step", "shift", "cannot-tell"
LIKELIHOOD_RATIO = 100.0
FEWEST_LEFT_OVER = 5
MOST_READINGS = 2000
_FARTHEST_SHIFT = 2.5  # stations; a shift is read off the slope, which says nothing about a longer one
_POWER = 0.8416  # normal quantile of four in five


@dataclass(frozen=True, slots=True)
class Anomaly:
    """Something in the passes that noise does not explain.

    ``kinds`` are the explanations that stay ("spike", "step", "shift"); ``kind`` is the one, or "cannot-tell".
    ``passes`` are the numbers (from 1) of the passes it may lie in, ``from_mm`` to ``to_mm`` where it lies or begins.
    ``size`` in the unit of the values (of the best explanation; for a shift in stations, ``size_mm`` beside it) with
    its ``standard_error``; ``t`` is their ratio.
    """

    kinds: tuple[str, ...]
    passes: tuple[int, ...]
    from_mm: float
    to_mm: float
    size: float
    standard_error: float
    t: float
    size_mm: float | None = None

    @property
    def kind(self) -> str:
        """The one explanation, or "cannot-tell"."""
        return self.kinds[0] if len(self.kinds) == 1 else CANNOT_TELL

    @property
    def reason(self) -> Reason:
        """What a reader is told; facts without the unit of ``size``."""
        kinds = ", ".join(self.kinds)
        return Reason(
            f"passes.found_{self.kind}",
            {"passes": " or ".join(str(number) for number in self.passes), "from_mm": self.from_mm, "to_mm": self.to_mm,
             "size": self.size, "standard_error": self.standard_error, "shift_mm": self.size_mm or 0.0, "kinds": kinds},
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PassesCheck:
    """What comparing the passes found.

    ``false_alarm`` is the share of clean sets of passes that raise an alarm at most; ``explanations`` how many
    different ones were tried, ``limit`` for |t|. ``noise`` is the standard deviation of one reading as the passes show
    it, the findings allowed for. A spike of ``noticeable_spike`` or a step of ``noticeable_step`` (at the median
    station) would be noticed four times in five. ``reason`` says why nothing could be compared.
    """

    found: tuple[Anomaly, ...]
    false_alarm: float
    explanations: int
    limit: float
    noise: float
    noticeable_spike: float
    noticeable_step: float
    reason: Reason | None = None

    @property
    def checked(self) -> bool:
        """Whether there was anything to compare."""
        return self.reason is None


def check_passes(traverses: Sequence[Traverse], *, false_alarm: float = 0.01, most: int = 3) -> PassesCheck:
    """Compare passes of one set-up; at most ``most`` findings, strongest first, each with the earlier ones allowed for.

    One set of readings, no draws. With standard deviations the readings are weighted and the scatter is never taken as
    less than they say; without them it is what the passes show. Where both directions were measured at least twice,
    forward and backward may differ in any way (reversal); otherwise by offset, tilt and a parabola.
    Raises BadInput like ``join_passes``, for draws, and for a share that does not lie between 0 and 1.
    """
    if not 0.0 < false_alarm < 1.0:
        raise BadInput("passes.false_alarm", false_alarm=false_alarm)
    common = common_stations(traverses)
    if common.value.ndim != 2:
        raise BadInput("evaluate.values_shape", name="value", shape=common.value.shape)
    comparison = _Comparison.of(common)
    if comparison.refusal is not None:
        nothing = float("nan")
        return PassesCheck((), false_alarm, 0, nothing, nothing, nothing, nothing, comparison.refusal)
    return _searched(comparison, false_alarm, most)


@dataclass(frozen=True, slots=True, eq=False)
class _Comparison:
    """The passes, their unknown profiles, and the columns that are allowed anyway."""

    common: CommonStations
    profile: UnknownProfile
    allowed: FloatArray
    refusal: Reason | None

    @classmethod
    def of(cls, common: CommonStations) -> _Comparison:
        sides = [int(common.forward.sum()), int((~common.forward).sum())]
        profile = UnknownProfile.common_to(common, by_direction=min(sides) >= 2)
        allowed = profile.projected(_nuisances(common, profile.group))
        passes, stations = common.value.shape
        left_over = profile.equations - allowed.shape[1]
        refusal = None
        if passes == 1:
            refusal = Reason("passes.one_pass_cannot_tell", {"passes": passes})
        elif left_over < FEWEST_LEFT_OVER:
            refusal = Reason("passes.too_few_to_compare", {"stations": stations, "needed": 3 + FEWEST_LEFT_OVER})
        elif passes * stations > MOST_READINGS:
            refusal = Reason("passes.too_many_to_compare", {"readings": passes * stations, "most": MOST_READINGS})
        return cls(common, profile, allowed, refusal)


def _nuisances(common: CommonStations, group: npt.NDArray[np.int64]) -> FloatArray:
    """Offset, tilt and parabola of every pass but the first of each profile: (passes, m, columns)."""
    x = common.position_mm
    place = (x - x.mean()) / max(float(np.ptp(x)), 1e-12)
    powers = np.stack([np.ones_like(place), place, place**2], axis=-1)
    free = [p for p in range(group.size) if p not in {int(np.flatnonzero(group == g)[0]) for g in np.unique(group)}]
    block = np.zeros((*common.value.shape[:2], 3 * len(free)))
    for column, which in enumerate(free):
        block[which, :, 3 * column : 3 * column + 3] = powers
    return block


def _searched(comparison: _Comparison, false_alarm: float, most: int) -> PassesCheck:
    common, profile, allowed = comparison.common, comparison.profile, comparison.allowed
    tried = alternatives_of(common, profile)
    found: list[Anomaly] = []
    while True:
        tested = _Tested.of(common, profile, allowed, tried, false_alarm)
        best = tested.best() if len(found) < most else None
        if best is None or tested.freedom <= FEWEST_LEFT_OVER:
            break
        found.append(tested.anomaly(best, common))
        allowed = np.concatenate([allowed, tested.columns[:, [best]]], axis=1)
    spike, step = tested.noticeable(SPIKE), tested.noticeable(STEP)
    return PassesCheck(tuple(found), false_alarm, tested.different, tested.limit, tested.noise, spike, step)


@dataclass(frozen=True, slots=True, eq=False)
class _Tested:
    """Every explanation tried once on the readings as they stand."""

    tried: Alternatives
    columns: FloatArray
    length: FloatArray
    gain: FloatArray
    squares: float
    freedom: int
    different: int
    limit: float
    scale: FloatArray
    weight: float

    @classmethod
    def of(
        cls,
        common: CommonStations,
        profile: UnknownProfile,
        allowed: FloatArray,
        tried: Alternatives,
        false_alarm: float,
    ) -> _Tested:
        from scipy.stats import t as student

        columns = profile.projected(tried.block)
        both = np.concatenate([profile.projected(common.value[..., None]), columns], axis=1)
        rest = fit(allowed, both).residual if allowed.shape[1] else both
        residual, pure = rest[:, 0], rest[:, 1:]
        length = np.sqrt((pure**2).sum(axis=0))
        seen = length > 1e-6 * np.sqrt((columns**2).sum(axis=0))
        gain = np.where(seen, pure.T @ residual / np.where(seen, length, 1.0), 0.0)
        squares, freedom = float(residual @ residual), profile.equations - allowed.shape[1]
        different = _different(pure[:, seen] / length[seen])
        limit = float(student.isf(false_alarm / (2 * max(different, 1)), freedom - 1))
        scale = (squares - gain**2).clip(min=0.0) / (freedom - 1)
        scale = np.maximum(scale, 1.0 if common.standard_deviation is not None else 1e-300)
        gain = np.where(_plausible(tried, gain, length, seen), gain, 0.0)
        usual = float(np.median(profile.weight))
        return cls(
            tried, columns, np.where(seen, length, np.inf), gain, squares, freedom, different, limit, scale, usual
        )

    @property
    def t(self) -> FloatArray:
        """Student's t of every explanation; NaN-free."""
        return np.asarray(self.gain / np.sqrt(self.scale))

    @property
    def noise(self) -> float:
        """Standard deviation of one reading with the allowed columns taken out."""
        return float(np.sqrt(self.squares / self.freedom)) / self.weight

    def best(self) -> int | None:
        """The explanation beyond the limit that helps most."""
        best = int(np.abs(self.t).argmax())
        return best if abs(self.t[best]) > self.limit else None

    def anomaly(self, best: int, common: CommonStations) -> Anomaly:
        """The finding with everything that explains it nearly as well."""
        behind = (self.gain[best] ** 2 - self.gain**2) / (2.0 * self.scale[best])
        stay = np.flatnonzero(behind < np.log(LIKELIHOOD_RATIO))
        tried = self.tried
        kinds = dict.fromkeys([tried.kind[best], *sorted(tried.kind[i] for i in stay)])
        size = float(self.gain[best] / self.length[best])
        shift = tried.kind[best] == SHIFT
        spacing = float(np.median(np.diff(common.position_mm)))
        return Anomaly(
            kinds=tuple(kinds),
            passes=tuple(sorted({tried.which[i] + 1 for i in stay})),
            from_mm=float(min(tried.low_mm[i] for i in stay)),
            to_mm=float(max(tried.high_mm[i] for i in stay)),
            size=size,
            standard_error=float(np.sqrt(self.scale[best]) / self.length[best]),
            t=float(self.t[best]),
            size_mm=size * spacing if shift else None,
        )

    def noticeable(self, kind: str) -> float:
        """The size that is noticed four times in five (its median over stations)."""
        of_kind = [i for i, name in enumerate(self.tried.kind) if name == kind and np.isfinite(self.length[i])]
        if not of_kind:
            return float("nan")
        scatter = max(np.sqrt(self.squares / self.freedom), np.sqrt(self.scale.min()))
        return float((self.limit + _POWER) * scatter * np.median(1.0 / self.length[of_kind]))


def _plausible(tried: Alternatives, gain: FloatArray, length: FloatArray, seen: npt.NDArray[np.bool_]) -> FloatArray:
    """Leaves out shifts by more stations than the slope of a profile can tell about."""
    size = np.abs(gain) / np.where(seen, length, np.inf)
    shift = np.array([name == SHIFT for name in tried.kind])
    return np.asarray(seen & (~shift | (size < _FARTHEST_SHIFT)))


def _different(unit_columns: FloatArray) -> int:
    """How many explanations differ: columns that are equal but for the sign count once."""
    rows = unit_columns.shape[0]
    probes = np.stack([np.cos(np.arange(rows) * 1.7 + 0.3), np.sin(np.arange(rows) ** 1.5 + 0.1)])
    return int(np.unique(np.round(np.abs(probes @ unit_columns), 7), axis=1).shape[1])
