"""What a manager takes away: the one sentence over all verdicts that bind or inform."""

from __future__ import annotations

from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent, QuantityContent
from waywright.report.saying import MARKS, Saying


def headline(content: ReportContent, say: Saying) -> dict[str, str]:
    """The sentence and its mark: of the lines in their last state, the results beside them, the sheets of tests."""
    judged = [*_of_lines(content, say), *_of_further(content, say), *_of_sheets(content)]
    if not judged:
        return {"words": say.of("report.headline_not_judged"), "mark": ""}
    for verdict, key in (("does-not-conform", "report.headline_fails"), ("undecided", "report.headline_undecided")):
        named = dict.fromkeys(name for name, found in judged if found == verdict)
        if named:
            return {"words": say.of(key, names=", ".join(named)), "mark": MARKS[verdict]}
    key = "report.headline_conforms_one" if len(judged) == 1 else "report.headline_conforms"
    return {"words": say.of(key, tests=len(judged)), "mark": "inside"}


def last_word(content: ReportContent) -> list[tuple[LineContent, QuantityContent]]:
    """Every quantity in its last state: as left where it was measured again, otherwise as found."""
    superseded = {id(before) for _, _, before, _ in content.pairs()}
    return [(line, each) for line in content.lines for each in line.quantities if id(each) not in superseded]


def _of_lines(content: ReportContent, say: Saying) -> list[tuple[str, str]]:
    return [
        (say.word(each.code), each.verdict.verdict)
        for _, each in last_word(content)
        if each.verdict is not None and each.verdict.verdict is not None
    ]


def _of_further(content: ReportContent, say: Saying) -> list[tuple[str, str]]:
    """Results beside the deviations, but for those of a line as found that there are of the line as left too."""
    after = {id(found): {each.kind for each in left.further} for found, left, _, _ in content.pairs()}
    return [
        (say.of(f"report.further.{each.kind}"), each.verdict.verdict)
        for line in content.lines
        for each in line.further
        if each.verdict is not None and each.verdict.verdict is not None and each.kind not in after.get(id(line), ())
    ]


def _of_sheets(content: ReportContent) -> list[tuple[str, str]]:
    """Tests of sheets that were judged; those that are not decided for want of values or of a limit are no verdicts."""
    return [
        (f"{sheet.title} {test.number}", verdict)
        for sheet in content.sheets
        for test in sheet.tests
        if (verdict := test.verdict.replace(" ", "-")) in MARKS
    ]
