"""Straightness of a table or a line in sentences and as a drawing; registers with ``told`` and ``drawn``."""

from __future__ import annotations

from waywright.drawing import LIGHT, Palette
from waywright.drawing.panels import Panel, PanelsScene, Trace, panels
from waywright.evaluate.results import Reason
from waywright.jobs.drawn import drawn, in_words
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.told import Told, told
from waywright.wording import text

__all__ = ["drawn", "told"]


@told.register
def _told(result: StraightnessResult) -> Told:
    best, three = result.chosen, {name: result.by_reference[name].value_um for name in _THREE}
    facts = {name.replace("-", "_"): value for name, value in three.items()}
    said = [
        Reason("results.straight", {
            "code": result.code, "value_um": best.value_um, "reference_key": f"results.line.{result.reference}",
            "largest": best.largest_um, "largest_mm": best.largest_at_mm, "smallest": best.smallest_um,
            "smallest_mm": best.smallest_at_mm, "stations": result.stations, **facts,
        }),
    ]  # fmt: skip
    local = result.local
    if local is not None and local.reason_key is not None:
        said.append(Reason(local.reason_key, local.reason_facts or {}))
    elif local is not None:
        said.append(
            Reason("results.straight_local", {
                "value_um": local.value_um, "window_mm": local.window_mm, "start_mm": local.start_mm
            })
        )  # fmt: skip
    return (*said, *([] if result.flip is None or result.flip.reason is None else [result.flip.reason]))


@drawn.register
def _drawn(result: StraightnessResult, palette: Palette = LIGHT, width: float = 760.0, grows_left: bool = False) -> str:
    trace = Trace("", tuple(result.position_mm.tolist()), tuple(result.deviation_um.tolist()), main=True)
    name = text("drawing.mean") if result.pass_number is None else ""
    about = text(f"drawing.about.{result.reference}")
    panel = Panel(" ".join(filter(None, (result.code, name))), about, "µm", (trace,))
    scene = PanelsScene(result.code, in_words(result), (panel,), grows_left)
    return panels(scene, palette=palette, width=width)


_THREE = ("end-points", "least-squares", "minimum-zone")
