"""Instruments with their certificates and issued reports are kept, with who, when and why, and shown."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

import pytest

from jobs.made_line import BEAM, begin_line, take_pass
from waywright.archive import Archive, open_archive
from waywright.instruments import read_instrument
from waywright.jobs.attach import attach_bytes
from waywright.jobs.instruments_kept import instrument_rows, use_kept
from waywright.jobs.people import who
from waywright.jobs.prove import ReportOrder, written_report
from waywright.jobs.sharing import export
from waywright.jobs.visits import find_visit, visit_shown
from waywright.visit import KeptInstrument

PAPER = """
[certificate]
number = "HR-C-{number}"
date = 202{number}-02-03
due = 202{number}-12-31
expanded_uncertainty_um = {uncertainty}
k = 2.0
"""


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return open_archive(tmp_path / "a.sqlite", create=True)


def beam(folder: Path, number: int, uncertainty: float) -> Any:
    path = folder / f"beam-{number}.toml"
    path.write_text(BEAM + PAPER.format(number=number, uncertainty=uncertainty), encoding="utf-8")
    return read_instrument(path)


def test_a_line_begun_keeps_its_instruments_and_refers_to_them(archive: Archive, tmp_path: Path) -> None:
    begun = begin_line(archive, tmp_path)
    (kept,) = archive.every(KeptInstrument)
    assert (kept.name, kept.serial) == ("beam", "HR-BD-01")
    (setup,) = archive.setups(begun.line.id)
    assert [use.instrument_id for use in setup.instruments] == [kept.id, None]  # the distance meter has no serial
    begin_line(archive, tmp_path)
    assert len(archive.history(kept.id)) == 1  # nothing new was said
    (row,) = instrument_rows(archive)
    assert row.set_ups == 2
    assert visit_shown(archive, find_visit(archive, None)).instruments == (kept,)


def test_a_new_certificate_is_added_by_an_event_and_the_old_one_stays(archive: Archive, tmp_path: Path) -> None:
    by = who(archive, "Ada Example")
    used = [use_kept(archive, beam(tmp_path, *paper), by) for paper in ((4, 1.5), (5, 1.2), (5, 1.2))]
    assert len({use.instrument_id for use in used}) == 1
    (row,) = instrument_rows(archive)
    assert [(paper.number, paper.expanded_uncertainty, paper.unit) for paper in row.instrument.certificates] == [
        ("HR-C-4", 1.5, "um"),
        ("HR-C-5", 1.2, "um"),
    ]
    held = [row.instrument.certificate_on(day) for day in ("2024-02-02", "2024-06-01", "2025-06-01")]
    assert [paper.number if paper else None for paper in held] == [None, "HR-C-4", "HR-C-5"]
    revisions = archive.history(row.instrument.id)
    assert [(each.reason, each.recorded_by) for each in revisions] == [("HR-C-4", by), ("HR-C-5", by)]
    assert (row.by, row.reason) == ("Ada Example", "HR-C-5")


def test_a_visit_file_takes_its_instruments_along(archive: Archive, tmp_path: Path) -> None:
    begun = begin_line(archive, tmp_path)
    attach_bytes(archive, begun.visit.id, "bed.jpg", b"a picture", None, None, None)
    told: list[tuple[str, int, int]] = []
    export(archive.place, None, None, tmp_path / "v.json", lambda *step: told.append(step))
    with archive.part(begun.visit.id) as part:
        assert [each.serial for each in part.every(KeptInstrument)] == ["HR-BD-01"]
    assert told[-1] == ("lines", 1, 1)
    assert {what for what, _, _ in told} >= {"record", "lines"}


def test_a_written_report_is_recorded_once(archive: Archive, tmp_path: Path) -> None:
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    orders = [
        ReportOrder(uncertainty=False),
        ReportOrder(uncertainty=False),
        ReportOrder(uncertainty=False, paper="us-letter"),
    ]
    written = [written_report([], tmp_path / str(n), order, Path(archive.place)) for n, order in enumerate(orders)]
    prints = [hashlib.sha256(each.files[0].read_bytes()).hexdigest() for each in written]
    shown = visit_shown(archive, begun.visit)
    assert [each.sha256 for each in shown.reports] == [prints[0], prints[2]]
    assert prints[0] == prints[1]
    facts = shown.reports[0].facts
    assert (facts["number"], facts["revision"], facts["signatures"]) == (written[0].number, 1, 0)
    assert facts["content_sha256"] == shown.reports[1].facts["content_sha256"]
    assert shown.reports[0].line_ids == (begun.line.id,)
    (event,) = archive.history(shown.reports[0].id)
    assert event.recorded_by == who(archive, None)
