"""The readings of a report as a readings table, ISO signs, every pass."""

from __future__ import annotations

from typing import Any

import numpy as np

from waywright.files import ReadingsTable
from waywright.quantities import positive_direction
from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent, PassContent
from waywright.report.saying import Saying

TABLE_NAME = "readings.csv"


def line_table(content: ReportContent, line: LineContent) -> ReadingsTable:
    """All readings of a line that hold, pass after pass; a quantity that a pass does not have is NaN there."""
    codes = list(dict.fromkeys(c.code.text for each in line.passes for c in each.profile.columns))
    samples = {code: _joined(line, code, "samples", 0.0).astype(np.int64) for code in codes}
    alike = len({tuple(counts) for counts in samples.values()}) == 1
    return ReadingsTable(
        position_mm=np.concatenate([each.profile.position_mm for each in line.passes]),
        columns={code: _joined(line, code, "iso", np.nan) for code in codes},
        pass_number=np.repeat([each.number for each in line.passes], [_size(each) for each in line.passes]),
        direction=tuple(place for each in line.passes for place in _directions(each)),
        standard_deviation={code: _joined(line, code, "standard_deviation", np.nan) for code in codes},
        samples=samples[codes[0]] if alike else None,
        samples_of={} if alike else samples,
        metadata=_metadata(content, line),
    )


def _size(each: PassContent) -> int:
    return int(each.profile.position_mm.size)


def _directions(each: PassContent) -> tuple[str | None, ...]:
    return each.profile.direction or (None,) * _size(each)


def _joined(line: LineContent, code: str, field: str, missing: float) -> np.ndarray[Any, np.dtype[np.float64]]:
    parts = []
    for each in line.passes:
        column = each.profile.column(code)
        parts.append(
            np.full(_size(each), missing) if column is None else np.asarray(getattr(column, field), dtype=float)
        )
    return np.concatenate(parts)


def _metadata(content: ReportContent, line: LineContent) -> dict[str, str]:
    say, machine = Saying(content), content.machine
    notes = {
        "machine": f"{machine.kind} {machine.name}",
        "line": line.line.name,
        "state": line.line.state,
        "made": content.made_utc.isoformat(timespec="seconds"),
        "software": f"Waywright {content.software_version}",
        "algorithm": content.algorithm_version,
    }
    if machine.invented:
        notes["invented"] = "yes"
    notes |= {"up": machine.axes.up, "operator": machine.axes.operator}
    notes |= _places(line)
    left_out = [f"pass {each.pass_number}, {each.position_mm:g} mm, {each.reason}" for each in line.excluded]
    notes["excluded"] = "; ".join(left_out)
    for quantity in line.quantities:
        positive = say.direction(positive_direction(quantity.code, machine.axes))
        notes[quantity.code.text] = say.of("report.iso_sign", word=say.word(quantity.code), direction=positive)
    for each in line.passes:
        if each.last_hash:
            notes[f"pass {each.number} last reading sha256"] = each.last_hash
    return {key: " ".join(value.split()) for key, value in notes.items()}


def _places(line: LineContent) -> dict[str, str]:
    """What ties positions to the bed, so that the table alone is enough to plan from."""
    zero, source = line.setup.zero, line.setup.source
    notes: dict[str, str] = {}
    if zero is not None:
        notes |= {"zero mark": zero.mark, "zero offset mm": f"{zero.offset_mm:g}"}
        notes["positions grow"] = "left" if zero.sense < 0 else "right"
    if source is not None and source.on == "bed" and source.bed_mm is not None:
        notes["source on bed mm"] = f"{source.bed_mm:g}"
    return notes
