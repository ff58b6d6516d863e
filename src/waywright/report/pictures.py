"""The drawings of a report: way, curves with band and ribbon, before and after, the bed in space, what U is made of."""

from __future__ import annotations

import numpy as np

from waywright.drawing import PRINT, CurveScene, Series, WayScene, curve, plain_number, way
from waywright.drawing.bars import Bar, BarsScene, bars
from waywright.drawing.bed_in_space import BedInSpace, BedShape, bed_in_space
from waywright.quantities import Direction
from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent, QuantityContent
from waywright.report.saying import UNITS, Saying
from waywright.wording import spoken

PAGE_PX = 660.0
"""Width of drawings: about as many pixels as the type area is wide in points, with letters a little smaller."""

Picture = dict[str, str]


def way_picture(content: ReportContent) -> Picture:
    """The bed with the main quantity of the main line, and the moves of the last round where there was one."""
    say, line = Saying(content), content.main
    main = line.quantities[0]
    scene = WayScene(
        position_mm=main.position_mm,
        deviation=main.deviation,
        quantity=main.code,
        reference=main.chosen.reference,
        zero=line.setup.zero,
        source=line.setup.source,
        tolerance=main.tolerance,
    )
    svg = way(content.machine, scene, palette=PRINT, width=PAGE_PX, language=spoken())
    return {"svg": svg, "alt": f"{say.of('report.alt_way', machine=content.machine.name)} {say.summary(line, main)}"}


def curve_picture(content: ReportContent, line: LineContent, quantity: QuantityContent) -> Picture:
    """Passes and their mean, with the tolerance band and the ribbon of the uncertainty."""
    say = Saying(content)
    ribbon = quantity.uncertainty.ribbon if quantity.uncertainty else ()
    one = len(quantity.passes) == 1
    series = [
        Series(
            say.pass_name(each.number, each.direction), each.position_mm, each.deviation, spread=ribbon if one else ()
        )
        for each in quantity.passes
    ]
    if not one:
        series.append(Series(say.of("report.mean"), quantity.position_mm, quantity.deviation, True, ribbon))
    svg = curve(_scene(content, line, quantity, series), palette=PRINT, width=PAGE_PX, height=228.0, language=spoken())
    alt = f"{say.of('report.alt_curve')} {say.summary(line, quantity)}"
    if ribbon:
        alt = f"{alt} {say.of('report.alt_ribbon')}"
    return {"svg": svg, "alt": alt}


def overlay_picture(
    content: ReportContent, found: LineContent, left: LineContent, before: QuantityContent, after: QuantityContent
) -> Picture:
    """The same line as found and as left over one another, each about its own reference line."""
    say = Saying(content)
    ribbon = after.uncertainty.ribbon if after.uncertainty else ()
    series = [
        Series(say.of("report.state.as-found"), before.position_mm, before.deviation, pale=True),
        Series(say.of("report.state.as-left"), after.position_mm, after.deviation, True, ribbon),
    ]
    svg = curve(_scene(content, left, after, series), palette=PRINT, width=PAGE_PX, height=228.0, language=spoken())
    return {"svg": svg, "alt": say.of("report.alt_overlay", quantity=say.named(after.code), **_both(before, after))}


def bed_picture(content: ReportContent) -> Picture | None:
    """The bed in three dimensions; None where no bed is described or no height was measured."""
    line = content.main
    shape = _shape(content, line)
    if shape is None or content.machine.bed is None:
        return None
    say = Saying(content)
    before = next((found for found, left, *_ in content.pairs() if left is line), None)
    behind = None if before is None else _shape(content, before)
    description = say.of("report.alt_bed", line=say.line_name(line))
    scene = BedInSpace(
        heading=say.of("report.bed_in_space"),
        note=say.of("report.bed_note" if _roll(line) else "report.bed_note_without_roll"),
        description=description,
        bed=content.machine.bed,
        shape=shape,
        behind=behind,
    )
    return {"svg": bed_in_space(scene, palette=PRINT, width=PAGE_PX), "alt": description}


def budget_picture(content: ReportContent, line: LineContent, quantity: QuantityContent) -> Picture | None:
    """What the uncertainty of a value is made of; None where none was stated."""
    found = quantity.uncertainty
    if found is None or not found.rows:
        return None
    say, unit = Saying(content), UNITS[quantity.code.kind]
    made = tuple(Bar(say.contribution(row.name), row.contribution, say.budget_source(row.source)) for row in found.rows)
    total = Bar(say.of("report.combined"), found.combined)
    heading = say.of("report.budget_heading", quantity=say.named(quantity.code))
    words = ", ".join(f"{say.contribution(row.name)} {plain_number(row.contribution, 2)} {unit}" for row in found.rows)
    scene = BarsScene(heading, say.of("report.budget_note"), f"{heading}: {words}", unit, made, total)
    return {"svg": bars(scene, palette=PRINT, width=PAGE_PX), "alt": f"{heading}: {words}."}


def _scene(content: ReportContent, line: LineContent, quantity: QuantityContent, series: list[Series]) -> CurveScene:
    say, zero = Saying(content), line.setup.zero
    return CurveScene(
        tuple(series), say.word(quantity.code), quantity.code.text, say.direction(quantity.on_screen),
        UNITS[quantity.code.kind], say.of(f"drawing.about.{quantity.chosen.reference}"),
        grows_left=zero is not None and zero.sense < 0, tolerance=quantity.tolerance,
    )  # fmt: skip


def _both(before: QuantityContent, after: QuantityContent) -> dict[str, str]:
    unit = UNITS[after.code.kind]
    return {
        "before": f"{plain_number(before.chosen.value, 1)} {unit}",
        "after": f"{plain_number(after.chosen.value, 1)} {unit}",
    }


def _roll(line: LineContent) -> QuantityContent | None:
    return next((each for each in line.quantities if each.on_screen is Direction.OPERATOR_SIDE_UP), None)


def _shape(content: ReportContent, line: LineContent) -> BedShape | None:
    """Heights of the front and the rear guideway: the height, plus and minus roll times half the gauge."""
    height = next((each for each in line.quantities if each.on_screen is Direction.UP), None)
    bed, zero = content.machine.bed, line.setup.zero
    if height is None or bed is None:
        return None
    mark = next((one for one in content.machine.marks if zero is not None and one.name == zero.mark), None)
    position_mm = np.array(height.position_mm)
    bed_mm = position_mm if zero is None or mark is None else mark.bed_mm + zero.offset_mm + zero.sense * position_mm
    across_m = (bed.gauge_mm or bed.row_distance_mm or 0.0) / 2e3
    roll = _roll(line)
    tilt = np.zeros(position_mm.size)
    if roll is not None:
        order = np.argsort(roll.position_mm)
        turned = np.array(roll.deviation)[order]
        tilt = np.interp(position_mm, np.array(roll.position_mm)[order], turned - turned.mean())
    order = np.argsort(bed_mm)
    middle, side = np.array(height.deviation)[order], (tilt * across_m)[order]
    name = Saying(content).of(f"report.state.{line.line.state}")
    return BedShape(name, tuple(bed_mm[order]), tuple(middle + side), tuple(middle - side))
