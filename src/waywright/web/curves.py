"""Curves and results of a line as the Judge page shows them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from waywright.drawing import VARIABLES, CurveScene, Series, curve
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.measured import MeasuredLine, joined, on_screen
from waywright.machine import Machine
from waywright.quantities import Code, code, screen_direction
from waywright.readings.records import Floats
from waywright.web.display import amount, deviation, display, drawn_units, place, place_unit, unit_for
from waywright.web.saying import REFERENCES, direction_word, pass_words, unit_of, word_of
from waywright.web.scenes import about
from waywright.wording import text

BROAD_PX, NARROW_PX = 680.0, 400.0
_FEWEST = 3


def judged(measured: MeasuredLine, running: bool) -> MeasuredLine:
    """The passes that a result can rest on now: ended ones, or the only one while it still runs."""
    enough = [single for single in measured.passes if len(single.readings) >= _FEWEST]
    ended = [single for single in enough if not running or single.taken.outcome is not None]
    return replace(measured, passes=tuple(ended or enough))


def curve_of(
    measured: MeasuredLine, quantity: Code, reference: str, tolerance_um: float | None, earlier: MeasuredLine | None
) -> dict[str, str]:
    """The curves of a quantity, broad and narrow, by name of their width."""
    scene = _scene(measured, quantity, reference, tolerance_um, earlier)
    return {
        name: curve(
            scene,
            palette=VARIABLES,
            width=width,
            height=300.0,
            language=display().language,
            ident=f"curve-{quantity.text}-{name}",
        )
        for name, width in (("broad", BROAD_PX), ("narrow", NARROW_PX))
    }


def _scene(
    measured: MeasuredLine, quantity: Code, reference: str, tolerance_um: float | None, earlier: MeasuredLine | None
) -> CurveScene:
    series = list(_series(measured, quantity, reference))
    if earlier is not None and quantity.text in earlier.codes():
        mean = joined(earlier, quantity.text)
        name = text(
            "web.earlier", day=f"{earlier.visit.began_utc:%Y-%m-%d}", state=text(f"web.state.{earlier.line.state}")
        )
        series.insert(0, _one(name, mean.position_mm, mean.mean, quantity, reference))
    zero = measured.passes[-1].setup.zero
    chosen = reference if quantity.is_straightness else "none"
    return CurveScene(
        tuple(series),
        word_of(quantity, measured.machine),
        quantity.text,
        direction_word(screen_direction(quantity, measured.machine.axes)),
        unit_of(quantity),
        text(f"drawing.about.{chosen}"),
        grows_left=zero is not None and zero.sense < 0,
        tolerance=tolerance_um * unit_for(quantity).per if tolerance_um and quantity.is_straightness else None,
        decimals=unit_for(quantity).decimals,
        place=drawn_units().place,
    )


def _series(measured: MeasuredLine, quantity: Code, reference: str) -> Iterator[Series]:
    for single in measured.passes:
        yield _one(
            pass_words(single), single.profile.position_mm, on_screen(single, quantity.text), quantity, reference
        )
    if len(measured.passes) > 1:
        mean = joined(measured, quantity.text)
        yield replace(_one(text("web.mean"), mean.position_mm, mean.mean, quantity, reference), mean=True)


def _one(name: str, position_mm: Floats, value: Floats, quantity: Code, reference: str) -> Series:
    _, about_line = about(position_mm, value, reference if quantity.is_straightness else "none")
    shown = about_line * unit_for(quantity).per
    return Series(name, tuple(position_mm.tolist()), tuple(shown.tolist()))


def reversal_words(measured: MeasuredLine, quantity: Code) -> str:
    """The largest difference between forward and backward, offsets apart; nothing where there is one direction only."""
    if len(measured.passes) < 2:
        return ""
    mean = joined(measured, quantity.text)
    reversal = mean.reversal - np.nanmean(mean.reversal) if np.isfinite(mean.reversal).any() else mean.reversal
    if not np.isfinite(reversal).any():
        return ""
    at = int(np.nanargmax(np.abs(reversal)))
    return text(
        "web.reversal",
        word=word_of(quantity, measured.machine),
        value=deviation(quantity, float(reversal[at])),
        unit=unit_of(quantity),
        place=f"{place(float(mean.position_mm[at]))} {place_unit()}",
    )


def result_heads() -> list[str]:
    """Headings of the table of results."""
    return [
        *(text(f"web.column_{name}") for name in ("quantity", "pass", "largest", "smallest")),
        *(text(f"web.reference.{name}") for name in REFERENCES),
    ]


def result_rows(results: Sequence[StraightnessResult], machine: Machine) -> list[tuple[str, list[str]]]:
    """A row for every quantity and pass; the row of what counts (the mean, or the only pass) has the id "counts"."""
    last = {result.code: result for result in results}
    rows = []
    for result in results:
        passes = text("web.mean_of", passes=result.passes)
        if result.pass_number is not None:
            passes = text("web.pass", number=result.pass_number, direction=text(f"web.{result.direction}"))
        chosen, quantity = result.chosen, code(result.code)
        cells = [
            f"{word_of(quantity, machine)} ({result.code})",
            passes,
            f"{deviation(quantity, chosen.largest_um)} · {place(chosen.largest_at_mm)} {place_unit()}",
            f"{deviation(quantity, chosen.smallest_um)} · {place(chosen.smallest_at_mm)} {place_unit()}",
            *(_value(result, name) for name in REFERENCES),
        ]
        rows.append(("counts" if last[result.code] is result else "", cells))
    return rows


def _value(result: StraightnessResult, name: str) -> str:
    figure = amount(code(result.code), result.by_reference[name].value_um)
    return f"▸ {figure}" if name == result.reference else figure


def local_sentences(results: Sequence[StraightnessResult], machine: Machine) -> list[str]:
    """Local straightness of what counts, or why it is not judged."""
    said = []
    for result in {result.code: result for result in results}.values():
        local = result.local
        if local is None:
            continue
        word = f"{word_of(code(result.code), machine)} ({result.code})"
        if local.reason_key is not None:
            said.append(f"{word}: {text(local.reason_key, **(local.reason_facts or {}))}")
        else:
            facts = {"window_mm": local.window_mm, "value_um": local.value_um, "start_mm": local.start_mm}
            said.append(text("web.local", word=word, **facts))
    return said
