"""Verify: compute a report again from what lies inside it, and name every place where print and data do not agree."""

from __future__ import annotations

import difflib
import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from waywright import __version__
from waywright.archive import Archive, open_archive
from waywright.archive.chains import Head, heads_of, root_of
from waywright.archive.part import ReadingRow, VisitPart, archive_of, part_of, sealed_bytes
from waywright.errors import ArchiveError, BadInput, WaywrightError
from waywright.evaluate.results import Reason
from waywright.jobs.measured import measured_line
from waywright.jobs.prove import BESIDE_THE_REPORT
from waywright.jobs.report_job import report_content
from waywright.jobs.report_order import ReportData, content_sha256, data_from, data_text
from waywright.readings import read_canonical
from waywright.readings.canonical import NO_HASH
from waywright.report import pdf_bytes
from waywright.report.attached import DATA_NAME
from waywright.report.printed import PrintedPage, PrintedReport, printed, read_printed
from waywright.visit import Line

MOST_FINDINGS = 40
_AROUND = 4


@dataclass(frozen=True, slots=True)
class Verified:
    """What a report came to when it was computed again; it agrees where there are no ``findings``.

    ``numbers`` counts printed words that hold a digit, ``readings`` and ``passes`` what was sealed inside. ``notes``
    are remarks that are no disagreement: another version of the program, a digital signature that was not checked.
    """

    file: str
    number: str | None
    revision: int
    pages: int
    numbers: int
    readings: int
    passes: int
    root: str
    software: str
    findings: tuple[Reason, ...]
    notes: tuple[Reason, ...] = ()

    @property
    def agrees(self) -> bool:
        """Whether print, data and hashes agree everywhere."""
        return not self.findings


def verified(path: Path, archive: Path | None = None) -> Verified:
    """Compute the report of a PDF again. With ``archive`` its chains must also be those of that archive.

    Raises BadInput where the file is no report of this program or cannot be read.
    """
    report = read_printed(path)
    if report.data is None:
        raise BadInput("report_verify.no_data", file=path.name, name=DATA_NAME)
    data = data_from(report.data)
    heads = heads_of(data.visit)
    findings = [*_seals(data.visit), *_root(data, heads), *_signatures(data)]
    findings += list(_printed_again(report, data))
    if archive is not None:
        with open_archive(archive) as opened:
            findings += list(_in_archive(opened, data.visit))
    words = [word for page in report.pages for word in page.words]
    return Verified(
        file=path.name,
        number=data.number,
        revision=data.revision,
        pages=len(report.pages),
        numbers=sum(_has_digit(word) for word in words),
        readings=sum(len(each.readings) for each in data.visit.passes),
        passes=len(data.visit.passes),
        root=root_of(heads),
        software=data.software,
        findings=tuple(findings[:MOST_FINDINGS]),
        notes=tuple(_notes(report, data)),
    )


def computed_again(data: ReportData) -> bytes:
    """The PDF that the data give. Raises BadInput or ArchiveError where they are not what a report is made of."""
    opened = archive_of(data.visit, DATA_NAME)
    try:
        lines = [measured_line(opened, opened.load(Line, each)) for each in data.lines]
        content = report_content(opened, lines, data)
    finally:
        opened.close()
    return pdf_bytes(content, data_text(data))


def _seals(part: VisitPart) -> Iterator[Reason]:
    """Every reading has the hash that it says, and follows the one before it."""
    for each in part.passes:
        previous = NO_HASH
        for number, row in enumerate(each.readings, start=1):
            facts: dict[str, object] = {"pass_id": str(each.id)[-8:], "number": number}
            body = _body(row)
            if body is None:
                yield Reason("report_verify.reading_unreadable", facts)
                return
            reading = read_canonical(body)
            if hashlib.sha256(body).hexdigest() != row.hash:
                yield Reason("report_verify.reading_changed", facts | {"position_mm": reading.position_mm})
            if reading.previous_hash != previous or reading.number != number - 1:
                yield Reason("report_verify.chain_broken", facts)
            previous = bytes.fromhex(row.hash) if _is_hash(row.hash) else NO_HASH


def _body(row: ReadingRow) -> bytes | None:
    try:
        body = sealed_bytes(row)
        read_canonical(body)
    except (ArchiveError, ValueError, TypeError):
        return None
    return body


def _is_hash(text: str) -> bool:
    return len(text) == 64 and all(sign in "0123456789abcdef" for sign in text)


def _root(data: ReportData, heads: Sequence[Head]) -> Iterator[Reason]:
    if data.root is not None and data.root != root_of(heads):
        yield Reason("report_verify.root_differs", {"printed": data.root[:16], "computed": root_of(heads)[:16]})


def _signatures(data: ReportData) -> Iterator[Reason]:
    """Drawn signatures say what they sign: the same data, the same root."""
    now = content_sha256(data)
    for each in data.signatures:
        if each.content_sha256 != now or each.root != data.root:
            name = data.signers.get(str(each.person_id), "-")
            yield Reason("report_verify.signed_something_else", {"name": name, "signed": each.content_sha256[:16]})


def _printed_again(report: PrintedReport, data: ReportData) -> Iterator[Reason]:
    """The pages and the files inside, against those that the data give."""
    try:
        again = printed(computed_again(data), "-")
    except WaywrightError as problem:
        yield Reason("report_verify.not_computed", {"why": str(problem)})
        return
    except Exception as problem:  # data from elsewhere may say what no program of ours writes
        yield Reason("report_verify.not_computed", {"why": f"{type(problem).__name__}: {str(problem)[:120]}"})
        return
    for name, contents in again.files.items():
        yield from _file(name, report.files.get(name), contents)
    for number, (found, wanted) in enumerate(zip(report.pages, again.pages, strict=False), start=1):
        yield from _page(number, found, wanted)
    if len(report.pages) != len(again.pages):
        yield Reason("report_verify.other_pages", {"printed": len(report.pages), "computed": len(again.pages)})


def _file(name: str, found: bytes | None, wanted: bytes) -> Iterator[Reason]:
    if found is None:
        yield Reason("report_verify.file_missing", {"name": name})
    elif found != wanted and name != DATA_NAME:
        pairs = zip(found.decode(errors="replace").split("\n"), wanted.decode().split("\n"), strict=False)
        line, printed_line, computed = next(
            ((number, a, b) for number, (a, b) in enumerate(pairs, start=1) if a != b), (0, "", "")
        )
        facts = {"name": name, "line": line, "printed": printed_line[:60], "computed": computed[:60]}
        yield Reason("report_verify.file_differs", facts)


def _page(number: int, found: PrintedPage, wanted: PrintedPage) -> Iterator[Reason]:
    if found.words == wanted.words:
        if found.drawn != wanted.drawn:
            yield Reason("report_verify.drawn_differently", {"page": number})
        return
    matcher = difflib.SequenceMatcher(None, found.words, wanted.words, autojunk=False)
    for what, a, b, c, d in matcher.get_opcodes():
        if what == "equal":
            continue
        printed_words, computed = " ".join(found.words[a:b]), " ".join(wanted.words[c:d])
        key = "number_differs" if _has_digit(printed_words + computed) else "word_differs"
        before = " ".join(found.words[max(0, a - _AROUND) : a])
        facts = {
            "page": number,
            "printed": printed_words[:60] or "–",
            "computed": computed[:60] or "–",
            "before": before,
        }
        yield Reason(f"report_verify.{key}", facts)


def _has_digit(word: str) -> bool:
    return any(sign.isdigit() for sign in word)


def _in_archive(archive: Archive, part: VisitPart) -> Iterator[Reason]:
    """Every chain of the report is the beginning of the archive's chain of the same name."""
    kept = part_of(archive, part.visit, BESIDE_THE_REPORT)
    passes = {each.id: each for each in kept.passes}
    for each in part.passes:
        there = passes.get(each.id)
        beginning = () if there is None else there.readings[: len(each.readings)]
        if [row.hash for row in beginning] != [row.hash for row in each.readings]:
            yield Reason("report_verify.not_in_archive", {"pass_id": str(each.id)[-8:]})
    ids = {row.id for row in part.records if row.kind != "person"}
    as_then = replace(kept, records=tuple(row for row in kept.records if row.id in ids))
    for head, then in zip(
        [h for h in heads_of(part) if h.kind == "computer"],
        [h for h in heads_of(as_then) if h.kind == "computer"],
        strict=False,
    ):
        if head != then:
            yield Reason("report_verify.records_not_in_archive", {"name": head.name, "links": head.links})


def _notes(report: PrintedReport, data: ReportData) -> Iterator[Reason]:
    if data.software != __version__:
        yield Reason("report_verify.other_version", {"made": data.software, "now": __version__})
    if report.signed:
        yield Reason("report_verify.carries_signature", {})
