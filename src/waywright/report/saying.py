"""Words and figures of a report in the language spoken; PDF and workbook take them from here."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from waywright.drawing import plain_number, signed
from waywright.evaluate.results import Reason
from waywright.quantities import Code, Direction, Kind, plain_name
from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent, PassContent, QuantityContent
from waywright.visit import PassEvent, Statement
from waywright.wording import ENGLISH, catalogue, text
from waywright.wording.said import sentence

UNITS = {Kind.DISPLACEMENT: "µm", Kind.ANGLE: "µm/m"}
MARKS = {"conforms": "inside", "does-not-conform": "outside", "undecided": "undecided"}
"""The meaning of a verdict in the palette; anything else has no colour."""


@dataclass(frozen=True, slots=True)
class Saying:
    """The voice of one report."""

    content: ReportContent

    def of(self, key: str, **facts: object) -> str:
        """The sentence of a key."""
        return text(key, **facts)

    def said(self, found: Reason | Statement) -> str:
        """The sentence of a result or a kept statement; a figure that was not finite reads as nan."""
        facts: Mapping[str, object] = {name: math.nan if fact is None else fact for name, fact in found.facts.items()}
        return sentence(found.key, facts)

    def word(self, code: Code) -> str:
        """Plain word of a quantity: height, side, roll."""
        name = plain_name(code, self.content.machine.axes)
        return self.of(name.key, **name.facts)

    def named(self, code: Code) -> str:
        """Plain word with its code: ``height (EYZ)``."""
        return f"{self.word(code)} ({code.text})"

    def direction(self, direction: Direction) -> str:
        """A physical direction in words."""
        return self.of(f"quantities.{direction.value}")

    def reference(self, reference: str) -> str:
        """A reference line in words."""
        return self.of(f"report.line.{reference}")

    def known(self, value: str | None) -> str:
        """The value, or that it is not recorded."""
        return value or self.of("report.not_recorded")

    def contribution(self, name: str) -> str:
        """The name of a contribution; one that somebody wrote into a budget of his own stays as written."""
        return self._ready(f"contributions.name.{_slug(name)}", name)

    def budget(self, title: str | None) -> str:
        """The title of a budget; "not recorded" without one."""
        return self.known(title and self._ready(f"contributions.title.{_slug(title)}", title))

    def party(self, word: str) -> str:
        """The side somebody agrees or signs for; one that a file from elsewhere names stays as written."""
        return self._ready(f"report_job.party.{_slug(word)}", word)

    def distribution(self, word: str) -> str:
        """The word for a distribution."""
        return self._ready(f"contributions.distribution.{_slug(word)}", word)

    def budget_source(self, word: str) -> str:
        """Where the value of a contribution came from."""
        return self._ready(f"contributions.source.{_slug(word)}", word)

    def _ready(self, key: str, otherwise: str) -> str:
        return self.of(key) if catalogue(key.partition(".")[0], ENGLISH).get(key) else otherwise

    def pass_name(self, number: int, direction: str) -> str:
        """``pass 1, forward``."""
        return self.of("report.pass_name", number=number, direction=self.of(f"report.direction.{direction}"))

    def moment(self, moment: datetime | None) -> str:
        """A moment in UTC to the minute."""
        return self.known(moment.strftime("%Y-%m-%d %H:%M UTC") if moment else None)

    def event(self, happened: PassEvent) -> str:
        """An event as a sentence."""
        facts = {"position_mm": happened.position_mm, **happened.facts}
        return self.of(happened.key, **facts)

    def line_name(self, each: LineContent) -> str:
        """``carriage Z · as found``."""
        return f"{each.line.name} · {self.of(f'report.state.{each.line.state}')}"

    def with_unit(self, quantity: QuantityContent, value: float, decimals: int = 1) -> str:
        """A value with the unit of its quantity."""
        return f"{plain_number(value, decimals)} {UNITS[quantity.code.kind]}"

    def summary(self, each: LineContent, quantity: QuantityContent) -> str:
        """The result of one quantity in a sentence."""
        best = quantity.chosen
        straight = quantity.code.is_straightness and best.reference != "none"
        found = self.of(
            "report.summary_straightness" if straight else "report.summary_range",
            word=self.word(quantity.code), code=quantity.code.text, value=plain_number(best.value, 1),
            subject=self.of(f"report.subject.{each.line.subject}", axis=quantity.code.axis),
            unit=UNITS[quantity.code.kind], line=self.of(f"drawing.about.{best.reference}"), basis=self._basis(each),
            from_mm=plain_number(min(quantity.position_mm)), to_mm=plain_number(max(quantity.position_mm)),
            stations=len(quantity.position_mm), largest=signed(best.largest), smallest=signed(best.smallest),
            largest_mm=plain_number(best.largest_mm), smallest_mm=plain_number(best.smallest_mm),
            direction=self.direction(quantity.on_screen),
        )  # fmt: skip
        return found[0].upper() + found[1:]

    def _basis(self, each: LineContent) -> str:
        passes = len(each.passes)
        return self.of("report.basis_one") if passes == 1 else self.of("report.basis_mean", passes=passes)

    def span(self, began: datetime, ended: datetime | None) -> str:
        """From when to when; the day once where it is the same."""
        if ended is None or ended.date() != began.date():
            return f"{self.moment(began)} – {self.moment(ended)}"
        return f"{began:%Y-%m-%d %H:%M} – {ended:%H:%M} UTC"

    def heading(self) -> str:
        """Machine and lines: what this report is about."""
        content = self.content
        states = list(dict.fromkeys(each.line.state for each in content.lines))
        names = list(dict.fromkeys(each.line.name for each in content.lines))
        state = " · ".join(self.of(f"report.state.{state}") for state in states)
        return self.of("report.heading", machine=content.machine.name, line=_few(names), state=state)


def samples_text(each: PassContent, row: int) -> str:
    """Numbers of samples at a station: one if all quantities agree, otherwise one a quantity; a dash if unknown."""
    counts = [int(column.samples[row]) for column in each.profile.columns]
    shown = [str(count) if count > 0 else "–" for count in counts]
    return shown[0] if len(set(shown)) == 1 else "/".join(shown)


def _slug(words: str) -> str:
    """Words as the end of a key: small letters and digits, hyphens between."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")


def _few(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= 2 else f"{names[0]} … {names[-1]}"
