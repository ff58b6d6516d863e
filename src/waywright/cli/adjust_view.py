"""Rounds, live adjusting, the overnight watch and other corrections in the terminal."""

from __future__ import annotations

import asyncio
import contextlib
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.cli import show
from waywright.cli.options import tail
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.clocks import Clock
    from waywright.correct import CompensationTable, ScrapingMap, Stage
    from waywright.jobs.adjusting import LiveAdjust
    from waywright.visit.adjustment import Adjustment

_BELL = "\a"


def print_rounds(found: Iterable[Adjustment]) -> None:
    """One row a round."""
    head = ("id", "number", "before", "expected", "after", "supports", "open", "surprise")
    page = show.table(*(text(f"adjust.column_{name}") for name in head))
    for each in found:
        low, high = each.interval_um
        open_ones = len(each.to_confirm) - len(each.confirmations)
        after = "" if each.value_after_um is None else f"{each.value_after_um:.1f}"
        surprise = text("adjust.yes") if each.surprise else ""
        page.add_row(
            tail(each.id), str(each.number), f"{each.value_before_um:.1f}",
            f"{each.expected_um:.1f} ({low:.1f}–{high:.1f})", after,
            ", ".join(f"{move.support} {move.asked_um:+.0f}" for move in each.moves), str(open_ones), surprise,
        )  # fmt: skip
    show.console().print(page)


def ask_confirmations(wanted: str | None, by: str | None, place: str | None) -> None:
    """Ask what is still open, one after the other, until each has an answer of its own."""
    from waywright.archive import open_archive
    from waywright.clocks import SystemClock
    from waywright.errors import BadInput
    from waywright.jobs.confirming import unconfirmed
    from waywright.jobs.evidence import person_named
    from waywright.jobs.remember import archive_place
    from waywright.jobs.rounds import confirm, round_named

    clock, page = SystemClock(), show.console()
    with open_archive(archive_place(place), clock=clock) as opened:
        made = round_named(opened, wanted)
        person = person_named(opened, by, clock.utc())
        while open_ones := unconfirmed(made):
            page.print(_said(open_ones[0]))
            try:
                made = confirm(opened, made, open_ones[0].key, _answered(), clock, person)
            except BadInput as problem:
                page.print(str(problem))
    page.print(text("adjust.all_confirmed", number=made.number))


def _answered() -> str:
    """One line; the end of the input ends the command."""
    from waywright.errors import BadInput

    sys.stdout.write("> ")
    sys.stdout.flush()
    line = sys.stdin.readline()
    if not line:
        raise BadInput("adjust.no_answer")
    return line.strip()


def told(support: str, wanted: str | None, by_um: float | None, note: str | None, place: str | None) -> None:
    """Keep what the fitter says of one support."""
    from waywright.archive import open_archive
    from waywright.clocks import SystemClock
    from waywright.jobs.remember import archive_place
    from waywright.jobs.rounds import round_named, turned

    clock = SystemClock()
    with open_archive(archive_place(place), clock=clock) as opened:
        made = turned(opened, round_named(opened, wanted), support, by_um, clock, note)
    move = next(each for each in made.moves if each.support == support)
    show.console().print(text("adjust.told", support=support, done_um=move.done_um, asked_um=move.asked_um))


def turn_live(
    support: str,
    instruments: Sequence[Path],
    wanted: str | None,
    factor: float,
    place: str | None,
    sinks_um: float | None = None,
) -> None:
    """The live view of one support; Enter ends it, and takes an alarm as seen."""
    from waywright.archive import open_archive
    from waywright.jobs.adjusting import LiveAdjusting
    from waywright.jobs.remember import archive_place
    from waywright.jobs.rounds import round_named

    clock, view = _clock(factor), LiveView()
    with open_archive(archive_place(place), clock=clock) as opened, view:
        made = round_named(opened, wanted)
        live = LiveAdjusting(opened, made, support, instruments, clock, view.show, sinks_um)

        def entered() -> None:
            if live.last.alarm is None:
                live.stop()
            else:
                live.acknowledge()

        asyncio.run(_until_entered(live.run, entered))
    show.console().print(text("adjust.support_done", support=support))


def watch_night(
    instruments: Sequence[Path], line: str | None, hours: float, every_s: float, limit_um: float, table: Path,
    factor: float, place: str | None,
) -> None:  # fmt: skip
    """Hours of the parked reading, one row a mean."""
    from waywright.archive import open_archive
    from waywright.jobs.begin import resume
    from waywright.jobs.evidence import sentences
    from waywright.jobs.measured import find_line
    from waywright.jobs.overnight import keep_watch, watch_overnight
    from waywright.jobs.remember import archive_place

    clock, page = _clock(factor), show.console()
    with open_archive(archive_place(place), clock=clock) as opened:
        begun = resume(opened, find_line(opened, line), tuple(instruments))
        stop = asyncio.Event()

        async def night() -> tuple[object, ...]:
            with contextlib.suppress(NotImplementedError):
                asyncio.get_running_loop().add_signal_handler(signal.SIGINT, stop.set)
            return await watch_overnight(
                begun, clock, hours=hours, every_s=every_s, table=table, stop=stop,
                tell=lambda point: page.print(f"{point.time_s / 3600.0:8.2f} h  {show.signed(point.height_um)} µm"),
            )  # fmt: skip

        kept = keep_watch(opened, begun, asyncio.run(night()), limit_um, clock)  # type: ignore[arg-type]
    page.print(text("adjust.night_done", outcome=text(f"adjust.outcome_{kept.outcome}"), **_night(kept.figures)))
    for sentence in sentences(kept.why):
        page.print(sentence)


def _night(figures: dict[str, object]) -> dict[str, object]:
    return {name: figures[name] for name in ("hours", "range_um", "drift_um_per_h")}


class LiveView:
    """One line that is written over: reading, target, what is still to turn; an alarm rings."""

    def __init__(self) -> None:
        from rich.live import Live

        self._live = Live(console=show.console(), auto_refresh=False)
        self._rung: object = None

    def __enter__(self) -> LiveView:
        self._live.__enter__()
        return self

    def __exit__(self, *what: object) -> None:
        self._live.__exit__(None, None, None)

    def show(self, now: LiveAdjust) -> None:
        """Say how things stand."""
        from rich.text import Text

        if now.alarm is not None:
            if self._rung is not now.alarm:
                self._rung = now.alarm
                sys.stdout.write(_BELL)
            self._live.update(
                Text(text("adjust.stop", said=_said(now.alarm.statement)), style="bold reverse"), refresh=True
            )
            return
        self._live.update(Text("\n".join(live_lines(now))), refresh=True)


def live_lines(now: LiveAdjust) -> list[str]:
    """What the terminal shows of one support."""
    if now.reading_um is None:
        return [text("adjust.no_reading", support=now.support)]
    if now.sinking is not None:
        key = "adjust.sunk_enough" if now.sinking.stop else "adjust.sinks"
        return [text(key, sunk_um=now.sinking.sunk_um, expected_um=now.sinking.expected_um)]
    if now.start_um is None or now.target_um is None:
        return [text("adjust.without_target", support=now.support, reading_um=show.signed(now.reading_um))]
    facts = {"support": now.support, "now": show.signed(now.reading_um - now.start_um),
             "target": show.signed(now.target_um - now.start_um)}  # fmt: skip
    return [text("adjust.live", **facts), _to_go(now), _neighbours(now)]


def _to_go(now: LiveAdjust) -> str:
    left = now.left
    if left is None or left.turn is None:
        return text("adjust.there")
    key = "adjust.turns_to_go" if left.turn.words else "adjust.degrees_to_go"
    way = text(f"adjust.{left.turn.direction}")
    return text(key, turns=left.turn.words, degrees=left.turn.degrees, direction=way, lift=show.signed(left.lift_um, 0))


def _neighbours(now: LiveAdjust) -> str:
    largest = sorted(now.neighbours_um.items(), key=lambda item: -abs(item[1]))[:3]
    return text("adjust.neighbours", those=", ".join(f"{name} {show.signed(um, 0)} µm" for name, um in largest))


async def _until_entered(run: Callable[[], object], entered: Callable[[], None]) -> None:
    """Run until a line is entered; read in a thread, because a terminal cannot be awaited everywhere."""
    loop = asyncio.get_running_loop()

    def read() -> None:
        for _ in sys.stdin:
            loop.call_soon_threadsafe(entered)

    threading.Thread(target=read, daemon=True, name="keys").start()
    await run()  # type: ignore[misc]


def print_learnt(made: Adjustment) -> None:
    """What a round told."""
    page = show.console()
    page.print(text("adjust.round_read", number=made.number, before_um=made.value_before_um,
                    expected_um=made.expected_um, after_um=made.value_after_um))  # fmt: skip
    page.print(text("adjust.surprise" if made.surprise else "adjust.as_believed"))
    for cause in made.causes[:4]:
        facts = {"support": cause.support, "other": cause.other or "", "probability": cause.probability}
        page.print("- " + text(f"correct.{cause.kind}", **facts))


def print_scraping(found: ScrapingMap) -> None:
    """Where to take off how much."""
    page = show.table(text("adjust.at_mm"), text("adjust.take_off"))
    for at_mm, remove_um in zip(found.position_mm, found.remove_um, strict=True):
        if remove_um >= 0.05:
            page.add_row(f"{at_mm:.0f}", f"{remove_um:.1f}")
    show.console().print(page)
    show.console().print(text("adjust.scraping", volume_mm3=found.volume_mm3, deepest_um=found.deepest_um))
    _notes(found.notes)


def print_table(found: CompensationTable, out: Path | None) -> None:
    """The table, or where it was written."""
    if out is None:
        sys.stdout.write(found.text())
    else:
        show.console().print(text("adjust.table_written", path=str(out), points=found.position_mm.size))
    _notes(found.notes)


def print_stages(found: Sequence[Stage]) -> None:
    """All stages with what to do in them."""
    for stage in found:
        show.console().print(f"{text(f'adjust.state_{stage.state}'):<6} {text(f'adjust.stage_{stage.name}')}")
        if stage.state == "now":
            _notes(stage.notes)


def _notes(notes: Iterable[object]) -> None:
    for note in notes:
        show.console().print("- " + _said(note))


def _said(note: object) -> str:
    return text(note.key, **note.facts)  # type: ignore[attr-defined]


def _clock(factor: float) -> Clock:
    from waywright.clocks import ScaledClock, SystemClock

    return SystemClock() if factor == 1.0 else ScaledClock(factor)
