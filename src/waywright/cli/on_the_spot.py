"""``waywright witness`` and ``waywright self-check``: tested on the spot, and shown in the report."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

if TYPE_CHECKING:
    from collections.abc import Sequence

    from waywright.archive import Archive
    from waywright.clocks import Clock
    from waywright.jobs.measured import MeasuredLine
    from waywright.jobs.witness_compared import WitnessedValue
    from waywright.visit import Line

ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"])]
Json = Annotated[bool, Parameter(negative="")]


def witness(
    *instruments: Path,
    line: str | None = None,
    at: str = "",
    again: str | None = None,
    factor: float = 1.0,
    archive: ArchiveFile = None,
    json: Json = False,
) -> int:
    """Measure chosen stations of a line again while the customer watches, and judge whether both agree.

    The pass ends by itself when every chosen station has a reading, or with "e" and Enter. The line measured first
    stays as it is; the report of the visit shows both and whether they agree within the uncertainty of both.

    Parameters
    ----------
    instruments
        Instrument description files, as for `waywright capture`. Without any, give --again.
    line
        The line that is witnessed, by name or id; without it the newest.
    at
        The stations, in mm: "0, 1200, 2400, 5200". At least four; a standstill within 20 mm counts.
    again
        A line that was measured again already, instead of measuring now.
    factor
        Pace of the clock; 1 except with a simulated workshop.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.archive import open_archive
    from waywright.cli import show
    from waywright.clocks import ScaledClock, SystemClock
    from waywright.jobs.measured import find_line, measured_line
    from waywright.jobs.remember import archive_path
    from waywright.jobs.witness import keep_witness, stations_of
    from waywright.jobs.witness_compared import not_compared, witnessed

    clock = SystemClock() if factor == 1.0 else ScaledClock(factor)
    chosen = stations_of(at)
    with open_archive(archive_path(archive), clock=clock) as opened:
        first = measured_line(opened, find_line(opened, line))
        if again is None:
            second = asyncio.run(_measured(opened, first.line, instruments, chosen, clock, quiet=json))
        else:
            second = measured_line(opened, find_line(opened, again))
        values = witnessed(first, second, chosen)
        kept = keep_witness(opened, first, second, values, clock, chosen)
    if json:
        show.print_json({"passed": kept.passed, "values": values, "not_compared": not_compared(values, chosen)})
    else:
        _print(values, not_compared(values, chosen))
    return 0 if kept.passed else 1


def self_check(*, keep: bool = False, line: str | None = None, archive: ArchiveFile = None, json: Json = False) -> int:
    """Check this installed copy against published values, and print a dated page with version and result.

    Parameters
    ----------
    keep
        Keep the result with a visit, so that its report shows it.
    line
        With --keep: a line of that visit; without it the newest.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.self_check import keep_self_check
    from waywright.jobs.self_check import self_check as run
    from waywright.wording import text

    found = run()
    if keep:
        keep_self_check(found, line, archive)
    if json:
        show.print_json({"passed": found.passed, **show.plain(found)})
        return 0 if found.passed else 1
    page = show.console()
    made = f"{found.made_utc:%Y-%m-%d %H:%M} UTC"
    page.print(text("witness.self_check", version=found.version, made=made, python=found.python, system=found.system))
    rows = show.table(*(text(f"witness.column_{key}") for key in ("check", "published", "found", "source")))
    for each in found.values:
        mark = "✓" if each.passed else "✗"
        value = each.problem or f"{each.found:.12g}"
        rows.add_row(f"{mark} {each.name}", f"{each.published:.12g}", value, each.source)
    page.print(rows)
    failed = sum(not each.passed for each in found.values)
    key = "witness.all_passed" if found.passed else "witness.some_failed"
    page.print(text(key, checks=len(found.values), failed=failed))
    if keep:
        page.print(text("witness.kept"))
    return 0 if found.passed else 1


async def _measured(
    archive: Archive,
    line: Line,
    instruments: Sequence[Path],
    chosen_mm: Sequence[float],
    clock: Clock,
    *,
    quiet: bool,
) -> MeasuredLine:
    """The pass as it is shown while the customer watches, with the keys of any other pass."""
    from waywright.cli.capture_view import listen_to_keys, stop_on_interrupt
    from waywright.cli.pass_view import PassView
    from waywright.jobs.measured import measured_line
    from waywright.jobs.witness import ChosenStations, Onlookers, prepared_witness
    from waywright.wording import text

    def say_left(stations: ChosenStations) -> None:
        if stations.left:
            view.say(text("witness.left", places=", ".join(f"{each:g}" for each in stations.left)))

    with PassView(quiet=quiet) as view:
        seen = Onlookers([view], [view.look], view.armed, say_left)
        begun, taking = prepared_witness(archive, line, instruments, chosen_mm, clock, seen)
        view.measures(begun)
        listen_to_keys(taking, view)
        stop_on_interrupt(taking)
        await taking.run()
    return measured_line(archive, begun.line)


def _print(values: tuple[WitnessedValue, ...], missing_mm: tuple[float, ...]) -> None:
    from waywright.cli import show
    from waywright.wording import text

    keys = ("quantity", "position", "first", "again", "difference", "allowed")
    rows = show.table(*(text(f"witness.column_{key}") for key in keys))
    for each in values:
        mark = "✓" if each.agrees else "✗"
        figures = (show.signed(value, 2) for value in (each.first, each.again, each.difference))
        rows.add_row(f"{mark} {each.code}", f"{each.position_mm:.1f}", *figures, f"{each.allowed:.2f}")
    show.console().print(rows)
    outside = sum(not each.agrees for each in values)
    show.console().print(text("witness.differs" if outside else "witness.agrees", values=len(values), outside=outside))
    if missing_mm:
        show.console().print(text("witness.not_compared", places=", ".join(f"{each:g}" for each in missing_mm)))
    show.console().print(text("witness.kept"))
