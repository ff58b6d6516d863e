"""Verdicts and true values of a report in words."""

from __future__ import annotations

from waywright.drawing import plain_number
from waywright.report.content_line import FurtherContent, QuantityContent, VerdictContent
from waywright.report.saying import Saying


def stated_sentences(say: Saying, each: FurtherContent) -> list[str]:
    """Where the true value of a further result lies, and its verdict; nothing where neither was stated."""
    said = []
    if each.uncertainty is not None:
        low, high = (plain_number(edge, 1) for edge in each.uncertainty.interval)
        value = say.of("report.true_value", probability=each.uncertainty.probability, low=low, high=high)
        said.append(f"{value[0].upper()}{value[1:]} {each.unit} ({say.budget(each.uncertainty.budget)}).")
    if each.verdict is not None:
        said.append(_verdict(say, say.of(f"report.further.{each.kind}"), each.verdict))
    return said


def verdict_sentence(say: Saying, each: QuantityContent) -> str:
    """The verdict of a quantity with its rule, where that comes from, who has to prove, and why it may not bind."""
    return "" if each.verdict is None else _verdict(say, say.named(each.code), each.verdict)


def _verdict(say: Saying, quantity: str, verdict: VerdictContent) -> str:
    word = say.of(f"report.verdict.{verdict.verdict}") if verdict.verdict else say.of("report.not_judged")
    said = [
        say.of("report.judged", quantity=quantity, rule=verdict.rule, verdict=word),
        *([say.of("report.rule_source", source=verdict.source)] if verdict.source else []),
        *([say.of(f"verdict.burden_{verdict.burden}")] if verdict.burden else []),
        *([] if verdict.binding else [say.of("report.information_only")]),
        *([say.said(verdict.why_not_binding)] if verdict.why_not_binding else []),
        *(say.said(reason) for reason in verdict.reasons),
    ]
    return " ".join(said)
