"""Each result as its drawing."""

from __future__ import annotations

from functools import singledispatch

import numpy as np

from waywright.drawing import LIGHT, Palette, plain_number, signed
from waywright.drawing.figures import AngleScene, CylinderScene, angle, cylinder
from waywright.drawing.panels import Mark, Panel, PanelsScene, Trace, panels
from waywright.drawing.surface import SurfaceScene, grid_lines, surface
from waywright.evaluate import straightness
from waywright.jobs.judge_lines import (
    GuidewayResult,
    ParallelismResult,
    SegmentsResult,
    SpatialResult,
    SquarenessResult,
    TwistResult,
)
from waywright.jobs.judge_surfaces import FlatnessResult, LevelResult, PositioningResult
from waywright.jobs.passes_compared import Finding, PassesResult
from waywright.jobs.told import sentence, told
from waywright.quantities import code
from waywright.readings import Floats
from waywright.wording import text


@singledispatch
def drawn(result: object, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    """The drawing of a result as SVG text; ``grows_left`` turns positions. Raises TypeError for what is no result."""
    raise TypeError(type(result).__name__)


def in_words(result: object) -> str:
    """What the drawing shows, for those who do not see it: the sentences of the result."""
    return " ".join(sentence(said) for said in told(result))


@drawn.register
def _passes(result: PassesResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    x = result.position_mm
    off = x - x.mean()
    line = straightness(x, result.mean_um).line
    traces = [
        Trace(_pass_name(number, way), _tuple(x), _tuple(each - line.at(x) - np.mean(each - result.mean_um)))
        for number, (each, way) in enumerate(zip(result.each_um, result.directions, strict=True), start=1)
    ]
    traces.append(Trace(text("drawing.mean"), _tuple(x), _tuple(result.mean_um - line.at(x)), main=True))
    marks = tuple(_mark(one) for one in result.findings)
    first = Panel(result.code, text("drawing.passes_note"), "µm", tuple(traces), marks)
    more = []
    if np.isfinite(result.reversal_um).all() and off.size:
        reversal = Trace("", _tuple(x), _tuple(result.reversal_um), main=True)
        more.append(Panel(text("drawing.reversal"), text("drawing.reversal_note"), "µm", (reversal,), marks))
    return panels(PanelsScene(result.code, in_words(result), (first, *more), grows_left), palette=palette, width=width)


def _mark(one: Finding) -> Mark:
    sort = "undecided" if len(one.kinds) > 1 else "now"
    return Mark(one.from_mm, one.to_mm, text(f"drawing.found.{one.kind}"), sort)


def _pass_name(number: int, way: str) -> str:
    return text("drawing.pass", number=number, direction=text(f"report.direction.{way}"))


@drawn.register
def _twist(result: TwistResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    roll = Trace("", _tuple(result.position_mm), _tuple(result.roll_um_per_m), main=True)
    note = text("drawing.roll_note", total=plain_number(result.result.total_um_per_m, 1))
    panel = Panel(f"{text('drawing.roll')} ({result.code})", note, "µm/m", (roll,))
    return panels(PanelsScene(result.code, in_words(result), (panel,), grows_left), palette=palette, width=width)


@drawn.register
def _level(result: LevelResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    x = result.position_mm
    shape = straightness(x, result.height_um, "end-points").deviation_um
    stack = [_single(text("drawing.heights"), text("drawing.heights_note"), "µm", x, shape)]
    steps = (x[:-1] + x[1:]) / 2
    stack.append(_single(text("drawing.along"), "", "µm/m", steps, result.tilt_um_per_m))
    if result.across_um_per_m is not None:
        stack.append(_single(text("drawing.across"), "", "µm/m", steps, result.across_um_per_m))
    scene = PanelsScene(text("drawing.heights"), in_words(result), tuple(stack), grows_left)
    return panels(scene, palette=palette, width=width, panel_height=150.0)


def _single(heading: str, note: str, unit: str, x: Floats, y: Floats) -> Panel:
    return Panel(heading, note, unit, (Trace("", _tuple(x), _tuple(y), main=True),))


@drawn.register
def _segments(result: SegmentsResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    joined = result.joined
    shape = straightness(joined.position_mm, joined.value_um, "end-points").deviation_um
    spread = result.uncertainty_about_end_points_um
    band = () if spread is None else _tuple(2 * spread)
    trace = Trace("", _tuple(joined.position_mm), _tuple(shape), main=True, spread=band)
    marks = tuple(
        Mark(
            float(each.position_mm.min()), float(each.position_mm.max()),
            text("drawing.overlap", first=each.first, second=each.second),
        )
        for each in joined.overlaps
    )  # fmt: skip
    panel = Panel(result.code, text("drawing.segments_note"), "µm", (trace,), marks)
    return panels(PanelsScene(result.code, in_words(result), (panel,), grows_left), palette=palette, width=width)


@drawn.register
def _guideway(result: GuidewayResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    shape = result.shape
    off = straightness(shape.position_mm, shape.height_um, "end-points").deviation_um
    panel = _single(shape.code, text("drawing.guideway_note"), "µm", shape.position_mm, off)
    return panels(PanelsScene(shape.code, in_words(result), (panel,), grows_left), palette=palette, width=width)


@drawn.register
def _positioning(
    result: PositioningResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False
) -> str:
    found = result.result
    traces = []
    for key, runs, mean in (("up", result.up_um, found.mean_up_um), ("down", result.down_um, found.mean_down_um)):
        spread = _tuple(2 * runs.std(axis=1, ddof=1)) if found.runs > 1 else ()
        name = text(f"drawing.{key}")
        traces.append(Trace(name, _tuple(found.target_mm), _tuple(mean), main=key == "up", spread=spread))
    heading = f"{text('drawing.positioning')} ({result.code})"
    panel = Panel(heading, text("drawing.positioning_note"), "µm", tuple(traces))
    return panels(
        PanelsScene(heading, in_words(result), (panel,), grows_left), palette=palette, width=width, panel_height=230.0
    )


@drawn.register
def _flatness(result: FlatnessResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    x, y = _tuple(result.x_mm), _tuple(result.y_mm)
    heading = f"{text('drawing.flatness')} {plain_number(result.result.value_um, 1)} µm"
    scene = SurfaceScene(
        heading, text(f"drawing.plane.{result.result.reference}"), in_words(result), x, y,
        _tuple(result.result.deviation_um), grid_lines(x, y),
    )  # fmt: skip
    return surface(scene, palette=palette, width=width)


@drawn.register
def _spatial(result: SpatialResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    order = np.argsort(result.position_mm)
    scene = CylinderScene(
        f"{text('drawing.spatial')} ({result.first_code}, {result.second_code})", text("drawing.spatial_note"),
        in_words(result), code(result.first_code).direction, code(result.second_code).direction,
        _tuple(result.first_deviation_um[order]), _tuple(result.second_deviation_um[order]),
        _tuple(result.position_mm[order]), result.result.diameter_um,
    )  # fmt: skip
    return cylinder(scene, palette=palette, width=width)


@drawn.register
def _squareness(
    result: SquarenessResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False
) -> str:
    found = result.result
    scene = AngleScene(
        f"{text('drawing.squareness')} ({found.code})", text(f"drawing.about.{result.reference}"), in_words(result),
        found.first_axis, found.second_axis, found.opening_um_per_m, True, signed(found.value_um_per_m), "µm/m",
    )  # fmt: skip
    return angle(scene, palette=palette, width=width)


@drawn.register
def _parallelism(
    result: ParallelismResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False
) -> str:
    found = result.result
    value = result.linked.value_um_per_m if result.linked else found.angle_um_per_m
    over = text(
        "drawing.over_length", over=signed(value * found.length_mm / 1000), length=plain_number(found.length_mm)
    )
    scene = AngleScene(
        f"{text('drawing.parallelism')} ({result.code})", text(f"drawing.about.{result.reference}"), in_words(result),
        text("drawing.first_line"), text("drawing.second_line"), value, False, signed(value), f"µm/m · {over}",
    )  # fmt: skip
    return angle(scene, palette=palette, width=width)


def _tuple(values: Floats) -> tuple[float, ...]:
    return tuple(float(value) for value in values)
