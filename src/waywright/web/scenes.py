"""What the way drawing shows of a line: a pass as it grows, or the mean of the passes."""

from __future__ import annotations

from waywright.drawing import WayScene
from waywright.evaluate import straightness_by_reference
from waywright.jobs.measured import MeasuredLine, MeasuredPass, joined, on_screen
from waywright.quantities import Code
from waywright.readings.records import Floats
from waywright.visit import SetUp
from waywright.web.state import ARMED, MeasuringState

_FEWEST = 3
"""A line needs two stations; about a line through two of them there is nothing to see."""


def pass_scene(
    single: MeasuredPass | None, quantity: Code | None, reference: str, setup: SetUp | None, now: MeasuringState
) -> WayScene:
    """A pass as measured so far, with the carriage where it stands. During a pass nothing is judged."""
    carriage = now.position_mm
    zero, source = (setup.zero, setup.source) if setup else (None, None)
    if single is None or quantity is None or single.profile.column(quantity.text) is None:
        return WayScene(zero=zero, source=source, carriage_mm=carriage, live=carriage is not None)
    shown, deviation = about(single.profile.position_mm, on_screen(single, quantity.text), reference)
    return WayScene(
        position_mm=tuple(single.profile.position_mm.tolist()),
        deviation=tuple(deviation.tolist()),
        quantity=quantity,
        reference=shown,
        zero=zero,
        source=source,
        carriage_mm=carriage,
        live=carriage is not None,
        again_mm=now.again_mm if now.phase == ARMED else (),
    )


def mean_scene(measured: MeasuredLine, quantity: Code, reference: str, tolerance_um: float | None = None) -> WayScene:
    """The mean of the passes about a reference line."""
    mean = joined(measured, quantity.text)
    shown, deviation = about(mean.position_mm, mean.mean, reference)
    setup = measured.passes[-1].setup
    return WayScene(
        position_mm=tuple(mean.position_mm.tolist()),
        deviation=tuple(deviation.tolist()),
        quantity=quantity,
        reference=shown,
        zero=setup.zero,
        source=setup.source,
        tolerance=tolerance_um if quantity.is_straightness else None,
    )


def about(position_mm: Floats, value_um: Floats, reference: str) -> tuple[str, Floats]:
    """The line the deviations are about and the deviations; as read where there are too few stations for a line."""
    if len(position_mm) < _FEWEST or reference == "none":
        return "none", value_um
    return reference, straightness_by_reference(position_mm, value_um)[reference].deviation_um
