"""Instruments with their certificates and issued reports are kept, with who, when and why, and shown."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from bed_by_level import machine_file
from jobs.made_line import BEAM, begin_line, take_pass
from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.files.machine_file import read_machine
from waywright.files.setup_file import LineEntry
from waywright.files.sheet_file import SheetFile
from waywright.instruments import read_instrument
from waywright.jobs.attach import attach_bytes, extract
from waywright.jobs.compare import compare
from waywright.jobs.instruments_kept import instrument_rows, use_kept
from waywright.jobs.instruments_said import InstrumentSaid, keep_instrument
from waywright.jobs.machines import AS_THE_FILE_SAYS, at_site
from waywright.jobs.people import who
from waywright.jobs.prove import ReportOrder, written_report
from waywright.jobs.sharing import bring_in, export, quiet
from waywright.jobs.sheet_keep import SheetOrder, begin_sheet
from waywright.jobs.type_line import TypedLine, TypeOrder
from waywright.jobs.typed import begin_typed_line
from waywright.jobs.verify_report import verified
from waywright.jobs.visits import find_visit, new_visit, visit_shown
from waywright.machine import Machine, Mark
from waywright.visit import Attachment, Certificate, KeptInstrument, PositionZero
from waywright.visit.sheet import SheetRow

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
    shown = visit_shown(archive, find_visit(archive, None)).instruments
    assert [(each.instrument_id, each.serial, each.certificate, each.overdue) for each in shown] == [
        (kept.id, "HR-BD-01", None, False),
        (None, None, None, False),  # the distance meter
    ]


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


def test_the_pdf_of_a_report_is_kept_where_asked_and_goes_along_with_the_visit(
    archive: Archive, tmp_path: Path
) -> None:
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    order, place = ReportOrder(uncertainty=False), Path(archive.place)
    folders = [tmp_path / name for name in ("a", "b", "c")]
    written = [
        written_report([], folder, order, place, keep=keep)
        for folder, keep in zip(folders, (False, True, True), strict=True)
    ]
    pdf = written[0].files[0].read_bytes()
    assert [each.files[0].read_bytes() == pdf for each in written] == [True, True, True]  # keeping changes no report
    (report,) = visit_shown(archive, begun.visit).reports
    assert report.attachment_id is not None
    (file,) = archive.every(Attachment, report.id)
    assert (file.id, file.role, file.sha256) == (report.attachment_id, "report", report.sha256)
    assert extract(archive, str(file.id), tmp_path / "again.pdf").read_bytes() == pdf
    export(archive.place, None, None, tmp_path / "v.json.gz", quiet)
    with open_archive(tmp_path / "other.sqlite", create=True) as other:
        bring_in(other.place, tmp_path / "v.json.gz", quiet)
        assert other.content(report.sha256) == pdf
    assert verified(written[2].files[0], place).agrees


def test_the_scan_of_a_certificate_goes_along_with_a_visit(archive: Archive, tmp_path: Path) -> None:
    (tmp_path / "k12.pdf").write_bytes(b"a scan")
    paper = Certificate("K-12", "2025-03-01", "2026-03-01")
    kept = keep_instrument(archive, InstrumentSaid("frame level", "4711", paper, tmp_path / "k12.pdf"), None)
    order = SheetOrder("HR-6", "Ada Example", instruments=("4711", "straightedge 2 m"))
    sheet = begin_sheet(
        archive, SheetFile(1, "short sheet", (SheetRow("1", "slip", "axial-slip"),)), order, SystemClock()
    )
    shown = visit_shown(archive, find_visit(archive, None)).instruments
    assert [(each.title, each.serial, each.certificate, each.due, each.overdue) for each in shown] == [
        ("frame level", "4711", "K-12", "2026-03-01", True),
        ("straightedge 2 m", None, None, None, False),
    ]
    assert [row.set_ups for row in instrument_rows(archive)] == [1]
    with archive.part(sheet.visit_id) as part:
        (file,) = part.every(Attachment)
        assert (file.subject_id, part.content(file.sha256)) == (kept.id, b"a scan")
    second = keep_instrument(archive, InstrumentSaid("frame level", "4711", Certificate("K-13", "2026-05-02")), None)
    assert [each.number for each in second.certificates] == ["K-12", "K-13"]
    assert second.certificates[0].attachment_id == file.id


def test_a_typed_line_joins_a_visit_and_records_what_is_read_off(archive: Archive, tmp_path: Path) -> None:
    machine = read_machine(machine_file(tmp_path))
    visit = new_visit(archive, machine, SystemClock(), None, "Ada Example")
    archive.save(machine)
    keep_instrument(archive, InstrumentSaid("frame level", "4711"), None)
    order = TypeOrder(
        None, "height", "um", None, None, 0.0, 1000.0, 500.0, "bed", "Z", "forward", None, str(visit.id), ("4711",)
    )
    typed = TypedLine(archive, order, SystemClock())
    typed.paste("1 2 3")
    assert typed.end() == 3
    (line,) = archive.lines(visit.id)
    (setup,) = archive.setups(line.id)
    assert [(use.title, use.serial) for use in setup.instruments] == [("frame level", "4711")]
    assert [each.serial for each in visit_shown(archive, visit).instruments] == ["4711"]


def test_two_typed_lines_are_laid_over_each_other_by_their_mark(archive: Archive, tmp_path: Path) -> None:
    machine = read_machine(machine_file(tmp_path))
    machine = replace(machine, marks=(Mark("left end", 0.0),))
    archive.save(machine)
    for name, offset_mm, said in (("one", 0.0, "0 4 6 4 0"), ("two", 100.0, "0 4 9 4 0")):
        order = TypeOrder("HR-9", "height", "um", None, None, 0.0, 4000.0, 1000.0, name, "Z", "forward", None,
                          zero=PositionZero("left end", offset_mm))  # fmt: skip
        typed = TypedLine(archive, order, SystemClock())
        typed.paste(said)
        typed.end()
    found = compare(archive, "one", "two")
    assert (found.height.position_mm[0], found.height.position_mm[-1]) == (1000.0, 4000.0)  # where both were
    with pytest.raises(BadInput, match="nowhere"):
        TypedLine(archive, replace(order, zero=PositionZero("nowhere")), SystemClock())


def test_a_machine_file_that_changes_what_is_known_is_named_as_the_reason(archive: Archive, tmp_path: Path) -> None:
    machine = read_machine(machine_file(tmp_path))
    kept = at_site(archive, replace(machine, serial="0815"), "hall 2")
    archive.save(kept, reason="read from the plate")
    entry = LineEntry(name="bed", axis="Z")
    for _ in range(2):
        begin_typed_line(archive, machine, entry, None, SystemClock())
    held = archive.load(Machine, machine.id)
    assert (held.serial, held.site_id) == (machine.serial, kept.site_id)
    assert [each.reason for each in archive.history(machine.id)] == ["read from the plate", AS_THE_FILE_SAYS]


def test_what_is_said_of_an_instrument_must_make_sense(archive: Archive, tmp_path: Path) -> None:
    for said in (
        InstrumentSaid("level", "1", Certificate("K", "1 March")),
        InstrumentSaid("level", "1", Certificate("K"), tmp_path / "none.pdf"),
        InstrumentSaid("level", "1", None, tmp_path / "none.pdf"),
    ):
        with pytest.raises(BadInput):
            keep_instrument(archive, said, None)
    assert archive.every(KeptInstrument) == ()
