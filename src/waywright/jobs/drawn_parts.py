"""Results of single parts as their drawings; registers with ``drawn``."""

from __future__ import annotations

from waywright.drawing import LIGHT, Palette, plain_number
from waywright.drawing.panels import Mark, Panel, PanelsScene, Trace, panels
from waywright.evaluate import straightness
from waywright.jobs import straightness_shown as _straightness  # noqa: F401 - registers its sentences and drawing
from waywright.jobs import told_parts as _told_parts  # noqa: F401 - registers the sentences of these results
from waywright.jobs.drawn import drawn, in_words
from waywright.jobs.judge_joints import JointResult
from waywright.jobs.judge_more import AnglesResult, SquaresResult
from waywright.jobs.judge_parts import (
    FunctionalPointResult,
    RamResult,
    RollResult,
    SpindleResult,
    StraightedgeResult,
    WaysResult,
)
from waywright.readings import Floats
from waywright.wording import text

__all__ = ["drawn"]


@drawn.register
def _angles(result: AnglesResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    x, found = result.position_mm, result.result
    name = text("results.rotation") if result.name is None else text(result.name.key, **result.name.facts)
    passes = [
        Trace(text("drawing.pass", number=number, direction=text(f"report.direction.{way}")), _tuple(x), _tuple(each))
        for number, (each, way) in enumerate(zip(result.each_um_per_m, result.directions, strict=True), start=1)
    ]
    mean = Trace(text("drawing.mean") if len(passes) > 1 else "", _tuple(x), _tuple(result.angle_um_per_m), main=True)
    note = text("drawing.angle_note", value=plain_number(float(found.value_um_per_m), 1))
    panel = Panel(f"{name} ({result.code})", note, "µm/m", (*(passes if len(passes) > 1 else ()), mean))
    scene = PanelsScene(result.code, in_words(result), (panel,), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _squares(result: SquaresResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    names = [text("drawing.pair", first=first, second=second) for first, second in ((1, 2), (2, 3), (3, 1))]
    traces = tuple(
        Trace(name, _tuple(height), _tuple(gap), main=number == 0)
        for number, (name, height, gap) in enumerate(zip(names, result.height_mm, result.gap_um, strict=True))
    )
    panel = Panel(text("drawing.squares"), text("drawing.squares_note"), "µm", traces)
    scene = PanelsScene(text("drawing.squares"), in_words(result), (panel,), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _functional_point(
    result: FunctionalPointResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False
) -> str:
    found = result.result
    x, seen = found.position_mm, found.deviation_um
    read = seen - sum(found.share_um.values(), seen * 0.0)
    stack = [
        _panel(text("drawing.at_point"), text("drawing.heights_note"), "µm", x,
               {text("drawing.at_tool"): _off(x, seen), text("drawing.as_read"): _off(x, read)})
    ]  # fmt: skip
    level = result.level
    if level is not None:
        both = {text("drawing.along"): level.along_mm_per_m, text("drawing.across"): level.across_mm_per_m}
        shown = {name: one for name, one in both.items() if one is not None}
        if shown:
            stack.append(_panel(text("drawing.level"), "", "mm/m", x, shown))
    scene = PanelsScene(result.code, in_words(result), tuple(stack), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _ram(result: RamResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    found = result.result
    curves = {text("drawing.ram_on"): found.on_um, text("drawing.ram_off"): found.off_um}
    panel = _panel(text("drawing.ram"), "", "µm", found.extension_mm, curves)
    scene = PanelsScene(text("drawing.ram"), in_words(result), (panel,), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _roll(result: RollResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    found = result.result
    panel = _panel(f"{text('drawing.roll')} ({found.code})", "", "µm/m", found.position_mm, {"": found.roll_um_per_m})
    scene = PanelsScene(found.code, in_words(result), (panel,), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _joint(result: JointResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    x, found = result.position_mm, result.result
    mark = Mark(
        found.at_mm, found.at_mm, text("drawing.joint"), "now" if found.step_seen or found.kink_seen else "plain"
    )
    panel = _panel(result.code, text("drawing.heights_note"), "µm", x, {"": _off(x, result.height_um)}, (mark,))
    scene = PanelsScene(result.code, in_words(result), (panel,), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _ways(result: WaysResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    found = result.result
    x = found.position_mm
    stack = [_panel(text("drawing.cross_level"), "", "mm/m", x, {"": found.cross_level_mm_per_m})]
    if found.gauge_deviation_um is not None:
        stack.append(_panel(text("drawing.gauge"), "", "µm", x, {"": found.gauge_deviation_um}))
    scene = PanelsScene(text("drawing.cross_level"), in_words(result), tuple(stack), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _spindle(result: SpindleResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    found = result.result
    curves = {text("drawing.spindle"): found.spindle_um, text("drawing.mandrel"): found.mandrel_um}
    panel = _panel(text("drawing.spindle"), "", "µm", found.position_mm, curves)
    scene = PanelsScene(text("drawing.spindle"), in_words(result), (panel,), grows_left)
    return panels(scene, palette=palette, width=width)


@drawn.register
def _straightedge(
    result: StraightedgeResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False
) -> str:
    found = result.result
    x = found.position_mm
    machine = _off(x, found.machine_um), found.machine_noise_um
    own = _off(x, found.straightedge_um), found.straightedge_noise_um
    stack = [
        Panel(text(key), text("drawing.heights_note"), "µm", (
            Trace("", _tuple(x), _tuple(curve), True, () if noise is None else _tuple(2 * noise)),
        ))
        for key, (curve, noise) in (("drawing.machine_part", machine), ("drawing.straightedge_part", own))
    ]  # fmt: skip
    scene = PanelsScene(text("drawing.machine_part"), in_words(result), tuple(stack), grows_left)
    return panels(scene, palette=palette, width=width)


def _panel(
    heading: str, note: str, unit: str, x: Floats, curves: dict[str, Floats], marks: tuple[Mark, ...] = ()
) -> Panel:
    traces = tuple(
        Trace(name, _tuple(x), _tuple(curve), main=number == 0) for number, (name, curve) in enumerate(curves.items())
    )
    return Panel(heading, note, unit, traces, marks)


def _off(x: Floats, y: Floats) -> Floats:
    return straightness(x, y, "end-points").deviation_um


def _tuple(values: Floats) -> tuple[float, ...]:
    return tuple(float(value) for value in values)
