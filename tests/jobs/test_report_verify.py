"""A report computed again from what lies inside it: what was changed is named, wherever it was changed."""

from __future__ import annotations

import base64
import io
import json
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import msgspec
import pikepdf
import pypdf
import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.archive.chains import heads_of, root_of
from waywright.archive.part import ReadingRow, part_of
from waywright.cli import main
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.jobs.prove import ReportOrder, written_report
from waywright.jobs.report_order import ReportData, content_sha256, data_from, data_text
from waywright.jobs.set_aside import leave_out
from waywright.jobs.signing import Signing, add_note, signed_report
from waywright.jobs.verify_report import computed_again, verified
from waywright.report.printed import read_printed
from waywright.wording.said import sentence

PLAIN = ReportOrder(uncertainty=False)
VALUE_PT = 19.0
"""The size that values are set in on the first page."""


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two passes of an invented lathe."""
    folder = tmp_path_factory.mktemp("verify")
    with open_archive(folder / "a.sqlite", create=True) as opened:
        begun = begin_line(opened, folder)
        take_pass(opened, begun, 1, repeat=3)
        take_pass(opened, begun, 2, offset_um=1.5)
    return folder / "a.sqlite"


@pytest.fixture(scope="module")
def report(archive: Path) -> Path:
    return written_report([], archive.parent / "out", PLAIN, archive).files[0]


def said(file: Path, archive: Path | None = None) -> list[str]:
    return [sentence(found.key, found.facts) for found in verified(file, archive).findings]


def data_of(file: Path) -> ReportData:
    inside = read_printed(file).data
    assert inside is not None
    return data_from(inside)


def with_data(report: Path, target: Path, change: Callable[[ReportData], ReportData]) -> Path:
    """The same pages with other data inside."""
    with pikepdf.open(report) as document:
        text = data_text(change(data_of(report))).encode()
        document.attachments["visit.json"].get_file().obj.write(text)
        document.save(target)
    return target


def test_a_report_agrees_with_its_data_and_its_archive(report: Path, archive: Path) -> None:
    found = verified(report, archive)
    assert found.agrees
    assert (found.passes, found.readings, found.revision) == (2, 43, 1)
    assert found.numbers > 300
    inside = data_of(report)
    assert found.root == inside.root == root_of(heads_of(inside.visit))


def test_the_data_alone_give_the_same_bytes(report: Path) -> None:
    assert computed_again(data_of(report)) == report.read_bytes()


def test_the_same_archive_gives_the_same_bytes_another_day(report: Path, archive: Path, tmp_path: Path) -> None:
    assert written_report([], tmp_path, PLAIN, archive).files[0].read_bytes() == report.read_bytes()


def test_a_number_printed_otherwise_is_named_with_its_page(report: Path, tmp_path: Path) -> None:
    """The value on the first page: the glyph of its first digit is replaced by that of its last."""
    with pikepdf.open(report) as document:
        page = document.pages[0]
        tokens = list(pikepdf.parse_content_stream(page))
        size = 0.0
        for index, (operands, operator) in enumerate(tokens):
            size = float(operands[1]) if str(operator) == "Tf" else size
            if size == VALUE_PT and str(operator) == "TJ":
                glyphs = [part for part in operands[0] if isinstance(part, pikepdf.String)]
                whole = b"".join(bytes(part) for part in glyphs)
                tokens[index] = ([pikepdf.Array([pikepdf.String(whole[-2:] + whole[2:])])], operator)
                break
        page.Contents = document.make_stream(pikepdf.unparse_content_stream(tokens))
        document.save(tmp_path / "painted.pdf")
    [found] = said(tmp_path / "painted.pdf")
    assert re.fullmatch(r"Page 1, after “.*”: printed is “0\d\.\d”, the data give “\d\d\.\d”\.", found), found


def test_a_drawing_changed_is_noticed(report: Path, tmp_path: Path) -> None:
    with pikepdf.open(report) as document:
        page = document.pages[0]
        drawn = page.Contents.read_bytes() + b"\n0 0 m 10 10 l S\n"
        page.Contents = document.make_stream(drawn)
        document.save(tmp_path / "drawn.pdf")
    assert said(tmp_path / "drawn.pdf") == ["Page 1: the words agree, but something is drawn differently."]


def test_a_reading_changed_inside_breaks_its_seal(report: Path, tmp_path: Path) -> None:
    def change(data: ReportData) -> ReportData:
        first = data.visit.passes[0]
        body = bytearray(base64.b64decode(first.readings[4].body))
        place = body.index(b"beam.vertical_um") + len(b"beam.vertical_um")
        body[place + 6] ^= 0x04
        rows = list(first.readings)
        rows[4] = ReadingRow(base64.b64encode(bytes(body)).decode(), rows[4].hash)
        return replace(
            data, visit=replace(data.visit, passes=(replace(first, readings=tuple(rows)), *data.visit.passes[1:]))
        )

    found = said(with_data(report, tmp_path / "changed.pdf", change))
    assert "reading 5 at" in found[0]
    assert "is not what was sealed" in found[0]
    assert any(words.startswith("Page 1") for words in found), found


def test_a_forger_who_seals_anew_is_caught_by_root_and_print(report: Path, archive: Path, tmp_path: Path) -> None:
    def change(data: ReportData) -> ReportData:
        rows = tuple(replace(row, reason="forged") if row.kind == "setup" else row for row in data.visit.records)
        return replace(data, visit=replace(data.visit, records=rows))

    forged = with_data(report, tmp_path / "forged.pdf", change)
    assert any(words.startswith("The root over all chains is") for words in said(forged))

    def with_root(data: ReportData) -> ReportData:
        changed = change(data)
        return replace(changed, root=root_of(heads_of(changed.visit)))

    again = with_data(report, tmp_path / "again.pdf", with_root)
    assert any("the data give" in words for words in said(again))  # the printed root is the old one
    assert any("not in the archive as the report has them" in words for words in said(again, archive))


def test_a_missing_reading_at_the_end_is_noticed(report: Path, archive: Path, tmp_path: Path) -> None:
    def change(data: ReportData) -> ReportData:
        first = data.visit.passes[0]
        return replace(
            data,
            visit=replace(data.visit, passes=(replace(first, readings=first.readings[:-1]), *data.visit.passes[1:])),
        )

    found = said(with_data(report, tmp_path / "short.pdf", change))
    assert any("root over all chains" in words for words in found)


def test_a_table_changed_inside_is_named_by_line(report: Path, tmp_path: Path) -> None:
    with pikepdf.open(report) as document:
        file = document.attachments["readings.csv"].get_file()
        lines = file.read_bytes().decode().split("\n")
        lines[20] = lines[20].replace("1", "2")
        file.obj.write("\n".join(lines).encode())
        document.save(tmp_path / "table.pdf")
    [found] = said(tmp_path / "table.pdf")
    assert found.startswith("readings.csv, line 21: it says")


def test_the_command_says_so_and_its_exit_code_too(
    report: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["report", "verify", str(report)]) == 0
    assert capsys.readouterr().out.startswith("The report agrees with its data.")
    with pikepdf.open(report) as document:
        document.pages[0].Contents = document.make_stream(document.pages[0].Contents.read_bytes() + b"\nq Q\n")
        document.save(tmp_path / "other.pdf")
    assert main(["report", "verify", str(tmp_path / "other.pdf"), "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert answer["agrees"] is False
    assert answer["findings"][0]["key"] == "report_verify.drawn_differently"


def test_other_pdfs_and_other_files_are_refused(tmp_path: Path) -> None:
    blank = pypdf.PdfWriter()
    blank.add_blank_page(100, 100)
    blank.write(tmp_path / "blank.pdf")
    with pytest.raises(BadInput, match=r"blank.pdf holds no visit.json"):
        verified(tmp_path / "blank.pdf")
    for name, data in (
        ("text.pdf", b"hello"),
        ("half.pdf", (tmp_path / "blank.pdf").read_bytes()[:90]),
        ("empty.pdf", b""),
    ):
        (tmp_path / name).write_bytes(data)
        with pytest.raises(BadInput, match=r"cannot be read as a PDF|holds no visit.json"):
            verified(tmp_path / name)


@pytest.mark.parametrize(
    "data",
    [b"", b"[]", b"{", b'{"format": 1}', b"[" * 100_000, b'{"format":"waywright-report 1"}', b'"' + b"x" * 1000],
)
def test_data_that_are_none_are_refused(data: bytes) -> None:
    with pytest.raises(BadInput, match="cannot be read"):
        data_from(data)


def test_a_signature_signs_one_state_and_the_next_revision_says_what_is_new(archive: Path, tmp_path: Path) -> None:
    """In a copy of the archive: signed, printed again, changed, printed again."""
    copy = tmp_path / "copy.sqlite"
    with open_archive(archive) as source, open_archive(copy, create=True) as target:
        target.receive(source)
    stroke = ((0.1, 0.1), (0.4, 0.2), (0.9, 0.05))
    signing = Signing(by="Ida Quill (invented)", role="customer", strokes=(stroke,))
    add_note("reservation", "The far end was measured with the door open.", by="Ida Quill (invented)", path=copy)
    first = signed_report([], tmp_path / "signed", PLAIN, signing, copy)
    assert first.revision == 1
    text = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(first.files[0]).pages)
    for words in ("Ida Quill (invented)", "The far end was measured with the door open.", "revision 1", "customer"):
        assert words in text
    assert verified(first.files[0], copy).agrees
    again = written_report([], tmp_path / "again", PLAIN, copy)
    assert again.files[0].read_bytes() == first.files[0].read_bytes()
    signed_hash = content_sha256(data_of(first.files[0]))
    assert data_of(first.files[0]).signatures[0].content_sha256 == signed_hash
    with open_archive(copy) as opened:
        line = opened.lines(opened.visits()[0].id)[0]
        reading = opened.readings(opened.passes(line.id)[1].id)[2]
        leave_out(opened, reading.id, "somebody leaned on the bed", SystemClock())
    second = written_report([], tmp_path / "second", PLAIN, copy)
    assert second.revision == 2
    text = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(second.files[0]).pages)
    for words in ("revision 2, not signed", "changed since revision 1", "reading left out: somebody leaned on the bed"):
        assert words in text
    assert verified(second.files[0], copy).agrees
    assert verified(first.files[0], copy).agrees  # the signed one is still what the archive holds


def test_two_computers_merge_and_the_root_stays(archive: Path, tmp_path: Path) -> None:
    """The root is over the sorted heads: whoever is merged into whom, it is the same."""
    one, two = tmp_path / "one.sqlite", tmp_path / "two.sqlite"
    for path in (one, two):
        with open_archive(archive) as source, open_archive(path, create=True) as target:
            target.receive(source)
    add_note("safety", "The guard at the tailstock is missing.", path=one)
    add_note("further-check", "Squareness of the cross slide.", path=two)
    with open_archive(one) as first, open_archive(two) as second:
        first.receive(second)
        second.receive(first)
        visit = first.visits()[0].id
        heads = [heads_of(part_of(opened, visit, ("signature", "report"))) for opened in (first, second)]
    assert root_of(heads[0]) == root_of(heads[1])
    assert sorted(head.head for head in heads[0]) == sorted(head.head for head in heads[1])


def test_the_data_are_json_that_reads_back_equal(report: Path) -> None:
    inside = data_of(report)
    assert msgspec.json.decode(data_text(inside), type=ReportData) == inside
    assert io.BytesIO(report.read_bytes()).read(5) == b"%PDF-"
    with pikepdf.open(report) as document:
        assert str(document.attachments["visit.json"].obj.AFRelationship) == "/Source"
