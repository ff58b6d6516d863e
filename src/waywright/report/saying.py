"""Words and figures of a report in its language; PDF and workbook take them from here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from waywright.drawing import plain_number, signed
from waywright.evaluate.results import Reason
from waywright.quantities import Code, Direction, Kind, plain_name
from waywright.report.content import PassContent, QuantityContent, ReportContent
from waywright.visit import PassEvent
from waywright.wording import text
from waywright.wording.said import sentence

UNITS = {Kind.DISPLACEMENT: "µm", Kind.ANGLE: "µm/m"}


@dataclass(frozen=True, slots=True)
class Saying:
    """The voice of one report."""

    content: ReportContent

    def of(self, key: str, **facts: object) -> str:
        """The sentence of a key."""
        return text(key, self.content.language, **facts)

    def said(self, found: Reason) -> str:
        """The sentence of a result."""
        return sentence(found.key, found.facts, self.content.language)

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

    def summary(self, quantity: QuantityContent) -> str:
        """The result of one quantity in a sentence."""
        best, content = quantity.chosen, self.content
        straight = quantity.code.is_straightness and best.reference != "none"
        sentence = self.of(
            "report.summary_straightness" if straight else "report.summary_range",
            word=self.word(quantity.code), code=quantity.code.text, value=plain_number(best.value, 1),
            subject=self.of(f"report.subject.{content.line.subject}", axis=quantity.code.axis),
            unit=UNITS[quantity.code.kind], line=self.of(f"drawing.about.{best.reference}"), basis=self._basis(),
            from_mm=plain_number(min(quantity.position_mm)), to_mm=plain_number(max(quantity.position_mm)),
            stations=len(quantity.position_mm), largest=signed(best.largest), smallest=signed(best.smallest),
            largest_mm=plain_number(best.largest_mm), smallest_mm=plain_number(best.smallest_mm),
            direction=self.direction(quantity.on_screen),
        )  # fmt: skip
        return sentence[0].upper() + sentence[1:]

    def _basis(self) -> str:
        passes = len(self.content.passes)
        return self.of("report.basis_one") if passes == 1 else self.of("report.basis_mean", passes=passes)

    def span(self, began: datetime, ended: datetime | None) -> str:
        """From when to when; the day once where it is the same."""
        if ended is None or ended.date() != began.date():
            return f"{self.moment(began)} – {self.moment(ended)}"
        return f"{began:%Y-%m-%d %H:%M} – {ended:%H:%M} UTC"

    def heading(self) -> str:
        """Machine and line: what this report is about."""
        content = self.content
        state = self.of(f"report.state.{content.line.state}")
        return self.of("report.heading", machine=content.machine.name, line=content.line.name, state=state)


def samples_text(each: PassContent, row: int) -> str:
    """Numbers of samples at a station: one if all quantities agree, otherwise one a quantity; a dash if unknown."""
    counts = [int(column.samples[row]) for column in each.profile.columns]
    shown = [str(count) if count > 0 else "–" for count in counts]
    return shown[0] if len(set(shown)) == 1 else "/".join(shown)
