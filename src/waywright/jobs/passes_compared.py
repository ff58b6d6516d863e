"""What the passes of a line say of each other: reversal, repeatability, drift, and what does not fit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import straightness_by_reference
from waywright.evaluate.anomalies import Anomaly, PassesCheck, check_passes
from waywright.evaluate.drift import Closure, Drift, estimate_drift, remove_drift
from waywright.evaluate.given import reference_flip
from waywright.evaluate.passes import JoinedPasses, Traverse, join_passes
from waywright.evaluate.results import Reason
from waywright.files import ReadingsTable, read_table
from waywright.files.named_table import Wanted, read_named
from waywright.quantities import Kind, code
from waywright.readings import Floats


@dataclass(frozen=True, slots=True)
class DriftResult:
    """The drift with its standard uncertainties; ``bow_um`` is how far it bends each pass about its end line."""

    offset_um_per_h: float
    angle_um_per_m_per_h: float
    offset_uncertainty_um_per_h: float
    angle_uncertainty_um_per_m_per_h: float
    bow_um: tuple[float, ...]
    closures: int
    separable: bool
    removed: bool
    reason: Reason | None


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that noise does not explain; ``reason`` is its sentence."""

    kind: str
    kinds: tuple[str, ...]
    passes: tuple[int, ...]
    from_mm: float
    to_mm: float
    size_um: float | None
    size_stations: float | None
    standard_error: float
    reason: Reason


@dataclass(frozen=True, slots=True, eq=False)
class PassesResult:
    """Passes of one quantity at common stations; arrays (m,), ``each_um`` (passes, m).

    ``reversal_um`` is forward minus backward. ``positive`` as in the results of straightness. ``drift`` is None where
    the readings have no times. ``flip`` says that the choice of the reference line matters. ``by_reference`` is the
    straightness of the readings' mean as they are, ``by_reference_without_drift`` with the drift taken out; None where
    the drift cannot be told from a reversal.
    """

    code: str
    positive: str | None
    passes: int
    directions: tuple[str, ...]
    stations: int
    left_out: int
    position_mm: Floats
    mean_um: Floats
    reversal_um: Floats
    repeatability_um: Floats
    each_um: Floats
    largest_reversal_um: float | None
    largest_reversal_at_mm: float | None
    pooled_repeatability_um: float | None
    noise_um: float | None
    noticeable_spike_um: float | None
    noticeable_step_um: float | None
    false_alarm: float
    findings: tuple[Finding, ...]
    not_compared: Reason | None
    drift: DriftResult | None
    flip: Reason | None
    by_reference: Mapping[str, float]
    by_reference_without_drift: Mapping[str, float] | None


def passes_of_table(
    file: Path,
    quantity: str | None = None,
    *,
    remove: bool = False,
    closures: Path | None = None,
    source_mm: float | None = None,
) -> tuple[PassesResult, ...]:
    """The passes of a readings table, for one or every straightness quantity in it.

    ``closures`` is a table of places read twice: position, first and second moment, change by quantity. Raises BadInput
    for tables that cannot be used, a quantity that is not there, and a drift that is to be removed but cannot be told.
    """
    table = read_table(file)
    present = [name for name in table.columns if code(name).is_straightness]
    if quantity is not None and quantity not in present:
        shown = ", ".join(present) or "-"
        raise BadInput("jobs.quantity_missing", quantity=quantity, file=str(file), present=shown)
    if not present:
        raise BadInput("jobs.no_straightness", file=str(file), columns=", ".join(table.columns))
    return tuple(
        compared(
            name, [traverse_of(single, name) for single in table.passes()],
            closures=_closures(closures, name), remove=remove, source_mm=source_mm,
        )
        for name in ([quantity] if quantity else present)
    )  # fmt: skip


def compared(
    quantity: str,
    passes: Sequence[Traverse],
    *,
    closures: Sequence[Closure] = (),
    remove: bool = False,
    source_mm: float | None = None,
) -> PassesResult:
    """Compare passes; with ``remove`` the drift is taken out first, and the result says so."""
    drift, found = None, None
    if all(one.time_s is not None for one in passes):
        found = estimate_drift(passes, closures, source_mm=source_mm)
        drift = _drift(found, passes, remove)
    elif remove or closures:
        raise BadInput("passes.no_times")
    kept = remove_drift(passes, found) if remove and found is not None else passes
    joined, check = join_passes(kept), check_passes(kept)
    at_all = joined.reversal if np.isfinite(joined.reversal).any() else None
    worst = None if at_all is None else int(np.abs(at_all).argmax())
    return PassesResult(
        code=quantity, positive=None, passes=joined.passes, directions=tuple(one.direction for one in passes),
        stations=joined.position_mm.size, left_out=joined.left_out, position_mm=joined.position_mm,
        mean_um=joined.mean, reversal_um=joined.reversal, repeatability_um=joined.repeatability, each_um=joined.each,
        largest_reversal_um=None if at_all is None or worst is None else float(at_all[worst]),
        largest_reversal_at_mm=None if worst is None else float(joined.position_mm[worst]),
        pooled_repeatability_um=_pooled(joined), noise_um=_known(check.noise),
        noticeable_spike_um=_known(check.noticeable_spike), noticeable_step_um=_known(check.noticeable_step),
        false_alarm=check.false_alarm, findings=_findings(check), not_compared=check.reason, drift=drift,
        flip=reference_flip(straightness_by_reference(joined.position_mm, joined.mean)).reason,
        by_reference=_values(passes),
        by_reference_without_drift=_without(passes, found),
    )  # fmt: skip


def _without(passes: Sequence[Traverse], drift: Drift | None) -> dict[str, float] | None:
    """With the drift taken out, where it can be told."""
    return None if drift is None or not drift.separable else _values(remove_drift(passes, drift))


def _values(passes: Sequence[Traverse]) -> dict[str, float]:
    """Straightness of the mean of the passes about each reference line."""
    joined = join_passes(passes)
    found = straightness_by_reference(joined.position_mm, joined.mean)
    return {name: float(one.value_um) for name, one in found.items()}


def traverse_of(single: ReadingsTable, quantity: str) -> Traverse:
    """One pass of a table as a traverse, with the standard deviation of each mean where the table says it."""
    recorded = [way for way in single.direction or () if way]
    rising = "forward" if single.position_mm[-1] >= single.position_mm[0] else "backward"
    direction = max(set(recorded), key=recorded.count) if recorded else rising
    sd = single.standard_deviation.get(quantity)
    samples = single.samples_of.get(quantity, single.samples)
    of_mean = None if sd is None else sd / np.sqrt(np.maximum(1 if samples is None else samples, 1))
    return Traverse(single.position_mm, single.columns[quantity], direction, single.time_s, of_mean)


def _drift(found: Drift, passes: Sequence[Traverse], removed: bool) -> DriftResult:
    spread = np.sqrt(np.diag(found.covariance))
    known = bool(np.isfinite(found.offset_per_h))
    return DriftResult(
        found.offset_per_h, found.angle_per_h, float(spread[0]), float(spread[1]),
        tuple(float(found.bow(one)) for one in passes) if known else (),
        found.closures, found.separable, removed, found.reason,
    )  # fmt: skip


def _findings(check: PassesCheck) -> tuple[Finding, ...]:
    return tuple(_finding(one) for one in check.found)


def _finding(one: Anomaly) -> Finding:
    reason = Reason(one.reason.key, {**one.reason.facts, "unit": "µm"})
    shift = one.size_mm is not None
    return Finding(
        one.kind, one.kinds, one.passes, one.from_mm, one.to_mm, None if shift else one.size,
        one.size if shift else None, one.standard_error, reason,
    )  # fmt: skip


def _pooled(joined: JoinedPasses) -> float | None:
    return _known(float(np.sqrt(np.mean(joined.repeatability**2))))


def _known(value: float) -> float | None:
    return value if np.isfinite(value) else None


def _closures(file: Path | None, quantity: str) -> tuple[Closure, ...]:
    """Places read twice, from a table: ``position_mm,first_s,second_s,EYZ_um`` and ``sd_EYZ_um`` if known."""
    if file is None:
        return ()
    name = quantity.lower()
    codes = [f"{prefix}e{a}{b}" for prefix in ("", "sd_") for a in "xyz" for b in "xyz" if a != b]
    wanted = [
        Wanted("position", Kind.POSITION),
        Wanted("first", Kind.TIME),
        Wanted("second", Kind.TIME),
        *(Wanted(one, Kind.DISPLACEMENT, one == name) for one in codes),
    ]
    table = read_named(file, wanted)
    numbers = table.numbers
    sd = numbers.get(f"sd_{name}")
    return tuple(
        Closure(
            float(numbers["position"][k]), float(numbers["first"][k]), float(numbers["second"][k]),
            float(numbers[name][k]), None if sd is None else float(sd[k]),
        )
        for k in range(len(table.lines))
    )  # fmt: skip
