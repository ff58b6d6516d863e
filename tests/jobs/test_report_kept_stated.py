"""A result kept for the report with its uncertainty and its rule: stated and judged anew, in the PDF and as QIF."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdf
import pytest
from lxml import etree
from made_line import BEGAN, begin_line, take_pass

from waywright.archive import open_archive
from waywright.cli import main
from waywright.clocks import new_id
from waywright.files import ReadingsTable, write_table
from waywright.files.budget_file import ready_budget_text
from waywright.jobs.judged_at_visit import answer_again, further_of_visit, questions_of
from waywright.jobs.prove import ReportOrder, written_qif, written_report
from waywright.jobs.report_stated import Agreed, with_trust
from waywright.jobs.verify_report import verified
from waywright.report.qif import NAMESPACE
from waywright.visit import PlanItem, VisitPlan
from waywright.visit.plan import PlanAgreement, PlanTolerance

X_MM = np.linspace(0.0, 3000.0, 16)
SPACE = {"q": NAMESPACE}


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A visit with a line, and a squareness of 30 um/m kept twice: with budget and rule, and plain."""
    folder = tmp_path_factory.mktemp("stated")
    with open_archive(folder / "a.sqlite", create=True) as opened:
        take_pass(opened, begin_line(opened, folder), 1)
    scatter = np.random.default_rng(5)
    tables = []
    for name, code, slope in (("x", "EYX", 0.020), ("y", "EXY", 0.010)):
        tables.append(str(folder / f"{name}.csv"))
        write_table(folder / f"{name}.csv", ReadingsTable(X_MM, {code: slope * X_MM + scatter.normal(0.0, 0.8, 16)}))
    budget = folder / "own-budget.toml"
    budget.write_text(ready_budget_text("beam"), encoding="utf-8")
    asked = ["evaluate", "squareness", *tables, "--code", "C0Y", "--keep", "--archive", str(folder / "a.sqlite")]
    assert main([*asked, "--uncertainty", str(budget), "--tolerance", "0.05/1000"]) == 0
    assert main(asked) == 0
    budget.unlink()  # what was kept needs no file
    return folder / "a.sqlite"


def test_it_is_stated_and_judged_anew_from_what_was_kept(archive: Path) -> None:
    with open_archive(archive) as opened:
        stated, plain = further_of_visit(opened, opened.visits()[0].id)[None]
    assert (plain.uncertainty, plain.verdict) == (None, None)
    assert stated.uncertainty is not None
    assert stated.verdict is not None
    assert stated.uncertainty.interval[0] < -30.0 < stated.uncertainty.interval[1]
    assert (stated.unit, stated.verdict.verdict, stated.verdict.limit) == ("µm/m", "conforms", pytest.approx(50.0))


def test_the_report_says_it_and_verifies(archive: Path, tmp_path: Path) -> None:
    report = written_report([], tmp_path, ReportOrder(uncertainty=False), archive).files[0]
    text = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(report).pages)
    assert "True value 95" in text
    assert "Squareness by “0.05/1000”: conforms." in text
    assert verified(report, archive).agrees


def test_the_qif_carries_tolerance_verdict_and_uncertainty(archive: Path, tmp_path: Path) -> None:
    file = written_qif([], tmp_path / "r.qif", ReportOrder(uncertainty=False), archive)
    root = etree.parse(file)
    stated, plain = root.findall(".//q:PerpendicularityCharacteristicMeasurement", SPACE)
    states = [each.findtext(".//q:CharacteristicStatusEnum", namespaces=SPACE) for each in (stated, plain)]
    assert states == ["PASS", "NOT_CALCULATED"]
    given = [each.find("q:Value", SPACE) for each in (stated, plain)]
    assert given[0] is not None
    assert given[1] is not None
    assert given[0].text == given[1].text
    assert 0.0002 < float(given[0].get("combinedUncertainty", "0")) < 0.005
    assert given[1].get("combinedUncertainty") is None
    assert [each.text for each in root.findall(".//q:ToleranceValue", SPACE)] == ["0.0500000"]


def test_a_rule_of_the_agreed_plan_goes_before_the_one_that_was_kept(archive: Path) -> None:
    """The contract allows 0.02/1000; 0.05/1000 was asked for when the result was kept."""
    with open_archive(archive) as opened:
        visit = opened.visits()[0].id
        [kept, *_] = questions_of(opened, visit)
        rule = PlanTolerance("0.02/1000", "contract 12, sheet 3", confirmed=True)
        tests = (
            PlanItem("square", "cross slide to bed", test="squareness", code="C0Y", tolerance=rule),
            PlanItem("other", "bed", test="straightness", code="C0Y", tolerance=PlanTolerance("0.001/1000")),
        )
        plan = VisitPlan(new_id(), visit, "acceptance", tests, agreements=(PlanAgreement(new_id(), "customer", BEGAN),))
        entry, result = further_of_visit(opened, visit)[None][0], answer_again(opened, kept).results[0]
        [judged] = with_trust([entry], [result], kept.trust, Agreed(plan))
        [for_information] = with_trust([entry], [result], kept.trust, Agreed(replace(plan, agreements=())))
    assert judged.verdict is not None
    assert (judged.verdict.verdict, judged.verdict.limit) == ("does-not-conform", pytest.approx(20.0))
    assert (judged.verdict.source, judged.verdict.binding) == ("contract 12, sheet 3", True)
    assert for_information.verdict is not None
    assert not for_information.verdict.binding
