"""The bed in space: both ways with height, side and twist exaggerated, to be turned by hand in the browser."""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from waywright.drawing import plain_number
from waywright.drawing.scale import round_down
from waywright.evaluate import straightness_by_reference
from waywright.jobs.measured import MeasuredLine, joined, positive_on_screen
from waywright.machine import Bed
from waywright.quantities import Direction
from waywright.readings import Floats
from waywright.web.elements import Press, Words, box
from waywright.wording import text

_GAUGE_MM = 600.0
_SHARE = 0.055
"""The largest deviation stands so high, as a part of the length."""


def bed_view(measured: MeasuredLine, reference: str, earlier: MeasuredLine | None) -> None:
    """A sheet with the view; nothing where there is no height. ``earlier`` is drawn pale behind it."""
    shape = _shape(measured, reference)
    if shape is None:
        return
    before = None if earlier is None else _shape(earlier, reference)
    bed = measured.machine.bed
    gauge_mm = _gauge(bed)
    factor = _factor(shape, before, gauge_mm)
    scene = {
        "now": _ways(shape, gauge_mm, factor),
        "before": None if before is None else _ways(before, gauge_mm, factor),
        "length": float(np.ptp(shape["x"])) or 1.0,
        "middle": float((shape["x"].min() + shape["x"].max()) / 2.0),
        "gauge": gauge_mm,
        "supports": _supports(bed, shape, measured),
        "words": {"front": text("judge.front"), "rear": text("judge.rear")},
    }
    with box("sheet", "section"):
        with box("row apart"):
            Words(text("judge.bed_title"), tag="h2")
            with box("row"):
                for turn in ("left", "right", "up", "down"):
                    Press(text(f"judge.turn_{turn}"), classes="quiet")._props["data-turn"] = turn
        place = box("bed-view").props('tabindex="0" role="img"')
        place._props["aria-label"] = _in_words(shape)
        place._props["data-scene"] = json.dumps(scene)
        words = text("judge.bed_words", factor=plain_number(factor), gauge=plain_number(gauge_mm))
        Words(words, "small mute", "p")


def _shape(measured: MeasuredLine, reference: str) -> dict[str, Any] | None:
    """Stations on the bed (or as positions), height and side about their lines in um, roll about its mean in um/m."""
    codes = {positive_on_screen(measured, name): name for name in measured.codes()}
    if Direction.UP not in codes:
        return None
    height = joined(measured, codes[Direction.UP])
    x = height.position_mm
    if x.size < 3:
        return None
    zero = np.zeros(x.size)
    found: dict[str, Any] = {"x": _on_bed(measured, x), "height": _about(x, height.mean, reference)}
    side, roll = codes.get(Direction.TOWARDS), codes.get(Direction.OPERATOR_SIDE_UP)
    found["side"] = _about(x, _at(measured, side, x), reference) if side else zero
    found["roll"] = _at(measured, roll, x) - _at(measured, roll, x).mean() if roll else zero
    return found


def _at(measured: MeasuredLine, name: str | None, x: Floats) -> Floats:
    mean = joined(measured, str(name))
    order = np.argsort(mean.position_mm)
    return np.asarray(np.interp(x, mean.position_mm[order], mean.mean[order]))


def _about(x: Floats, value: Floats, reference: str) -> Floats:
    return np.asarray(straightness_by_reference(x, value)[reference].deviation_um)


def _on_bed(measured: MeasuredLine, x: Floats) -> Floats:
    zero = measured.passes[-1].setup.zero
    mark = next((item for item in measured.machine.marks if zero and item.name == zero.mark), None)
    return x if zero is None or mark is None else mark.bed_mm + zero.offset_mm + zero.sense * x


def _gauge(bed: Bed | None) -> float:
    known = (bed.gauge_mm or bed.row_distance_mm) if bed else None
    return known or _GAUGE_MM


def _lifts(shape: dict[str, Any], gauge_mm: float) -> tuple[Floats, Floats]:
    """Front and rear way in um; the operator's side up is positive."""
    half = shape["roll"] * gauge_mm / 2000.0
    return shape["height"] + half, shape["height"] - half


def _factor(shape: dict[str, Any], before: dict[str, Any] | None, gauge_mm: float) -> float:
    parts = [part for each in (shape, before) if each is not None for part in (*_lifts(each, gauge_mm), each["side"])]
    largest_mm = max(float(np.abs(part).max()) for part in parts) / 1000.0 or 1e-3
    return round_down(_SHARE * (float(np.ptp(shape["x"])) or 1.0) / largest_mm)


def _ways(shape: dict[str, Any], gauge_mm: float, factor: float) -> dict[str, list[list[float]]]:
    """Points (along, up, towards) in mm of both ways, enlarged."""
    front, rear = _lifts(shape, gauge_mm)
    enlarged = factor / 1000.0
    return {
        name: np.column_stack([shape["x"], lift * enlarged, across + shape["side"] * enlarged]).round(1).tolist()
        for name, lift, across in (("front", front, gauge_mm / 2.0), ("rear", rear, -gauge_mm / 2.0))
    }


def _supports(bed: Bed | None, shape: dict[str, Any], measured: MeasuredLine) -> list[dict[str, Any]]:
    zero = measured.passes[-1].setup.zero
    if bed is None or (zero is None and measured.machine.marks):
        return []
    return [{"name": each.name, "x": each.bed_mm, "z": bed.support_across_mm(each)} for each in bed.supports]


def _in_words(shape: dict[str, Any]) -> str:
    return text("judge.bed_label", height=float(np.ptp(shape["height"])), side=float(np.ptp(shape["side"])),
                twist=float(np.ptp(shape["roll"])))  # fmt: skip
