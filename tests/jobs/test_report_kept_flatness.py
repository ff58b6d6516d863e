"""Flatness kept with a budget and a rule: its uncertainty and its verdict stand in the report and in the QIF."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pypdf
import pytest
from lxml import etree
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.cli import main
from waywright.jobs.judged_at_visit import further_of_visit
from waywright.jobs.prove import ReportOrder, written_qif, written_report
from waywright.jobs.verify_report import verified
from waywright.report import UncertaintyContent
from waywright.report.qif import NAMESPACE

SPACE = {"q": NAMESPACE}
TRUE_UM = 8.0
"""A bowl 8 um deep, from its middle to its corners, on 5 x 7 points; each reading scatters by 0.4 um."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A visit with a line, and a flatness kept three times: allowed 12 um, allowed 4 um, and plain."""
    made = tmp_path_factory.mktemp("flat")
    with open_archive(made / "a.sqlite", create=True) as opened:
        take_pass(opened, begin_line(opened, made), 1)
    scatter = np.random.default_rng(17)
    across, along = np.meshgrid(np.linspace(-1.0, 1.0, 5), np.linspace(-1.0, 1.0, 7))
    height_um = TRUE_UM * (along**2 + across**2) / 2.0 + scatter.normal(0.0, 0.4, along.shape)
    columns = (450.0 * (along + 1.0), 300.0 * (across + 1.0), height_um)
    rows = [",".join(f"{cell:.4f}" for cell in row) for row in zip(*(one.ravel() for one in columns), strict=True)]
    (made / "grid.csv").write_text("\n".join(["x_mm,y_mm,height_um", *rows]) + "\n", encoding="utf-8")
    contribution = '[[contribution]]\nname = "scatter"\nacts = "reading"\nvalue = 0.4\nunit = "um"\n'
    (made / "b.toml").write_text(f'format = 1\nmethod = "own"\n{contribution}', encoding="utf-8")
    asked = ["evaluate", "flatness", str(made / "grid.csv"), "--keep", "--archive", str(made / "a.sqlite")]
    for rule in ("0.012", "0.004"):
        assert main([*asked, "--uncertainty", str(made / "b.toml"), "--tolerance", rule]) == 0
    assert main(asked) == 0
    (made / "b.toml").unlink()  # what was kept needs no file
    return made


def stated(folder: Path) -> UncertaintyContent:
    with open_archive(folder / "a.sqlite") as opened:
        first, second, plain = further_of_visit(opened, opened.visits()[0].id)[None]
    assert (plain.uncertainty, plain.verdict) == (None, None)
    assert first.unit == second.unit == "µm"
    assert first.uncertainty is not None
    return first.uncertainty


def test_the_report_states_the_flatness_and_judges_it(folder: Path, tmp_path: Path) -> None:
    uncertainty = stated(folder)
    low, high = uncertainty.interval
    assert low < TRUE_UM < high < 12.0
    [report, *_] = written_report([], tmp_path, ReportOrder(uncertainty=False), folder / "a.sqlite").files
    words = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(report).pages)
    assert f"{low:.1f} to {high:.1f} µm" in words
    assert "Flatness by “0.012”: conforms." in words
    assert "Flatness by “0.004”: does not conform." in words
    assert verified(report, folder / "a.sqlite").agrees


def test_the_qif_carries_u_tolerance_and_status(folder: Path, tmp_path: Path) -> None:
    uncertainty = stated(folder)
    root = etree.parse(written_qif([], tmp_path / "r.qif", ReportOrder(uncertainty=False), folder / "a.sqlite"))
    found = root.findall(".//q:FlatnessCharacteristicMeasurement", SPACE)
    states = [each.findtext(".//q:CharacteristicStatusEnum", namespaces=SPACE) for each in found]
    assert states == ["PASS", "FAIL", "NOT_CALCULATED"]
    given = [each.find("q:Value", SPACE).get("combinedUncertainty") for each in found]
    standard_mm = uncertainty.expanded / uncertainty.coverage_factor / 1e3
    assert given == [f"{standard_mm:.7f}", f"{standard_mm:.7f}", None]
    assert 0.0001 < standard_mm < 0.001, "scatter of 0.4 um gives some tenths of a micrometre"
    limits = [each.text for each in root.findall(".//q:FlatnessCharacteristicDefinition/q:ToleranceValue", SPACE)]
    assert limits == ["0.0120000", "0.0040000"]
