"""What ``waywright instrument`` shows."""

from __future__ import annotations

import asyncio
import contextlib
import signal
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.cli import show
from waywright.wording import text

if TYPE_CHECKING:
    from rich.console import RenderableType

    from waywright.jobs.instruments import Checked
    from waywright.jobs.new_instrument import Heard


def print_heard(heard: Heard, file: Path) -> None:
    """The newest lines, what they seem to be, and what to do next."""
    console = show.console()
    for line in heard.lines:
        console.print(line, style="dim", markup=False)
    proposal = heard.proposal
    facts = {"matched": proposal.matched, "lines": proposal.lines, "rate_hz": heard.rate_hz}
    console.print(text("instruments.proposal", pattern=proposal.pattern, **facts), markup=False)
    table = show.table("group", "kind", "unit", "from", "to")
    for item in proposal.channels:
        unit = item.unit if item.unit_seen else f"{item.unit}?"
        table.add_row(item.group, item.kind, unit, f"{item.least:g}", f"{item.most:g}")
    console.print(table)
    console.print(text("instruments.proposal_written", file=str(file)))


def check_live(file: Path, seconds: float | None, factor: float, *, quiet: bool) -> Checked:
    """Listen, and show the account while it grows; ctrl-c ends it in order."""
    from rich.live import Live

    from waywright.clocks import ScaledClock, SystemClock
    from waywright.instruments import read_instrument
    from waywright.jobs.instruments import Check

    clock = SystemClock() if factor == 1.0 else ScaledClock(factor)
    instrument = read_instrument(file)
    console = show.console()
    console.quiet = quiet

    async def listen() -> Checked:
        check = Check(instrument, clock)
        with Live(console=console, auto_refresh=False) as screen:
            task = asyncio.create_task(check.listen(seconds, lambda found: screen.update(account(found))))
            refreshing = asyncio.create_task(_refresh(screen.refresh))
            with contextlib.suppress(NotImplementedError):
                asyncio.get_running_loop().add_signal_handler(signal.SIGINT, task.cancel)
            with contextlib.suppress(asyncio.CancelledError):
                await task
            refreshing.cancel()
            screen.update(account(check.account()), refresh=True)
        return check.account()

    return asyncio.run(listen())


async def _refresh(draw: object) -> None:
    while True:
        await asyncio.sleep(0.25)
        draw()  # type: ignore[operator]


def account(found: Checked) -> RenderableType:
    """The account as a table and sentences."""
    from rich.console import Group

    table = show.table("channel", "now", "mean", "standard deviation", "from", "to", title=found.source)
    for item in found.channels:
        numbers = (item.latest, item.mean, item.standard_deviation, item.least, item.most)
        table.add_row(item.channel, *("–" if number is None else f"{number:.3f}" for number in numbers))
    facts = {"samples": found.samples, "rate_hz": found.rate_hz, "expected_hz": found.expected_hz}
    gap_s = found.longest_gap_s or 0.0
    rows = [text("instruments.check_rate", **facts, gaps=found.gaps, longest_gap_s=gap_s)]
    if found.malformed or found.missed:
        counts = {"malformed": found.malformed, "checksum": found.checksum_failed, "counter": found.out_of_turn}
        rows.append(text("instruments.check_malformed", **counts, missed=found.missed))
    rows += [text("instruments.check_unmatched", line=line) for line in found.unmatched]
    flawed = ", ".join(f"{name.replace('_', ' ')} {count}" for name, count in found.flawed.items())
    rows += [text("instruments.check_flawed", flawed=flawed)] if flawed else []
    return Group(table, *(_plain(row) for row in (*rows, *found.said[-3:])))


def _plain(sentence: str) -> RenderableType:
    from rich.text import Text

    return Text(sentence)
