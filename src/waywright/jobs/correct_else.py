"""Remedies of a kept line that no support can give: scraping, a table for the controller, shims."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from waywright.correct.remedies import CompensationTable, ScrapingMap, compensation_table, scraping_map
from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.files import ReadingsTable, read_table
from waywright.jobs.judge import joined_table
from waywright.jobs.measured import MeasuredLine, joined, positive_on_screen
from waywright.quantities import Direction, code, iso_sign
from waywright.readings import Floats

_FOIL = re.compile(r"\s*(\d+)\s*(?:[x×]\s*(\d+))?\s*")


def scraping_of_line(measured: MeasuredLine, goal_um: float, width_mm: float) -> ScrapingMap:
    """What to take off at each station so that the height keeps a goal. Raises BadInput where there is no height."""
    codes = {positive_on_screen(measured, name): name for name in measured.codes()}
    if Direction.UP not in codes:
        raise BadInput("jobs.no_height", file=measured.line.name, columns=", ".join(measured.codes()) or "-")
    mean = joined(measured, codes[Direction.UP])
    bed = measured.machine.bed
    return scraping_map(
        mean.position_mm, mean.mean, goal_um, width_mm, [each.bed_mm for each in bed.joints] if bed else ()
    )


def compensation_of_line(measured: MeasuredLine, quantity: str, spacing_mm: float) -> CompensationTable:
    """A neutral table from all passes, deviations about the least-squares line in the ISO sign."""
    mean = joined(measured, quantity)
    side = measured.passes[-1].setup.detector_side or "tool"
    sign = iso_sign(code(quantity), positive_on_screen(measured, quantity), measured.machine.axes, side)
    order = np.argsort(mean.position_mm)
    x, each = mean.position_mm[order], sign * np.asarray(mean.each)[:, order]
    return compensation_table(quantity, x, _about_line(x, each), spacing_mm)


def scraping_of_table(
    file: Path, goal_um: float, width_mm: float, column: str | None = None, joints_mm: Sequence[float] = ()
) -> ScrapingMap:
    """The same for a table whose larger values are more metal. Raises BadInput for a column that it does not have."""
    name, passes = _column_of(file, column)
    mean = joined_table(passes, name)
    return scraping_map(mean.position_mm, mean.mean, goal_um, width_mm, joints_mm)


def compensation_of_table(file: Path, spacing_mm: float, column: str | None = None) -> CompensationTable:
    """A neutral table from the passes of a readings table, deviations about the least-squares line in the ISO sign."""
    name, passes = _column_of(file, column)
    mean = joined_table(passes, name)
    order = np.argsort(mean.position_mm)
    x, each = mean.position_mm[order], np.asarray(mean.each)[:, order]
    return compensation_table(name, x, _about_line(x, each), spacing_mm)


def _about_line(x: Floats, each: Floats) -> Floats:
    """Deviations (stations, passes) of all passes about the least-squares line of their mean."""
    return (each - straightness(x, each.mean(axis=0)).line.at(x)).T


def _column_of(file: Path, column: str | None) -> tuple[str, Sequence[ReadingsTable]]:
    """The column asked for, or the only straightness. Raises BadInput where it is not clear which."""
    table = read_table(file)
    straight = [name for name in table.columns if code(name).is_straightness]
    wanted = [column] if column in table.columns else [] if column else straight
    if len(wanted) != 1 or wanted[0] is None:
        raise BadInput("adjust.which_column", file=str(file), columns=", ".join(table.columns) or "-")
    return wanted[0], table.passes()


def stock_of(words: str) -> tuple[tuple[int, int], ...]:
    """Foils at hand from "50 x 4, 20 x 10, 5": thickness in um and number. Raises BadInput for anything else."""
    found = []
    for part in filter(str.strip, words.replace(";", ",").split(",")):
        match = _FOIL.fullmatch(part)
        if match is None:
            raise BadInput("jobs.bad_stock", part=part.strip())
        found.append((int(match[1]), int(match[2] or 1)))
    return tuple(found)
