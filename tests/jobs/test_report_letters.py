"""Words in letters that the report's font has not: the report is written all the same, and agrees with its data."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from made_line import two_passes

from waywright.archive import open_archive
from waywright.jobs.prove import written_report
from waywright.jobs.report_order import ReportOrder
from waywright.jobs.verify_report import verified
from waywright.report.printed import read_printed


def test_letters_without_a_font_keep_no_report_from_being_written(tmp_path: Path) -> None:
    archive, _ = two_passes(tmp_path)
    with open_archive(archive) as opened:
        opened.save(replace(opened.visits()[0], purpose="acceptance \N{CJK UNIFIED IDEOGRAPH-93E1}\x02 after moving"))
    report = written_report([], tmp_path, ReportOrder(uncertainty=False), archive).files[0]
    words = " ".join(word for page in read_printed(report).pages for word in page.words)
    assert "acceptance ?? after moving" in words
    assert verified(report, archive).agrees
