"""The pages of the PDF as plain data: words and figures ready to print, drawings as SVG. The template only lays out."""

from __future__ import annotations

from typing import Any

from waywright.drawing import PRINT, CurveScene, Series, WayScene, curve, plain_number, signed, way
from waywright.report.content import FurtherContent, PassContent, QuantityContent, ReportContent
from waywright.report.facts import (
    condition_facts,
    event_sentences,
    instrument_rows,
    job_facts,
    origin_facts,
    setup_facts,
)
from waywright.report.saying import UNITS, Saying, samples_text

PAGE_PX = 660.0
"""Width of drawings: about as many pixels as the type area is wide in points, with letters a little smaller."""

Table = dict[str, Any]


def pages_of(content: ReportContent) -> dict[str, Any]:
    """Everything the template prints, as values that JSON can hold."""
    say = Saying(content)
    return {
        "language": content.language,
        "title": say.of("report.title"),
        "heading": say.heading(),
        "made": content.made_utc.strftime("%Y-%m-%d"),
        "footer": say.of("report.footer", version=content.software_version, made=say.moment(content.made_utc)),
        "page": say.of("report.page"),
        "invented": say.of("report.invented") if content.machine.invented else "",
        "author": content.technician or "",
        "job": job_facts(content),
        "way": _way(content),
        "heroes": [_hero(say, quantity) for quantity in content.quantities],
        "summary": [say.summary(quantity) for quantity in content.quantities],
        "results": _results(content),
        "lines": _lines(content),
        "curves": [_curve(content, quantity) for quantity in content.quantities],
        "further": [_further(say, each) for each in content.further],
        "tables": [_readings(content, each) for each in content.passes],
        "deviations": [_deviations(content, quantity) for quantity in content.quantities],
        "setup": setup_facts(content),
        "conditions": [_named_facts(content, each) for each in content.passes],
        "events": event_sentences(content),
        "instruments": _instruments(content),
        "origin": origin_facts(content),
        "words": {key: say.of(f"report.heading_{key}") for key in _HEADINGS},
        "no_events": say.of("report.no_events"),
    }


_HEADINGS = (
    "summary", "results", "lines", "curves", "deviations", "readings", "setup", "conditions", "events", "instruments",
    "origin", "further",
)  # fmt: skip


def _way(content: ReportContent) -> dict[str, str]:
    main = content.quantities[0]
    scene = WayScene(
        position_mm=main.position_mm,
        deviation=main.deviation,
        quantity=main.code,
        reference=main.chosen.reference,
        zero=content.setup.zero,
        source=content.setup.source,
        tolerance=main.tolerance,
    )
    say = Saying(content)
    svg = way(content.machine, scene, palette=PRINT, width=PAGE_PX, language=content.language)
    return {"svg": svg, "alt": f"{say.of('report.alt_way', machine=content.machine.name)} {say.summary(main)}"}


def _hero(say: Saying, quantity: QuantityContent) -> dict[str, str]:
    best = quantity.chosen
    return {
        "name": say.named(quantity.code),
        "value": plain_number(best.value, 1),
        "unit": UNITS[quantity.code.kind],
        "line": say.of(f"drawing.about.{best.reference}"),
    }


def _curve(content: ReportContent, quantity: QuantityContent) -> dict[str, str]:
    say = Saying(content)
    series = [
        Series(say.pass_name(each.number, each.direction), each.position_mm, each.deviation) for each in quantity.passes
    ]
    if len(series) != 1:
        series.append(Series(say.of("report.mean"), quantity.position_mm, quantity.deviation, mean=True))
    zero = content.setup.zero
    scene = CurveScene(
        tuple(series), say.word(quantity.code), quantity.code.text, say.direction(quantity.on_screen),
        UNITS[quantity.code.kind], say.of(f"drawing.about.{quantity.chosen.reference}"),
        grows_left=zero is not None and zero.sense < 0, tolerance=quantity.tolerance,
    )  # fmt: skip
    svg = curve(scene, palette=PRINT, width=PAGE_PX, height=228.0, language=content.language)
    return {"svg": svg, "alt": f"{say.of('report.alt_curve')} {say.summary(quantity)}"}


def _further(say: Saying, each: FurtherContent) -> dict[str, Any]:
    sentences = [say.said(found) for found in each.said]
    title = say.of(f"report.further.{each.kind}")
    return {"title": title, "sentences": sentences, "svg": each.svg or "", "alt": " ".join([title, *sentences])}


def _results(content: ReportContent) -> Table:
    say = Saying(content)
    head = [say.of(f"report.column_{key}") for key in ("quantity", "positive", "value", "largest", "smallest", "line")]
    return {"head": head, "rows": [_result_row(say, quantity) for quantity in content.quantities]}


def _result_row(say: Saying, quantity: QuantityContent) -> list[str]:
    best = quantity.chosen
    return [
        say.named(quantity.code),
        say.direction(quantity.on_screen),
        f"{plain_number(best.value, 1)} {UNITS[quantity.code.kind]}",
        say.of("report.at", value=signed(best.largest), position_mm=plain_number(best.largest_mm)),
        say.of("report.at", value=signed(best.smallest), position_mm=plain_number(best.smallest_mm)),
        say.reference(best.reference),
    ]


def _lines(content: ReportContent) -> Table:
    """The value about every reference line, the chosen one marked by a word."""
    say = Saying(content)
    rows = []
    for quantity in content.quantities:
        for index, item in enumerate(quantity.values if len(quantity.values) > 1 else ()):
            chosen = f"{say.reference(item.reference)} · {say.of('report.chosen')}" if index == 0 else ""
            rows.append([
                say.named(quantity.code), chosen or say.reference(item.reference),
                f"{plain_number(item.value, 1)} {UNITS[quantity.code.kind]}",
                signed(item.largest), signed(item.smallest),
            ])  # fmt: skip
    head = [say.of(f"report.column_{key}") for key in ("quantity", "line", "value", "largest", "smallest")]
    return {"head": head, "rows": rows}


def _deviations(content: ReportContent, quantity: QuantityContent) -> dict[str, Any]:
    say = Saying(content)
    title = say.of(
        "report.deviations_title", quantity=say.named(quantity.code),
        line=say.of(f"drawing.about.{quantity.chosen.reference}"),
        unit=UNITS[quantity.code.kind], direction=say.direction(quantity.on_screen),
    )  # fmt: skip
    pairs = zip(quantity.position_mm, quantity.deviation, strict=True)
    unit = UNITS[quantity.code.kind]
    return {
        "title": title,
        "unit": unit,
        "rows": [[plain_number(place, 1), signed(value, 2)] for place, value in pairs],
    }


def _readings(content: ReportContent, each: PassContent) -> Table:
    say = Saying(content)
    head = [say.of("report.column_position")]
    for column in each.profile.columns:
        head += [f"{say.named(column.code)} {UNITS[column.code.kind]}", say.of("report.column_sd")]
    head += [say.of("report.column_direction"), "n"]
    rows = [_reading_row(say, each, row) for row in range(each.profile.position_mm.size)]
    return {"title": say.pass_name(each.number, each.direction), "head": head, "rows": rows}


def _reading_row(say: Saying, each: PassContent, row: int) -> list[str]:
    cells = [plain_number(float(each.profile.position_mm[row]), 1)]
    for column in each.profile.columns:
        cells += [
            signed(float(column.screen[row]), 2),
            plain_number(float(column.standard_deviation[row]), 2),
        ]
    direction = each.profile.direction[row] if each.profile.direction else None
    return [*cells, say.of(f"report.direction.{direction}") if direction else "–", samples_text(each, row)]


def _named_facts(content: ReportContent, each: PassContent) -> dict[str, Any]:
    title = Saying(content).pass_name(each.number, each.direction)
    return {"title": title, "facts": condition_facts(content, each)}


def _instruments(content: ReportContent) -> Table:
    say = Saying(content)
    keys = ("instrument", "serial", "certificate", "due", "description")
    return {"head": [say.of(f"report.column_{key}") for key in keys], "rows": instrument_rows(content)}
