"""The pages of one line: results about each reference line, curves, budget, readings, set-up, conditions."""

from __future__ import annotations

from typing import Any

from waywright.drawing import plain_number, signed
from waywright.report.content import ReportContent
from waywright.report.content_line import FurtherContent, LineContent, PassContent, QuantityContent, UncertaintyContent
from waywright.report.facts import condition_facts, line_facts, setup_facts
from waywright.report.pictures import budget_picture, curve_picture
from waywright.report.saying import UNITS, Saying, samples_text
from waywright.report.verdict_words import stated_sentences, verdict_sentence

Table = dict[str, Any]


def line_pages(content: ReportContent, line: LineContent) -> dict[str, Any]:
    """Everything the template prints about one line."""
    say = Saying(content)
    return {
        "title": say.line_name(line),
        "facts": line_facts(content, line),
        "summary": [say.summary(line, quantity) for quantity in line.quantities],
        "results": _results(content, line),
        "verdicts": [verdict_sentence(say, each) for each in line.quantities if each.verdict],
        "lines": _lines(content, line),
        "curves": [curve_picture(content, line, quantity) for quantity in line.quantities],
        "uncertainty": [_uncertainty(content, line, each) for each in line.quantities if each.uncertainty],
        "further": [further_part(say, each) for each in line.further],
        "tables": [_readings(content, each) for each in line.passes],
        "deviations": [_deviations(content, quantity) for quantity in line.quantities],
        "setup": setup_facts(content, line),
        "conditions": [_named_facts(content, each) for each in line.passes],
    }


def further_part(say: Saying, each: FurtherContent) -> dict[str, Any]:
    """A further result: its sentences, figures, what it rests on, its drawing."""
    sentences = [*(say.said(found) for found in each.said), *stated_sentences(say, each)]
    title = say.of(f"report.further.{each.kind}")
    rows = [
        [
            say.of(row.key, **row.facts),
            "–" if row.value is None else f"{plain_number(row.value, row.decimals)} {row.unit}",
        ]
        for row in each.rows
    ]
    return {
        "title": title if each.remark is None else f"{title}: {each.remark}",
        "sentences": sentences,
        "rows": rows,
        "basis": " ".join(say.said(found) for found in each.basis),
        "svg": each.svg or "",
        "alt": " ".join([title, *sentences]),
    }


def with_uncertainty(quantity: QuantityContent, decimals: int = 1) -> str:
    """``12.3 µm (11.0 to 13.9)``, or the value alone.

    Not plus and minus: noise makes largest minus smallest larger, so the interval does not lie about the value.
    """
    unit, found = UNITS[quantity.code.kind], quantity.uncertainty
    value = plain_number(quantity.chosen.value, decimals)
    if found is None:
        return f"{value} {unit}"
    low, high = (plain_number(edge, decimals) for edge in found.interval)
    return f"{value} {unit} ({low}\N{EN DASH}{high})"


def _results(content: ReportContent, line: LineContent) -> Table:
    say = Saying(content)
    head = [say.of(f"report.column_{key}") for key in ("quantity", "positive", "value", "largest", "smallest", "line")]
    return {"head": head, "rows": [_result_row(say, quantity) for quantity in line.quantities]}


def _result_row(say: Saying, quantity: QuantityContent) -> list[str]:
    best = quantity.chosen
    return [
        say.named(quantity.code),
        say.direction(quantity.on_screen),
        with_uncertainty(quantity),
        say.of("report.at", value=signed(best.largest), position_mm=plain_number(best.largest_mm)),
        say.of("report.at", value=signed(best.smallest), position_mm=plain_number(best.smallest_mm)),
        say.reference(best.reference),
    ]


def _lines(content: ReportContent, line: LineContent) -> Table:
    """The value about every reference line, the chosen one marked by a word."""
    say = Saying(content)
    rows = []
    for quantity in line.quantities:
        for index, item in enumerate(quantity.values if len(quantity.values) > 1 else ()):
            chosen = f"{say.reference(item.reference)} · {say.of('report.chosen')}" if index == 0 else ""
            rows.append([
                say.named(quantity.code), chosen or say.reference(item.reference),
                f"{plain_number(item.value, 1)} {UNITS[quantity.code.kind]}",
                signed(item.largest), signed(item.smallest),
            ])  # fmt: skip
    head = [say.of(f"report.column_{key}") for key in ("quantity", "line", "value", "largest", "smallest")]
    return {"head": head, "rows": rows}


def _uncertainty(content: ReportContent, line: LineContent, quantity: QuantityContent) -> dict[str, Any]:
    say, found, unit = Saying(content), quantity.uncertainty, UNITS[quantity.code.kind]
    assert found is not None
    picture = budget_picture(content, line, quantity)
    head = [
        say.of(f"report.column_{key}")
        for key in ("contribution", "value", "distribution", "freedom", "sensitivity", "contributes", "budget_source")
    ]
    rows = [
        [
            say.contribution(row.name), f"{_short(row.value)} {row.unit}", say.distribution(row.distribution),
            _short(row.degrees_of_freedom), _short(row.sensitivity),
            f"{plain_number(row.contribution, 2)} {unit}", say.budget_source(row.source),
        ]
        for row in found.rows
    ]  # fmt: skip
    return {
        "title": say.of("report.uncertainty_title", quantity=say.named(quantity.code)),
        "said": _stated_sentences(say, quantity, found),
        "head": head,
        "rows": rows,
        "svg": "" if picture is None else picture["svg"],
        "alt": "" if picture is None else picture["alt"],
    }


def _stated_sentences(say: Saying, quantity: QuantityContent, found: UncertaintyContent) -> list[str]:
    unit = UNITS[quantity.code.kind]
    low, high = found.interval
    said = [
        say.of(
            "report.stated", value=plain_number(quantity.chosen.value, 1), expanded=plain_number(found.expanded, 1),
            low=plain_number(low, 1), high=plain_number(high, 1), best=plain_number(found.best, 1), unit=unit,
            probability=found.probability, k=found.coverage_factor, budget=say.budget(found.budget),
        )
    ]  # fmt: skip
    if found.noise_floor is not None and found.noise_floor_95 is not None:
        facts = {"floor": plain_number(found.noise_floor, 1), "upper": plain_number(found.noise_floor_95, 1)}
        said.append(say.of("report.noise_floor", unit=unit, **facts))
    return said


def _short(value: float) -> str:
    """A figure of a budget: three digits, infinity as its sign."""
    if value == float("inf"):
        return "∞"
    digits = 0 if abs(value) >= 100 else 1 if abs(value) >= 10 else 2 if abs(value) >= 1 else 3
    return plain_number(value, digits)


def _deviations(content: ReportContent, quantity: QuantityContent) -> dict[str, Any]:
    say = Saying(content)
    unit, found = UNITS[quantity.code.kind], quantity.uncertainty
    title = say.of(
        "report.deviations_title", quantity=say.named(quantity.code),
        line=say.of(f"drawing.about.{quantity.chosen.reference}"),
        unit=unit, direction=say.direction(quantity.on_screen),
    )  # fmt: skip
    ribbon = found.ribbon if found is not None and found.ribbon else None
    rows = [
        [plain_number(place, 1), signed(value, 2), *([] if ribbon is None else [plain_number(ribbon[index], 2)])]
        for index, (place, value) in enumerate(zip(quantity.position_mm, quantity.deviation, strict=True))
    ]
    head = ["mm", unit, *([] if ribbon is None else ["U"])]
    return {"title": title, "head": head, "rows": rows}


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
