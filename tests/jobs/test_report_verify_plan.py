"""A report judged by an agreed rule, in German and in both languages, computed again from what lies inside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.archive.chains import heads_of, root_of
from waywright.clocks import SystemClock
from waywright.jobs.plans import agree, begin_plan, with_fields, with_tolerance
from waywright.jobs.prove import written_report
from waywright.jobs.report_order import ReportData, ReportOrder, data_from, data_text
from waywright.jobs.verify_report import Verified, verified
from waywright.report.printed import PrintedReport, read_printed
from waywright.visit import Person
from waywright.wording.said import sentence

RULE = "0.05"
LANGUAGES = ("en", "de", "en+de")


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two passes of an invented lathe, with a plan that both parties agreed to."""
    folder = tmp_path_factory.mktemp("verify_plan")
    with open_archive(folder / "a.sqlite", create=True) as opened:
        begun = begin_line(opened, folder)
        take_pass(opened, begun, 1)
        take_pass(opened, begun, 2, offset_um=1.5)
        visit, person, clock = opened.visits()[0], opened.every(Person)[0], SystemClock()
        plan = begin_plan(opened, visit, None, None, person.id)
        item = next(each for each in plan.items if each.code == "EYZ")
        plan = with_tolerance(plan, item.key, RULE, "contract HR-77 (invented), 4.2", person, clock)
        plan = with_fields(plan, item.key, {"line": "carriage"})
        for party in ("customer", "maker"):
            plan = agree(opened, plan, person, party, clock)
    return folder / "a.sqlite"


@pytest.fixture(scope="module")
def reports(archive: Path) -> dict[str, Path]:
    return {
        language: written_report([], archive.parent / language, ReportOrder(language=language), archive).files[0]
        for language in LANGUAGES
    }


@pytest.fixture(scope="module")
def checked(reports: dict[str, Path], archive: Path) -> dict[str, Verified]:
    return {language: verified(file, archive) for language, file in reports.items()}


def words_of(report: PrintedReport) -> str:
    return " ".join(word for page in report.pages for word in page.words)


def data_of(file: Path) -> ReportData:
    inside = read_printed(file).data
    assert inside is not None
    return data_from(inside)


@pytest.mark.parametrize("language", LANGUAGES)
def test_it_agrees_with_its_data_and_its_archive_in_every_language(checked: dict[str, Verified], language: str) -> None:
    found = checked[language]
    assert found.agrees, [sentence(each.key, each.facts) for each in found.findings]
    assert (found.passes, found.readings) == (2, 42)


@pytest.mark.parametrize(
    ("language", "verdict", "side"),
    [("en", "Everything that was judged conforms", "customer"), ("de", "Alles Beurteilte ist konform", "Kunde")],
)
def test_the_rule_what_it_comes_to_and_who_agreed_are_printed(
    reports: dict[str, Path], language: str, verdict: str, side: str
) -> None:
    words = words_of(read_printed(reports[language]))
    assert "HR-77" in words
    assert verdict in words
    assert side in words


def test_the_same_archive_gives_the_same_bytes_in_both_languages(
    reports: dict[str, Path], archive: Path, tmp_path: Path
) -> None:
    again = written_report([], tmp_path, ReportOrder(language="en+de"), archive).files[0]
    assert again.read_bytes() == reports["en+de"].read_bytes()


def changed(report: Path, target: Path, change: Callable[[ReportData], ReportData]) -> list[str]:
    """What is said of the same pages with other data inside."""
    with pikepdf.open(report) as document:
        document.attachments["visit.json"].get_file().obj.write(data_text(change(data_of(report))).encode())
        document.save(target)
    return [sentence(each.key, each.facts) for each in verified(target).findings]


def wider(data: ReportData) -> ReportData:
    """The agreed rule made ten times as wide, in every revision of the plan."""
    rows = []
    for row in data.visit.records:
        body = row.body if row.body is None else row.body.replace(f'"{RULE}"', '"0.5"')
        rows.append(replace(row, body=body))
    made = replace(data, visit=replace(data.visit, records=tuple(rows)))
    assert made != data
    return replace(made, root=root_of(heads_of(made.visit)))


def test_a_wider_rule_inside_is_named_where_the_report_prints_the_agreed_one(
    reports: dict[str, Path], tmp_path: Path
) -> None:
    """Even where the forger has made the root anew."""
    found = changed(reports["en"], tmp_path / "wider.pdf", wider)
    assert any(words.startswith("Page 1") for words in found), found


def test_data_that_no_program_of_ours_writes_are_said_and_no_more(reports: dict[str, Path], tmp_path: Path) -> None:
    """A party that there is none of, where the report wants to name it."""

    def strange(data: ReportData) -> ReportData:
        rows = tuple(
            replace(row, body=row.body and row.body.replace('"maker"', '"nobody"')) for row in data.visit.records
        )
        assert rows != data.visit.records
        return replace(data, visit=replace(data.visit, records=rows))

    found = changed(reports["en"], tmp_path / "strange.pdf", strange)
    assert any(words.startswith("The root") for words in found), found
    assert any("nobody" in words for words in found), found


@pytest.mark.parametrize("language", ["en", "de"])
def test_a_number_of_the_report_changed_inside_is_named(
    reports: dict[str, Path], tmp_path: Path, language: str
) -> None:
    found = changed(reports[language], tmp_path / "number.pdf", lambda data: replace(data, number="R-9999"))
    assert any("R-9999" in words for words in found), found
