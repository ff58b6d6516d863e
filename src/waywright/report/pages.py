"""The pages of the PDF as plain data: words and figures ready to print, drawings as SVG. The template only lays out."""

from __future__ import annotations

from typing import Any

from waywright.drawing import plain_number
from waywright.report.bilingual import side_by_side
from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent, QuantityContent
from waywright.report.facts import event_sentences, instrument_rows, job_facts, origin_facts
from waywright.report.facts_job import (
    evidence_rows,
    issue_facts,
    note_parts,
    on_the_spot_parts,
    plan_facts,
    plan_rows,
    round_parts,
    signature_parts,
)
from waywright.report.facts_sheets import sheet_parts
from waywright.report.headline import headline, last_word
from waywright.report.pages_line import line_pages
from waywright.report.pictures import bed_picture, overlay_picture, way_picture
from waywright.report.saying import MARKS, UNITS, Saying
from waywright.wording import speaking

LANGUAGES = ("en", "de", "en+de")
PAPERS = ("a4", "us-letter")

_HEADINGS = (
    "summary", "results", "lines", "curves", "deviations", "readings", "setup", "conditions", "events", "instruments",
    "origin", "further", "plan", "evidence", "rounds", "notes", "signatures", "issue", "spot", "uncertainty", "overlay",
    "seen", "told", "confirmed", "sheets",
)  # fmt: skip


def pages_of(content: ReportContent) -> dict[str, Any]:
    """Everything the template prints, as values that JSON can hold, in the language of the report."""
    made = []
    for language in content.language.split("+"):
        with speaking(language):
            made.append(_pages(content) | {"language": language})
    pages: dict[str, Any] = made[0] if len(made) == 1 else side_by_side(made[0], made[1])
    return pages | {"paper": content.paper}


def _pages(content: ReportContent) -> dict[str, Any]:
    say = Saying(content)
    bed = bed_picture(content)
    return {
        "title": say.of("report.title"),
        "heading": say.heading(),
        "footer": say.of("report.footer", version=content.software_version, made=say.moment(content.made_utc)),
        "number": _number(content, say),
        "page": say.of("report.page"),
        "invented": say.of("report.invented") if content.machine.invented else "",
        "author": content.technician or "",
        "headline": headline(content, say),
        "tests": [row for line in content.lines for row in _tests(content, say, line)],
        "tests_head": [say.of(f"report.column_{key}") for key in ("quantity", "value", "allowed", "verdict")],
        "way": way_picture(content),
        "bed": [] if bed is None else [bed],
        "overlays": [overlay_picture(content, *pair) for pair in content.pairs()],
        "job": job_facts(content),
        "issue": issue_facts(content),
        "lines": [line_pages(content, line) for line in content.lines],
        "plan": {"facts": plan_facts(content), **_table(plan_rows(content))},
        "evidence": _table(evidence_rows(content)),
        "rounds": round_parts(content),
        "notes": note_parts(content),
        "spot": on_the_spot_parts(content),
        "sheets": sheet_parts(content),
        "signatures": signature_parts(content),
        "events": event_sentences(content),
        "instruments": _instruments(content),
        "origin": origin_facts(content),
        "words": {key: say.of(f"report.heading_{key}") for key in _HEADINGS},
        "no_events": say.of("report.no_events"),
        "no_evidence": say.of("report.no_evidence"),
    }


def _table(head_and_rows: tuple[list[str], list[list[str]]]) -> dict[str, Any]:
    head, rows = head_and_rows
    return {"head": head, "rows": rows}


def _number(content: ReportContent, say: Saying) -> str:
    issue = content.issue
    if issue.number is None:
        return say.of("report.draft_number")
    key = "report.number_unsigned" if issue.draft else "report.number"
    return say.of(key, number=issue.number, revision=issue.revision)


def _tests(content: ReportContent, say: Saying, line: LineContent) -> list[dict[str, str]]:
    """One row of the first page a quantity, in its last state, with what it was before."""
    last = {id(each) for _, each in last_word(content)}
    before = {id(after): found for _, left, found, after in content.pairs() if left is line}
    return [_test(content, say, line, each, before.get(id(each))) for each in line.quantities if id(each) in last]


def _test(
    content: ReportContent, say: Saying, line: LineContent, each: QuantityContent, found: QuantityContent | None
) -> dict[str, str]:
    verdict = each.verdict
    name = None if verdict is None else verdict.verdict
    was = "" if found is None else say.of("report.was", value=say.with_unit(found, found.chosen.value))
    where = say.line_name(line) if len(content.lines) > 1 else ""
    return {
        "name": say.named(each.code),
        "where": " · ".join(part for part in (where, was) if part),
        "value": plain_number(each.chosen.value, 1),
        "unit": UNITS[each.code.kind],
        "interval": _interval(say, each),
        "line": say.of(f"drawing.about.{each.chosen.reference}"),
        "allowed": _allowed(say, each),
        "verdict": say.of(f"report.verdict.{name}") if name else _not_judged(say, each),
        "mark": MARKS.get(name or "", ""),
        "standing": _standing(say, each),
    }


def _interval(say: Saying, each: QuantityContent) -> str:
    """Where the true value lies."""
    found = each.uncertainty
    if found is None:
        return ""
    low, high = (plain_number(edge, 1) for edge in found.interval)
    return say.of("report.true_value", probability=found.probability, low=low, high=high)


def _allowed(say: Saying, each: QuantityContent) -> str:
    verdict = each.verdict
    if verdict is None:
        return ""
    if verdict.limit is None:
        return say.of("report.rule_is", rule=verdict.rule)
    return say.of("report.allowed", limit=say.with_unit(each, verdict.limit), rule=verdict.rule)


def _not_judged(say: Saying, each: QuantityContent) -> str:
    if each.verdict is None:
        return say.of("report.no_tolerance")
    if each.verdict.holds is None:
        return say.of("report.not_judged")
    return say.of("report.rule_holds" if each.verdict.holds else "report.rule_broken")


def _standing(say: Saying, each: QuantityContent) -> str:
    """How sure, and whether it binds anybody; the reasons stand with the line."""
    verdict = each.verdict
    if verdict is None:
        return ""
    chance = ""
    if verdict.probability_of_conformity is not None:
        chance = say.of("report.probability", probability=verdict.probability_of_conformity)
    info = "" if verdict.binding else say.of("report.information_only")
    return " ".join(part for part in (chance, info) if part)


def _instruments(content: ReportContent) -> dict[str, Any]:
    say = Saying(content)
    keys = ("instrument", "serial", "certificate", "due", "description")
    return {"head": [say.of(f"report.column_{key}") for key in keys], "rows": instrument_rows(content)}
