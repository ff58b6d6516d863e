"""A line measured in overlapping segments (beam aimed again, source moved, detector changed), joined to one profile.

Each segment has its own offset and tilt. They are found together by least squares over the overlaps, the first
segment giving the frame; the joined profile is the weighted mean of what covers a station. The way from readings to
profile is linear, so its covariance is exact: the tilt of a later segment is known only as well as its overlap, and
the uncertainty grows along the chain.

Stations of different segments are brought together as those of passes are: closer than half the usual spacing is one
common station, values in between are interpolated linearly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import fit
from waywright.evaluate.passes import Between, grouped_stations

FEWEST_COMMON = 2
DISAGREEMENT_LEVEL = 0.01


@dataclass(frozen=True, slots=True, eq=False)
class Segment:
    """One set-up's part of a line in one plane: positions (n,) in mm, values (n,) or (n, draws) in um.

    ``standard_deviation`` of each value in um: one number, (n,), or None where it is not known.
    """

    position_mm: npt.ArrayLike
    value_um: npt.ArrayLike
    standard_deviation_um: npt.ArrayLike | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Overlap:
    """Where two segments (numbers from 1) cover the same stations: ``residual_um`` second minus first, once joined."""

    first: int
    second: int
    position_mm: FloatArray
    residual_um: FloatArray

    @property
    def rms_um(self) -> PerDraw:
        """Root mean square of the residuals."""
        return np.sqrt((self.residual_um**2).mean(axis=0))[()]


@dataclass(frozen=True, slots=True, eq=False)
class JoinedSegments:
    """The whole line in the frame of the first segment.

    ``value_um`` (m,) or (m, draws). To segment s was added ``offset_um[s] + tilt_um_per_m[s] * (x - middle_mm[s]) /
    1000``, with standard uncertainties ``offset_sd_um`` and ``tilt_sd_um_per_m`` (0 for the first).
    ``covariance_um2`` (m, m) of the profile comes from the standard deviations of the values; where these are unknown
    from what the overlaps show, or is None where they show nothing. ``residual_sd`` is the scatter in the overlaps over
    what is expected (in um where nothing is), with ``degrees_of_freedom``. ``agree`` says whether it is small enough to
    be chance (chi-squared, 1 % of sound overlaps are called not so), None where it cannot be said.
    """

    position_mm: FloatArray
    value_um: FloatArray
    covariance_um2: FloatArray | None
    middle_mm: FloatArray
    offset_um: FloatArray
    tilt_um_per_m: FloatArray
    offset_sd_um: FloatArray
    tilt_sd_um_per_m: FloatArray
    overlaps: tuple[Overlap, ...]
    residual_sd: PerDraw
    degrees_of_freedom: int
    agree: bool | None

    @property
    def standard_uncertainty_um(self) -> FloatArray | None:
        """Of each station in the frame of the first segment (m,): it grows with the distance from it."""
        return None if self.covariance_um2 is None else np.sqrt(np.diag(self.covariance_um2))

    def covariance_about_end_points_um2(self) -> FloatArray | None:
        """Covariance (m, m) of the deviations from the line through the end points, which no frame moves."""
        if self.covariance_um2 is None:
            return None
        share = (self.position_mm - self.position_mm[0]) / (self.position_mm[-1] - self.position_mm[0])
        less = np.eye(share.size)
        less[:, 0] -= 1.0 - share
        less[:, -1] -= share
        return np.asarray(less @ self.covariance_um2 @ less.T)


def join_segments(segments: Sequence[Segment]) -> JoinedSegments:
    """Join segments to one profile; the two planes of a line are joined one by one.

    Raises BadInput for no segment, fewer than three stations in one, repeated positions, standard deviations that are
    not positive, segments with different numbers of draws, and for a segment that shares fewer than two stations with
    the others, which leaves its tilt open.
    """
    if not segments:
        raise BadInput("segments.none")
    chain = _Chain.of(segments)
    chain.check_connected()
    solution = chain.solved(chain.readings)
    sd, known = chain.standard_deviation
    scatter = _scatter(chain, solution)
    scale = 1.0 if known else scatter
    exact = chain.solved(np.diag(sd * scale)) if np.isfinite(scale) else None
    single = chain.single
    return JoinedSegments(
        position_mm=chain.x,
        value_um=solution.profile[:, 0] if single else solution.profile,
        covariance_um2=None if exact is None else exact.profile @ exact.profile.T,
        middle_mm=chain.middle_mm,
        offset_um=solution.offset[:, 0] if single else solution.offset,
        tilt_um_per_m=solution.tilt[:, 0] if single else solution.tilt,
        offset_sd_um=_spread(None if exact is None else exact.offset, len(segments)),
        tilt_sd_um_per_m=_spread(None if exact is None else exact.tilt, len(segments)),
        overlaps=chain.overlaps(solution, single),
        residual_sd=float(solution.residual_sd[0]) if single else solution.residual_sd,
        degrees_of_freedom=chain.freedom,
        agree=_agree(chain.freedom, solution.residual_sd) if known else None,
    )


def _scatter(chain: _Chain, solution: _Solution) -> float:
    """Standard deviation of a value as the overlaps show it; NaN where they leave nothing over."""
    return float(np.sqrt(np.mean(solution.residual_sd**2))) if chain.freedom > 0 else float("nan")


def _spread(linear: FloatArray | None, segments: int) -> FloatArray:
    return np.full(segments, np.nan) if linear is None else np.sqrt((linear**2).sum(axis=1))


def _agree(freedom: int, residual_sd: FloatArray) -> bool | None:
    if freedom == 0:
        return None
    from scipy.stats import chi2

    return bool(np.mean(residual_sd**2) * freedom <= chi2.isf(DISAGREEMENT_LEVEL, freedom))


@dataclass(frozen=True, slots=True, eq=False)
class _Solution:
    profile: FloatArray
    offset: FloatArray
    tilt: FloatArray
    aligned: tuple[FloatArray, ...]
    residual_sd: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class _Chain:
    """Segments at common stations; everything that does not depend on the values."""

    x: FloatArray
    places: tuple[FloatArray, ...]
    readings: FloatArray
    single: bool
    between: tuple[Between, ...]
    covers: npt.NDArray[np.bool_]
    weight: FloatArray
    middle_mm: FloatArray
    standard_deviation: tuple[FloatArray, bool]

    @classmethod
    def of(cls, segments: Sequence[Segment]) -> _Chain:
        each = [_sorted(segment) for segment in segments]
        places = tuple(x for x, _, _ in each)
        _same_draws([y for _, y, _ in each])
        x, _, _ = grouped_stations(places, everywhere=False)
        reach_mm = 0.5 * min(float(np.median(np.diff(own))) for own in places)
        covers = np.stack([(x >= own[0] - reach_mm) & (x <= own[-1] + reach_mm) for own in places])
        between = tuple(Between.of(x, own) for own in places)
        known = all(sd is not None for _, _, sd in each)
        spreads = [sd if known and sd is not None else np.ones(own.size) for own, _, sd in each]
        pairs = zip(between, spreads, covers, strict=True)
        weight = np.stack([np.where(inside, 1.0 / place.spread(sd), 0.0) for place, sd, inside in pairs])
        single = each[0][1].ndim == 1
        readings = np.concatenate([y.reshape(y.shape[0], -1) for _, y, _ in each])
        middle_mm = np.array([(own[0] + own[-1]) / 2 for own in places])
        sd = np.concatenate(spreads)
        return cls(x, places, readings, single, between, covers, weight, middle_mm, (sd, known))

    @property
    def shared(self) -> npt.NDArray[np.bool_]:
        """Stations that at least two segments cover (m,)."""
        return np.asarray(self.covers.sum(axis=0) >= 2)

    @property
    def freedom(self) -> int:
        """Equations in the overlaps less heights, offsets and tilts."""
        return max(int(self.covers[:, self.shared].sum() - self.shared.sum() - 2 * (len(self.places) - 1)), 0)

    def check_connected(self) -> None:
        """Every segment must share two stations with those that hang together already."""
        joined, waiting = [0], list(range(1, len(self.places)))
        while waiting:
            common = {s: int((self.covers[joined].any(axis=0) & self.covers[s]).sum()) for s in waiting}
            best = max(waiting, key=lambda s: common[s])
            if common[best] < FEWEST_COMMON:
                raise BadInput(
                    "segments.overlap_short", segment=best + 1, stations=common[best], needed=FEWEST_COMMON,
                    from_mm=float(self.places[best][0]), to_mm=float(self.places[best][-1]),
                )  # fmt: skip
            joined.append(best)
            waiting.remove(best)

    def solved(self, readings: FloatArray) -> _Solution:
        """The joined profile of readings (all, k), linear in them."""
        ends = np.cumsum([own.size for own in self.places])[:-1]
        parts = np.split(readings, ends)
        at = np.stack([place.linear(part) for place, part in zip(self.between, parts, strict=True)])
        offset, tilt, squares = self._alignment(at)
        arm_m = (self.x[None, :] - self.middle_mm[:, None]) / 1000.0
        aligned = at + offset[:, None, :] + arm_m[..., None] * tilt[:, None, :]
        square = self.weight[..., None] ** 2
        profile = (aligned * square).sum(axis=0) / square.sum(axis=0)
        sd = np.sqrt(squares / self.freedom) if self.freedom else np.full(readings.shape[1], np.nan)
        return _Solution(profile, offset, tilt, tuple(aligned), sd)

    def _alignment(self, at: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Offsets and tilts (segments, k) and the sum of weighted squares (k,) left in the overlaps."""
        segments, draws = at.shape[0], at.shape[2]
        nothing = np.zeros((segments, draws))
        if segments == 1:
            return nothing, nothing, np.zeros(draws)
        arm_m = (self.x[None, :] - self.middle_mm[:, None]) / 1000.0
        block = np.zeros((segments, self.x.size, 2 * (segments - 1)))
        for s in range(1, segments):
            block[s, :, 2 * s - 2] = -1.0
            block[s, :, 2 * s - 1] = -arm_m[s]
        found = fit(self._in_overlaps(block), self._in_overlaps(at))
        offset, tilt = nothing.copy(), nothing.copy()
        offset[1:], tilt[1:] = found.coefficient[0::2], found.coefficient[1::2]
        return offset, tilt, (found.residual**2).sum(axis=0)

    def _in_overlaps(self, block: FloatArray) -> FloatArray:
        """Weighted rows of shared stations without their unknown heights."""
        weight = self.weight[:, self.shared][..., None]
        weighted = block[:, self.shared] * weight
        share = (weighted * weight).sum(axis=0) / (weight**2).sum(axis=0)
        rows = (weighted - weight * share)[self.covers[:, self.shared]]
        return np.asarray(rows)

    def overlaps(self, solution: _Solution, single: bool) -> tuple[Overlap, ...]:
        """Residuals of every pair of segments that share stations."""
        found = []
        for first in range(len(self.places)):
            for second in range(first + 1, len(self.places)):
                both = self.covers[first] & self.covers[second]
                if both.any():
                    rest = (solution.aligned[second] - solution.aligned[first])[both]
                    found.append(Overlap(first + 1, second + 1, self.x[both], rest[:, 0] if single else rest))
        return tuple(found)


def _sorted(segment: Segment) -> tuple[FloatArray, FloatArray, FloatArray | None]:
    x = positions(segment.position_mm)
    y = values(segment.value_um, x, name="value")
    order = np.argsort(x, kind="stable")
    x, y = x[order], y[order]
    repeated = np.flatnonzero(np.diff(x) == 0.0)
    if repeated.size:
        raise BadInput("evaluate.position_repeated", position_mm=float(x[repeated[0]]))
    if segment.standard_deviation_um is None:
        return x, y, None
    sd = np.broadcast_to(np.asarray(segment.standard_deviation_um, dtype=np.float64), x.shape)[order]
    if not (np.isfinite(sd) & (sd > 0.0)).all():
        raise BadInput("segments.standard_deviation")
    return x, y, sd


def _same_draws(found: Sequence[FloatArray]) -> None:
    shapes = {y.shape[1:] for y in found}
    if len(shapes) > 1:
        raise BadInput("segments.draws_differ", draws=", ".join(str(shape[0]) if shape else "one" for shape in shapes))
