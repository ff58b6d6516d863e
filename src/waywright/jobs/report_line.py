"""What the report says of one line: from the measured line to its content."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from uuid import UUID

import numpy as np

from waywright.archive import Archive
from waywright.errors import BadInput
from waywright.jobs.further import further_of_line
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.measured import (
    MeasuredLine,
    MeasuredPass,
    joined,
    on_screen,
    positive_on_screen,
    results_of_line,
)
from waywright.jobs.report_judged import judged_content
from waywright.jobs.report_order import ReportOrder
from waywright.jobs.report_turned import turned_content
from waywright.quantities import Direction, code
from waywright.readings import Floats, standing
from waywright.report import (
    ExcludedContent,
    FurtherContent,
    LineContent,
    LineValue,
    PassContent,
    PassCurve,
    QuantityContent,
)
from waywright.visit import VisitPlan

_EVERYDAY = ("instruments.connected", "capture.travel_end")
"""Events that every pass has; the archive keeps them, a report needs not print them."""


def line_content(
    archive: Archive,
    measured: MeasuredLine,
    order: ReportOrder,
    plan: VisitPlan | None = None,
    further: Sequence[FurtherContent] = (),
    names: Mapping[UUID, str] | None = None,
) -> LineContent:
    """What the report says of a line. Raises BadInput where there is nothing to report."""
    if not measured.passes:
        raise BadInput("jobs.no_readings", line=measured.line.name)
    results = results_of_line(measured, order.reference, order.window_mm)
    straight = [straightness_content(each) for each in _by_code(results)]
    judged = judged_content(measured, straight, order, plan)
    return LineContent(
        line=measured.line,
        setup=measured.passes[-1].setup,
        quantities=(*judged, *turned_content(measured, _rotations(measured), order, plan)),
        passes=tuple(pass_content(single) for single in measured.passes),
        further=(*further_of_line(measured), *further),
        excluded=_excluded(archive, measured, names or {}),
        tests=tuple(item for item in (plan.items if plan else ()) if item.line in (None, measured.line.name)),
    )


def straightness_content(results: Sequence[StraightnessResult]) -> QuantityContent:
    """One quantity; the last result is the mean of the passes, or the only pass."""
    chosen = results[-1]
    order = sorted(chosen.by_reference, key=lambda name: name != chosen.reference)
    own = chosen.by_reference[chosen.reference]
    line_um = own.line_offset_um + own.line_slope_um_per_m * 1e-3 * chosen.position_mm
    return QuantityContent(
        code=code(chosen.code),
        on_screen=Direction(str(chosen.positive)),
        values=tuple(_line_value(chosen, name) for name in order),
        position_mm=tuple(chosen.position_mm.tolist()),
        deviation=tuple(chosen.deviation_um.tolist()),
        passes=tuple(
            PassCurve(r.pass_number, r.direction or "", tuple(r.position_mm.tolist()), tuple(r.deviation_um.tolist()))
            for r in results
            if r.pass_number is not None
        ),
        mean=tuple((chosen.deviation_um + line_um).tolist()),
    )


def pass_content(single: MeasuredPass) -> PassContent:
    """What the report says of a pass."""
    taken = single.taken
    return PassContent(
        number=taken.number,
        direction=taken.direction,
        began_utc=taken.began_utc,
        profile=single.profile,
        ended_utc=taken.ended_utc,
        outcome=taken.outcome,
        settings=taken.settings,
        conditions=taken.conditions,
        events=tuple(event for event in single.events if event.key not in _EVERYDAY),
        repeated=single.superseded,
        last_hash=single.readings[-1].hash.hex(),
        segment=single.setup.segment,
    )


def _excluded(archive: Archive, measured: MeasuredLine, names: Mapping[UUID, str]) -> tuple[ExcludedContent, ...]:
    """Readings that hold and are left out, as positions of the line."""
    found = []
    for single in measured.passes:
        why = {one.reading_id: one for one in archive.exclusions(single.taken.id)}
        meaning = single.interpretation
        for reading in standing(archive.readings(single.taken.id)) if why else ():
            if reading.id in why:
                one = why[reading.id]
                offset, sense = (meaning.position_offset_mm, meaning.position_sense) if meaning else (0.0, 1)
                place = sense * (reading.position_mm - offset)
                by = names.get(one.made_by) if one.made_by else None
                found.append(ExcludedContent(single.taken.number, place, one.reason, one.made_utc, by))
    return tuple(found)


def _by_code(results: Sequence[StraightnessResult]) -> list[list[StraightnessResult]]:
    groups: dict[str, list[StraightnessResult]] = {}
    for result in results:
        groups.setdefault(result.code, []).append(result)
    return list(groups.values())


def _rotations(measured: MeasuredLine) -> list[QuantityContent]:
    """Rotations as read, about no line."""
    wanted = [name for name in measured.codes() if code(name).is_rotation]
    return [_rotation(measured, name) for name in wanted]


def _rotation(measured: MeasuredLine, quantity: str) -> QuantityContent:
    mean = joined(measured, quantity)
    values = tuple(mean.mean.tolist())
    return QuantityContent(
        code=code(quantity),
        on_screen=positive_on_screen(measured, quantity),
        values=(_as_read(mean.position_mm, mean.mean),),
        position_mm=tuple(mean.position_mm.tolist()),
        deviation=values,
        passes=tuple(
            PassCurve(
                single.taken.number,
                single.taken.direction,
                tuple(single.profile.position_mm.tolist()),
                tuple(on_screen(single, quantity).tolist()),
            )
            for single in measured.passes
        ),
        mean=values,
    )


def _as_read(position_mm: Floats, value: Floats) -> LineValue:
    high, low = int(np.argmax(value)), int(np.argmin(value))
    largest, smallest = float(value[high]), float(value[low])
    return LineValue("none", largest - smallest, largest, float(position_mm[high]), smallest, float(position_mm[low]))


def _line_value(result: StraightnessResult, reference: str) -> LineValue:
    found = result.by_reference[reference]
    return LineValue(
        reference, found.value_um, found.largest_um, found.largest_at_mm, found.smallest_um, found.smallest_at_mm
    )
