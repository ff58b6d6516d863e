"""A pass in the terminal: a line for every reading and event, and below them what happens now."""

from __future__ import annotations

from types import TracebackType
from typing import TYPE_CHECKING, Self

from waywright.cli.show import console, signed
from waywright.quantities import Code, plain_name
from waywright.visit import interpreted
from waywright.wording import text

if TYPE_CHECKING:
    from rich.text import Text

    from waywright.capture import Live
    from waywright.jobs.begin import Begun
    from waywright.readings import Reading, StreamBlock
    from waywright.visit import Column, Pass, PassEvent

_BAR = 32  # so that bar, place and words fit into 80 columns
_INDENT = 5


class PassView:
    """A listener and watcher of a pass; used as a context manager around it."""

    def __init__(self, *, quiet: bool = False) -> None:
        from rich.live import Live as Bottom

        self._console = console()
        self._console.quiet = quiet
        self._bottom = Bottom(console=self._console, refresh_per_second=8, transient=True)
        self._begun: Begun | None = None
        self._taken = 0

    def __enter__(self) -> Self:
        self._bottom.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._bottom.stop()

    def say(self, sentence: str) -> None:
        """A sentence above what happens now."""
        self._console.print(sentence)

    def measures(self, begun: Begun) -> None:
        """What is going to be measured."""
        self._begun = begun
        machine = begun.machine
        unknown = (None, "", text("report.not_recorded"))
        known = [word for word in (machine.owner, machine.kind, machine.name) if word not in unknown]
        self._console.print(f"[bold]{' '.join(known)}[/bold], {begun.line.name} ({begun.line.axis})")
        self._console.print(text("cli.laser"))
        if columns := _columns(begun):
            directions = ", ".join(f"{c.code.text} {text(f'quantities.{c.on_screen.value}')}" for c in columns)
            self._console.print(text("cli.signs", directions=directions))

    def armed(self, taken: Pass) -> None:
        """A pass is armed."""
        self._taken = 0
        words = text("cli.armed", number=taken.number, direction=text(f"cli.{taken.direction}"))
        self._console.print(f"\n[bold]{words}[/bold]")
        self._console.print(self._headings(), style="dim")

    def begin_pass(self, taken: Pass) -> None:
        """Nothing more to say."""

    def keep_reading(self, reading: Reading) -> None:
        """A reading that the archive has."""
        self._taken += 1
        begun = self._measured()
        profile = interpreted((reading,), begun.interpretation, begun.machine.axes, begun.setup)
        cells = [f"{reading.number + 1:>4}", f"{profile.position_mm[0]:>9.2f}"]
        for column in profile.columns:
            cells.append(f"{signed(float(column.screen[0])):>9} ±{column.standard_deviation[0]:<5.1f}")
        self._console.print("".join(cells))

    def keep_stream(self, block: StreamBlock) -> None:
        """Nothing to show."""

    def note(self, event: PassEvent) -> None:
        """What happened, as a sentence."""
        from rich.padding import Padding

        position = {} if event.position_mm is None else {"position_mm": event.position_mm}
        sentence = text(event.key, **(position | event.facts))
        self._console.print(Padding(sentence, (0, 0, 0, _INDENT)), style="yellow")

    def end_pass(self, ended: Pass) -> None:
        """How it ended."""
        self._console.print(text("cli.ended", outcome=text(f"cli.{ended.outcome}"), readings=self._taken))

    def look(self, live: Live) -> None:
        """The live state, drawn a few times a second."""
        self._bottom.update(self._now(live))

    def _now(self, live: Live) -> Text:
        from rich.text import Text

        place = "" if live.position_mm is None else f"{live.position_mm:8.1f} mm"
        words = text(f"cli.now_{live.state}", silent=", ".join(live.silent))
        progress = f" {live.progress:4.0%}" if live.state == "averaging" else ""
        again = ", ".join(f"{self._as_line(place_mm):.0f}" for place_mm in live.again_mm)
        wanted = (text("guard_watch.now_again", places=again), "yellow") if again else ""
        return Text.assemble((self._way(live.position_mm), "dim"), f" {place}  ", (words + progress, "bold"), wanted)

    def _as_line(self, read_mm: float) -> float:
        """A position of the source as a position of the line."""
        meaning = self._measured().interpretation
        return meaning.position_sense * (read_mm - meaning.position_offset_mm)

    def _way(self, position_mm: float | None) -> str:
        """The travel as a line with the carriage on it, as the operator sees it."""
        line = self._measured().line
        if position_mm is None or line.from_mm is None or line.to_mm is None or line.to_mm == line.from_mm:
            return ""
        share = (position_mm - line.from_mm) / (line.to_mm - line.from_mm)
        zero = self._measured().setup.zero
        share = 1 - share if zero is not None and zero.sense < 0 else share
        place = round(min(max(share, 0.0), 1.0) * (_BAR - 1))
        return "─" * place + "█" + "─" * (_BAR - 1 - place)

    def _headings(self) -> str:
        begun = self._measured()
        heads = [f"{_heading(column.code, begun):>16}" for column in _columns(begun)]
        return "".join(["  no", "       mm", *heads])

    def _measured(self) -> Begun:
        if self._begun is None:
            raise RuntimeError("the view was not told what is measured")
        return self._begun


def _columns(begun: Begun) -> tuple[Column, ...]:
    """What a reading will show, before there is one."""
    return interpreted((), begun.interpretation, begun.machine.axes, begun.setup).columns


def _heading(code: Code, begun: Begun) -> str:
    name = plain_name(code, begun.machine.axes)
    return f"{text(name.key, **name.facts)} {code.text} {'µm/m' if code.is_rotation else 'µm'}"
