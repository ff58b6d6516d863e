"""Results as QIF 3.0: structure by a hand-made schema of the subset that is written, values by the content."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hr6_example import report_content
from lxml import etree

import waywright.report
from waywright.evaluate.results import Reason
from waywright.report import FigureRow, FurtherContent, ReportContent, UncertaintyContent, VerdictContent
from waywright.report.qif import NAMESPACE, qif_text

SCHEMA = Path(waywright.report.__file__).with_name("qif-subset.xsd")
SPACE = {"q": NAMESPACE}


@pytest.fixture(scope="module")
def content() -> ReportContent:
    """Height conforms with an uncertainty, side is undecided, and there are further results."""
    made = report_content()
    line = made.main
    stated = UncertaintyContent(40.0, (38.0, 42.0), 2.0, 2.0, 0.95, (), 1.0, 50.0)
    height = replace(
        line.quantities[0], uncertainty=stated, verdict=VerdictContent("0.06", limit=60.0, verdict="conforms")
    )
    side = replace(line.quantities[1], verdict=VerdictContent("0.028", limit=28.0, verdict="undecided"))
    said = (Reason("report.not_recorded", {}),)
    angle = UncertaintyContent(-12.0, (-15.0, -9.0), 3.0, 2.0, 0.95, (), 1.5, 50.0, budget="two lines and a square")
    square = VerdictContent("0.02/1000", limit=20.0, verdict="conforms")
    further = (
        FurtherContent("flatness", said, rows=(FigureRow("report.column_value", 7.5, "µm"),)),
        FurtherContent(
            "squareness",
            said,
            rows=(FigureRow("report.column_value", -12.0, "µm/m"),),
            uncertainty=angle,
            verdict=square,
            unit="µm/m",
        ),
        FurtherContent("parallelism", said, rows=(FigureRow("report.column_value", 3.0, "µm/m"),)),
        FurtherContent("passes", said),
    )
    changed = replace(line, quantities=(height, side, line.quantities[2]), further=further)
    return replace(made, lines=(changed,), technician='<&"evil">')


@pytest.fixture(scope="module")
def document(content: ReportContent) -> etree._Element:
    return etree.fromstring(qif_text(content).encode())


def test_it_keeps_the_schema_of_the_subset(document: etree._Element) -> None:
    schema = etree.XMLSchema(etree.parse(SCHEMA))
    assert schema.validate(document), schema.error_log
    wrong = etree.fromstring(etree.tostring(document).replace(b">PASS<", b">FINE<"))
    assert not schema.validate(wrong)


def test_ids_are_unique_and_every_reference_leads_somewhere(document: etree._Element) -> None:
    ids = [int(each) for each in document.xpath("//@id")]
    assert len(set(ids)) == len(ids)
    assert int(document.get("idMax")) == max(ids)
    named = document.xpath("//q:CharacteristicItemId/text() | //q:CharacteristicDefinitionId/text()", namespaces=SPACE)
    assert {int(each) for each in named} <= set(ids)
    for count in document.xpath("//*[@n]"):
        expected = len(count) or len((count.text or "").split())
        assert int(count.get("n")) == expected


def test_values_tolerances_uncertainty_and_verdicts(content: ReportContent, document: etree._Element) -> None:
    rows = document.xpath("//q:CharacteristicMeasurements/*", namespaces=SPACE)
    words = [etree.QName(row).localname.removesuffix("CharacteristicMeasurement") for row in rows]
    assert words == ["Straightness", "Straightness", "Flatness", "Perpendicularity", "Parallelism"]
    values = [float(row.findtext("q:Value", namespaces=SPACE)) for row in rows]
    wanted = [each.chosen.value / 1e3 for each in content.main.quantities[:2]] + [0.0075, 0.012, 0.003]
    assert values == pytest.approx(wanted, abs=6e-8)  # mm, seven decimals
    states = [row.findtext(".//q:CharacteristicStatusEnum", namespaces=SPACE) for row in rows]
    assert states == ["PASS", "UNKNOWN", "NOT_CALCULATED", "PASS", "NOT_CALCULATED"]
    assert rows[0].find("q:Value", namespaces=SPACE).get("combinedUncertainty") == "0.0010000"  # U 2 um by k 2
    assert rows[3].find("q:Value", namespaces=SPACE).get("combinedUncertainty") == "0.0015000"  # 1.5 um/m over 1000 mm
    limits = document.xpath("//q:ToleranceValue/text()", namespaces=SPACE)
    assert limits == ["0.0600000", "0.0280000", "0.0200000"]
    described = document.xpath("//q:PerpendicularityCharacteristicItem/q:Description/text()", namespaces=SPACE)
    assert described[0].startswith("Stated in mm over 1000 mm.")
    devices = document.xpath("//q:MeasurementDevice/q:SerialNumber/text()", namespaces=SPACE)
    assert devices == ["HR-BD-01", "HR-DM-02", "HR-EL-01"]


def test_the_same_content_gives_the_same_text(content: ReportContent) -> None:
    assert qif_text(content) == qif_text(content)
    assert "lxml" in sys.modules  # the reader of this test is not the writer of the program
