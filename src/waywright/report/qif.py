"""Results as QIF 3.0 (ISO 23952): straightness, flatness, squareness and parallelism with value, tolerance and verdict.

A subset of the standard's results application, described in the reference pages and checked in the tests against a
hand-made schema of that subset (``qif-subset.xsd``). Values are in mm; squareness and parallelism, which are angles
here, are stated as mm over 1000 mm and say so. The uncertainty is the combined standard uncertainty.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from uuid import NAMESPACE_URL, uuid5
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from waywright.report.content import ReportContent
from waywright.report.content_line import FurtherContent, LineContent, QuantityContent
from waywright.report.saying import Saying
from waywright.wording import speaking

NAMESPACE = "http://qifstandards.org/xsd/qif3"
_STATUS = {"conforms": "PASS", "does-not-conform": "FAIL", "undecided": "UNKNOWN"}
_FURTHER = {"flatness": "Flatness", "squareness": "Perpendicularity", "parallelism": "Parallelism"}


@dataclass(frozen=True, slots=True)
class _Result:
    """One characteristic: its QIF word, names, and values in mm."""

    word: str
    name: str
    description: str
    value_mm: float
    tolerance_mm: float | None
    uncertainty_mm: float | None
    status: str


def qif_text(content: ReportContent) -> str:
    """The results of a report as a QIF document; the same content gives the same text."""
    with speaking("en"):
        results = [found for line in content.lines for found in _results(content, line)]
        return _document(content, results)


def _results(content: ReportContent, line: LineContent) -> Iterator[_Result]:
    say = Saying(content)
    for each in line.quantities:
        if each.code.is_straightness and each.chosen.reference != "none":
            yield _straightness(say, line, each)
    for further in line.further:
        found = _further(say, line, further)
        if found is not None:
            yield found


def _straightness(say: Saying, line: LineContent, each: QuantityContent) -> _Result:
    return _Result(
        "Straightness",
        f"{each.code.text} {line.line.name} {line.line.state}",
        say.summary(line, each),
        each.chosen.value / 1e3,
        *_judged(each),
    )


def _judged(each: QuantityContent | FurtherContent) -> tuple[float | None, float | None, str]:
    """Tolerance and standard uncertainty in mm (over 1000 mm for angles), and the word of the verdict."""
    verdict, stated = each.verdict, each.uncertainty
    return (
        None if verdict is None or verdict.limit is None else verdict.limit / 1e3,
        None if stated is None else stated.expanded / stated.coverage_factor / 1e3,
        "NOT_CALCULATED" if verdict is None else _STATUS.get(verdict.verdict or "", "NOT_CALCULATED"),
    )


def _further(say: Saying, line: LineContent, each: FurtherContent) -> _Result | None:
    """The first figure of a result that QIF has a word for; None for others and where nothing was judged."""
    word = _FURTHER.get(each.kind)
    row = next((row for row in each.rows if row.value is not None and row.unit in ("µm", "µm/m")), None)
    if word is None or row is None or row.value is None:
        return None
    said = " ".join(say.said(found) for found in each.said)
    over = "Stated in mm over 1000 mm. " if row.unit == "µm/m" else ""
    name = f"{each.kind} {line.line.name} {line.line.state}"
    return _Result(word, name, over + said, abs(row.value) / 1e3, *_judged(each))


def _document(content: ReportContent, results: list[_Result]) -> str:
    root = Element("QIFDocument", {"xmlns": NAMESPACE, "versionQIF": "3.0.0"})
    ids = iter(range(1, 10_000_000))
    number = content.issue.number or content.machine.name
    seal = content.root or content.made_utc.isoformat()
    SubElement(root, "QPId").text = str(uuid5(NAMESPACE_URL, f"{number} {content.issue.revision} {seal}"))
    header = SubElement(root, "Header")
    application = SubElement(header, "Application")
    SubElement(application, "Name").text = "Waywright"
    SubElement(application, "Organization").text = "Waywright"
    SubElement(application, "Version").text = content.software_version
    SubElement(header, "Description").text = Saying(content).heading()
    units = SubElement(SubElement(SubElement(root, "FileUnits"), "PrimaryUnits"), "LinearUnit")
    SubElement(units, "SIUnitName").text = "meter"
    SubElement(units, "UnitName").text = "mm"
    SubElement(SubElement(units, "UnitConversion"), "Factor").text = "0.001"
    devices = _devices(root, content, ids)
    items = _characteristics(root, results, ids)
    _measured(root, content, results, items, devices, ids)
    root.set("idMax", str(next(ids) - 1))
    indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(root, encoding="unicode") + "\n"


def _devices(root: Element, content: ReportContent, ids: Iterator[int]) -> list[str]:
    uses = list(dict.fromkeys(use for line in content.lines for use in line.setup.instruments))
    if not uses:
        return []
    devices = SubElement(SubElement(root, "MeasurementResources"), "MeasurementDevices", {"n": str(len(uses))})
    found = []
    for use in uses:
        found.append(str(next(ids)))
        device = SubElement(devices, "MeasurementDevice", {"id": found[-1]})
        SubElement(device, "Name").text = use.title
        if use.serial:
            SubElement(device, "SerialNumber").text = use.serial
        if use.certificate:
            calibration = SubElement(device, "CalibrationStatus")
            SubElement(calibration, "CertificateNumber").text = use.certificate
            if use.certificate_due:
                SubElement(calibration, "Due").text = use.certificate_due
    return found


def _characteristics(root: Element, results: list[_Result], ids: Iterator[int]) -> list[str]:
    """Definitions with tolerances, then items; the ids of the items."""
    holder = SubElement(root, "Characteristics")
    definitions = SubElement(holder, "CharacteristicDefinitions", {"n": str(len(results))})
    numbers = []
    for each in results:
        numbers.append(str(next(ids)))
        definition = SubElement(definitions, f"{each.word}CharacteristicDefinition", {"id": numbers[-1]})
        SubElement(definition, "Name").text = each.name
        if each.tolerance_mm is not None:
            SubElement(definition, "ToleranceValue").text = _number(each.tolerance_mm)
    items = SubElement(holder, "CharacteristicItems", {"n": str(len(results))})
    found = []
    for each, number in zip(results, numbers, strict=True):
        found.append(str(next(ids)))
        item = SubElement(items, f"{each.word}CharacteristicItem", {"id": found[-1]})
        SubElement(item, "Description").text = each.description
        SubElement(item, "Name").text = each.name
        SubElement(item, "CharacteristicDefinitionId").text = number
    return found


def _measured(
    root: Element,
    content: ReportContent,
    results: list[_Result],
    items: list[str],
    devices: list[str],
    ids: Iterator[int],
) -> None:
    sets = SubElement(SubElement(root, "MeasurementsResults"), "MeasurementResultsSet", {"n": "1"})
    own = SubElement(sets, "MeasurementResults", {"id": str(next(ids))})
    SubElement(own, "MeasurementDeviceIds", {"n": str(len(devices))}).text = " ".join(devices)
    holder = SubElement(
        SubElement(own, "MeasuredCharacteristics"), "CharacteristicMeasurements", {"n": str(len(results))}
    )
    for each, item in zip(results, items, strict=True):
        found = SubElement(holder, f"{each.word}CharacteristicMeasurement", {"id": str(next(ids))})
        SubElement(SubElement(found, "Status"), "CharacteristicStatusEnum").text = each.status
        SubElement(found, "CharacteristicItemId").text = item
        given = {} if each.uncertainty_mm is None else {"combinedUncertainty": _number(each.uncertainty_mm)}
        SubElement(found, "Value", given).text = _number(each.value_mm)
    inspected = SubElement(own, "InspectionTraceability")
    SubElement(inspected, "ReportNumber").text = content.issue.number or "-"
    SubElement(inspected, "InspectionStart").text = content.made_utc.strftime("%Y-%m-%dT%H:%M:%SZ")


def _number(value: float) -> str:
    """A decimal without exponent (xs:decimal), nanometres kept."""
    return f"{value:.7f}"
