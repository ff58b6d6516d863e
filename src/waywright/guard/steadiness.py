"""Is the beam steady enough today? Two recordings at standstill, near the source and far from it.

An offset of the beam drifts alike near and far, an angle in proportion to the distance. The longest pass is the one
during which the drift at the worse place stays below a tenth of the tolerance. The answer is "use", "repeat" (the
recording does not tell, or was disturbed) or "not-today".
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.results import Reason
from waywright.guard.rules import DRIFT_SHARE, LONGEST_AVERAGING_S, MOST_DISTURBED, RECORD_OF_AVERAGES, Rule
from waywright.guard.standstill_record import SECONDS_PER_MINUTE, Standstill, StandstillFigures, standstill_figures

_COVERAGE = 2.0


class Advice(StrEnum):
    """What the recording advises."""

    USE = "use"
    REPEAT = "repeat"
    NOT_TODAY = "not-today"


@dataclass(frozen=True, slots=True, eq=False)
class Steadiness:
    """Both recordings and what follows for passes.

    ``offset_um_per_min`` and ``angle_um_per_m_per_min`` are the drift of the beam with standard errors (at the source;
    as seen in the readings). ``shortest_averaging_s`` brings the scatter of an average (by its upper 95 % limit) down
    to ``wished_um`` at both places; None where no time of the recording does. ``longest_pass_s`` keeps the drift
    below ``allowed_drift_um``, ``sure_pass_s`` even if the drift is larger by two standard errors. ``why`` is the one
    sentence, ``rules`` what it rests on.
    """

    near: StandstillFigures
    far: StandstillFigures
    tolerance_um: float
    wished_um: float
    pass_s: float
    allowed_drift_um: float
    offset_um_per_min: float
    offset_error_um_per_min: float
    angle_um_per_m_per_min: float
    angle_error_um_per_m_per_min: float
    correlation_s: float
    shortest_averaging_s: float | None
    longest_pass_s: float
    sure_pass_s: float
    advice: Advice
    why: Reason
    rules: tuple[Rule, ...]


def steadiness(
    near: Standstill, far: Standstill, *, tolerance_um: float, wished_um: float, pass_s: float
) -> Steadiness:
    """Judge the beam from two recordings.

    ``wished_um`` is the scatter (standard deviation) that an averaged reading may have, ``pass_s`` how long a pass is
    meant to take. Raises BadInput for recordings that are too short or at the same place, or figures not above 0.
    """
    for name, value in (("tolerance_um", tolerance_um), ("wished_um", wished_um), ("pass_s", pass_s)):
        if not value > 0.0:
            raise BadInput("guard.not_positive", name=name, value=value)
    if not far.distance_m > near.distance_m:
        raise BadInput("guard.far_not_beyond_near", near_m=near.distance_m, far_m=far.distance_m)
    a, b = standstill_figures(near), standstill_figures(far)
    allowed = DRIFT_SHARE.value * tolerance_um
    times = [figures.shortest_s(wished_um) for figures in (a, b)]
    averaging = None if None in times else max(time for time in times if time is not None)
    longest, sure = _passes_s(a, b, allowed)
    advice, why = _advice(a, b, averaging, longest, sure, wished_um, pass_s)
    return Steadiness(
        a, b, tolerance_um, wished_um, pass_s, allowed, *_offset_and_angle(a, b),
        correlation_s=max(a.correlation_s, b.correlation_s), shortest_averaging_s=averaging,
        longest_pass_s=longest, sure_pass_s=sure, advice=advice, why=why,
        rules=(DRIFT_SHARE, LONGEST_AVERAGING_S, RECORD_OF_AVERAGES, MOST_DISTURBED),
    )  # fmt: skip


def _offset_and_angle(a: StandstillFigures, b: StandstillFigures) -> tuple[float, float, float, float]:
    """Drift of the offset at the source and of the angle, each with its standard error."""
    span = b.distance_m - a.distance_m
    angle = (b.drift_um_per_min - a.drift_um_per_min) / span
    angle_error = float(np.hypot(a.drift_error_um_per_min, b.drift_error_um_per_min)) / span
    weights = np.array([b.distance_m, -a.distance_m]) / span
    offset = float(weights @ [a.drift_um_per_min, b.drift_um_per_min])
    error = float(np.hypot(*(weights * [a.drift_error_um_per_min, b.drift_error_um_per_min])))
    return offset, error, angle, angle_error


def _passes_s(a: StandstillFigures, b: StandstillFigures, allowed_um: float) -> tuple[float, float]:
    """The longest pass as measured, and the one that is sure; infinite without drift."""
    drift = max(abs(figures.drift_um_per_min) for figures in (a, b))
    worst = max(abs(f.drift_um_per_min) + _COVERAGE * f.drift_error_um_per_min for f in (a, b))
    with np.errstate(divide="ignore"):
        longest, sure = allowed_um * SECONDS_PER_MINUTE / np.array([drift, worst])
    return float(longest), float(sure)


def _advice(
    a: StandstillFigures, b: StandstillFigures, averaging: float | None, longest: float, sure: float, wished: float,
    pass_s: float,
) -> tuple[Advice, Reason]:  # fmt: skip
    """The first thing that stands in the way, worst first."""
    for place, figures in (("near", a), ("far", b)):
        if figures.disturbed_samples > MOST_DISTURBED.value * figures.samples:
            return Advice.REPEAT, Reason(f"guard.steady_disturbed_{place}", {"samples": figures.disturbed_samples})
    if averaging is None:
        worse = max((a, b), key=lambda figures: float(figures.allan.lower.min()))
        least = int(np.argmin(worse.allan.deviation))
        facts = {"least_um": float(worse.allan.deviation[least]), "averaging_s": float(worse.allan.averaging_s[least]),
                 "wished_um": wished, "duration_s": worse.duration_s}  # fmt: skip
        out_of_reach = float(worse.allan.lower.min()) > wished
        return (Advice.NOT_TODAY, Reason("guard.steady_scatter", facts)) if out_of_reach else (
            Advice.REPEAT, Reason("guard.steady_scatter_unsure", facts))  # fmt: skip
    if averaging > LONGEST_AVERAGING_S.value:
        return Advice.NOT_TODAY, Reason("guard.steady_slow", {"averaging_s": averaging, "wished_um": wished,
                                                              "longest_s": LONGEST_AVERAGING_S.value})  # fmt: skip
    return _advice_on_drift(a, b, averaging, longest, sure, pass_s)


def _advice_on_drift(
    a: StandstillFigures, b: StandstillFigures, averaging: float, longest: float, sure: float, pass_s: float
) -> tuple[Advice, Reason]:
    facts: dict[str, object] = {"averaging_s": averaging, "longest_min": longest / SECONDS_PER_MINUTE,
             "pass_min": pass_s / SECONDS_PER_MINUTE, "sure_min": sure / SECONDS_PER_MINUTE}  # fmt: skip
    shortest_record = min(a.duration_s, b.duration_s)
    if shortest_record < RECORD_OF_AVERAGES.value * averaging:
        needed = RECORD_OF_AVERAGES.value * averaging / SECONDS_PER_MINUTE
        return Advice.REPEAT, Reason("guard.steady_record_short", facts | {"needed_min": needed})
    if pass_s <= sure:
        return Advice.USE, Reason("guard.steady_use", facts)
    if pass_s <= longest:
        return Advice.REPEAT, Reason("guard.steady_drift_unsure", facts)
    return Advice.NOT_TODAY, Reason("guard.steady_drift", facts)
