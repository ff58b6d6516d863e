"""A line taken, then witnessed over the workshop's real links: the bed as it was, and shifted in between."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pypdf

from waywright.archive import Archive, open_archive
from waywright.capture import Live
from waywright.clocks import ScaledClock
from waywright.jobs.begin import Begun
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.jobs.practise import begin_in, drive_and_take
from waywright.jobs.prove import ReportOrder, written_report
from waywright.jobs.witness import Onlookers, keep_witness, prepared_witness
from waywright.jobs.witness_compared import WitnessedValue, not_compared, witnessed
from waywright.simulation import Workshop

FACTOR = 25.0
SHORT = """
format = 1
based_on = "calm-hall"
title = "Few stops"
passers = []
[operator]
step_mm = 1300.0
returns_from = 4
hesitations = 0
speed_mm_per_s = [240.0, 260.0]
"""
CHOSEN = (0.0, 1300.0, 2600.0, 3900.0, 5200.0)


async def drive_on(workshop: Workshop, heard: asyncio.Event) -> None:
    """The operator drives once every instrument has been heard, and again for a station that was missed."""
    await heard.wait()
    while True:
        workshop.drive("brief")
        await workshop.until_standing()


async def witnessed_in(
    workshop: Workshop, archive: Archive, begun: Begun, clock: ScaledClock
) -> tuple[MeasuredLine, tuple[WitnessedValue, ...]]:
    heard, channels = asyncio.Event(), {begun.position_channel, *begun.channels}

    def look(live: Live) -> None:
        if channels <= live.latest.keys():
            heard.set()

    files = list(workshop.descriptions.values())
    second, taking = prepared_witness(archive, begun.line, files, CHOSEN, clock, Onlookers(watchers=[look]))
    operator = asyncio.create_task(drive_on(workshop, heard))
    await taking.run()
    operator.cancel()
    await workshop.until_standing()
    again = measured_line(archive, second.line)
    assert again.passes[0].taken.outcome == "finished"
    return again, witnessed(measured_line(archive, begun.line), again, CHOSEN)


async def run(folder: Path) -> None:
    clock = ScaledClock(FACTOR)
    (folder / "short.toml").write_text(SHORT)
    async with Workshop.start(folder / "short.toml", FACTOR, folder) as workshop:
        with open_archive(folder / "a.sqlite", create=True, clock=clock) as archive:
            begun = begin_in(workshop, archive, clock)
            await drive_and_take(archive, begun, workshop, clock, lambda _: ((), ()), None, "brief")
            first = measured_line(archive, begun.line)
            again, same = await witnessed_in(workshop, archive, begun, clock)
            assert not_compared(same, CHOSEN) == ()
            assert len(same) == 10
            assert all(each.agrees for each in same), same
            keep_witness(archive, first, again, same, clock, CHOSEN)
            workshop.turn({"5": 150.0, "12": 150.0})
            again, shifted = await witnessed_in(workshop, archive, begun, clock)
            assert {each.code for each in shifted if not each.agrees} == {"EYZ"}
            assert not keep_witness(archive, first, again, shifted, clock, CHOSEN).passed


def test_a_line_is_witnessed_and_a_shifted_bed_is_not_the_same(tmp_path: Path) -> None:
    asyncio.run(run(tmp_path))
    written = written_report(["all"], tmp_path, ReportOrder(uncertainty=False), tmp_path / "a.sqlite")
    text = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(written.files[0]).pages)
    assert "5 stations of carriage along the bed were measured again; all 10 values agree" in text
    assert "values differ by more than the uncertainty of both" in text
