"""Digital calibration certificates into descriptions; XML that is built to harm is refused, bounded.

The certificate is invented, in the structure of DCC 3 with D-SI 2 units as the public documentation shows it.
"""

from __future__ import annotations

import math
import time
import tracemalloc
from datetime import date
from pathlib import Path

import pytest

from waywright.cli import main
from waywright.errors import BadInput
from waywright.files.certificate_file import read_certificate
from waywright.instruments import read_instrument
from waywright.jobs.certificate import bring_in_certificate
from waywright.quantities import Kind

BEAM = """# A beam detector of an invented workshop.
format = 1
name = "beam"
title = "two-axis beam position detector"
serial = "HR-BD-01"

[certificate]
number = "old"
date = 2020-01-01
due = 2027-01-10

[link]
kind = "tcp"
host = "127.0.0.1"
port = 50001

[stream]
pattern = '^(?P<v>\\S+) (?P<s>\\S+)$'
rate_hz = 50

[[channel]]
name = "vertical"   # the upper one
group = "v"
kind = "displacement"
unit = "mm"
positive = "up"

[[channel]]
name = "side"
group = "s"
kind = "displacement"
unit = "um"
positive = "towards-operator"
"""
DCC = r"""<?xml version="1.0" encoding="UTF-8"?>
<dcc:digitalCalibrationCertificate xmlns:dcc="https://ptb.de/dcc" xmlns:si="https://ptb.de/si" schemaVersion="3.3.0">
 <dcc:administrativeData>
  <dcc:coreData>
   <dcc:uniqueIdentifier>HR-C-200 "new"</dcc:uniqueIdentifier>
   <dcc:beginPerformanceDate>2026-01-09</dcc:beginPerformanceDate>
   <dcc:endPerformanceDate>2026-01-10</dcc:endPerformanceDate>
  </dcc:coreData>
  <dcc:items><dcc:item>
   <dcc:name><dcc:content lang="en">beam detector</dcc:content></dcc:name>
   <dcc:identifications><dcc:identification><dcc:issuer>manufacturer</dcc:issuer><dcc:value>HR-BD-01</dcc:value>
   </dcc:identification></dcc:identifications>
  </dcc:item></dcc:items>
 </dcc:administrativeData>
 <dcc:measurementResults><dcc:measurementResult><dcc:results><dcc:result><dcc:data><dcc:list>
  <dcc:quantity refType="basic_indicatedValue"><dcc:name><dcc:content>indicated</dcc:content></dcc:name>
   <si:realListXMLList><si:valueXMLList>-1.0 0.0 1.0</si:valueXMLList>
    <si:unitXMLList>\milli\metre</si:unitXMLList></si:realListXMLList>
  </dcc:quantity>
  <dcc:quantity refType="basic_measurementError"><dcc:name><dcc:content>error of indication</dcc:content></dcc:name>
   <si:realListXMLList><si:valueXMLList>0.5 0.0 -1.25</si:valueXMLList><si:unitXMLList>\micro\metre</si:unitXMLList>
    <si:measurementUncertaintyUnivariateXMLList><si:expandedMUXMLList>
     <si:valueExpandedMUXMLList>0.4 0.3 0.4</si:valueExpandedMUXMLList>
     <si:coverageFactorXMLList>2</si:coverageFactorXMLList>
    </si:expandedMUXMLList></si:measurementUncertaintyUnivariateXMLList></si:realListXMLList>
  </dcc:quantity>
 </dcc:list></dcc:data></dcc:result></dcc:results></dcc:measurementResult></dcc:measurementResults>
</dcc:digitalCalibrationCertificate>
"""


def files(folder: Path, dcc: str = DCC) -> tuple[Path, Path]:
    (folder / "beam.toml").write_text(BEAM, encoding="utf-8")
    (folder / "cert.xml").write_text(dcc, encoding="utf-8")
    return folder / "beam.toml", folder / "cert.xml"


def test_what_a_certificate_says(tmp_path: Path) -> None:
    found = read_certificate(files(tmp_path)[1])
    assert (found.number, found.date, found.serials) == ('HR-C-200 "new"', "2026-01-10", ("HR-BD-01",))
    assert found.item == "beam detector"
    assert found.table(Kind.DISPLACEMENT) == ((-1000.0, 0.5), (0.0, 0.0), (1000.0, -1.25))
    assert found.uncertainty(Kind.DISPLACEMENT) == (0.4, 2.0)


@pytest.mark.parametrize(
    ("unit", "kind", "value"),
    [(r"\milli\metre", Kind.DISPLACEMENT, 1e3), (r"\metre", Kind.DISPLACEMENT, 1e6),
     (r"\micro\metre\per\metre", Kind.ANGLE, 1.0), (r"\milli\metre\per\metre", Kind.ANGLE, 1e3),
     (r"\micro\radian", Kind.ANGLE, 1.0), (r"\arcsecond", Kind.ANGLE, math.pi / 648_000 * 1e6),
     (r"\degreecelsius", Kind.TEMPERATURE, 1.0)],
)  # fmt: skip
def test_units_of_the_si(tmp_path: Path, unit: str, kind: Kind, value: float) -> None:
    one = DCC.replace("-1.0 0.0 1.0", "1.0").replace(r"\milli\metre", unit)
    found = read_certificate(files(tmp_path, one)[1]).quantities[0]
    assert (found.kind, found.values) == (kind, pytest.approx((value,)))


def test_it_comes_into_the_description_and_nothing_else_changes(tmp_path: Path) -> None:
    description, certificate = files(tmp_path)
    found = bring_in_certificate(description, certificate)
    assert (found.linearity, found.other_serial) == (("vertical", "side"), ())
    made = read_instrument(description).description
    assert made.certificate is not None
    assert (made.certificate.number, made.certificate.date) == ('HR-C-200 "new"', date(2026, 1, 10))
    assert made.certificate.due == date(2027, 1, 10)  # no certificate says when it is due: kept
    assert (made.certificate.expanded_uncertainty_um, made.certificate.k) == (0.4, 2.0)
    assert made.channel[0].linearity == ((-1.0, pytest.approx(0.0005)), (0.0, 0.0), (1.0, pytest.approx(-0.00125)))
    assert made.channel[1].linearity == ((-1000.0, 0.5), (0.0, 0.0), (1000.0, -1.25))
    text = description.read_text(encoding="utf-8")
    assert "# A beam detector of an invented workshop." in text
    assert 'name = "vertical"   # the upper one' in text
    again = bring_in_certificate(description, certificate)
    assert again == found
    assert description.read_text(encoding="utf-8").count("linearity") == 2


def test_another_instruments_certificate_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    description, certificate = files(tmp_path, DCC.replace("HR-BD-01", "XX-9"))
    assert (
        main(["instrument", "certificate", str(description), str(certificate), "--to", str(tmp_path / "new.toml")]) == 0
    )
    said = " ".join(capsys.readouterr().out.split())
    assert "is of an instrument with the numbers XX-9" in said
    assert description.read_text(encoding="utf-8") == BEAM


HOSTILE = {
    "laughs": ('<!DOCTYPE a [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]><a>&b;</a>', "entities"),
    "external": ('<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><a>&x;</a>', "entities"),
    "dtd": ('<!DOCTYPE a SYSTEM "http://127.0.0.1:9/x.dtd"><a/>', "entities"),
    "deep": ("<a>" * 100_000, "nested deeper"),
    "many": ("<a>" + "<b/>" * 300_000 + "</a>", "has more than"),
    "half": (DCC[: len(DCC) // 2], "no XML that can be read"),
    "empty": ("", "no XML that can be read"),
    "other": ("<svg/>", "no digital calibration certificate"),
    "huge": (DCC.replace("-1.25", "1e300"), "is no number that a certificate can hold"),
    "infinite": (DCC.replace("-1.25", "inf"), "is no number that a certificate can hold"),
    "words": (DCC.replace("-1.25", "=1+1"), "is no number that a certificate can hold"),
    "unnumbered": (DCC.replace('HR-C-200 "new"', ""), "has no number"),
    "long": (DCC.replace("-1.0 0.0 1.0", "1 " * 30_000), "more than 20000 values"),
    "large": ("<a>" + "x" * 21_000_000 + "</a>", "larger than 20 MB"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_xml_built_to_harm_is_refused_with_a_sentence_and_bounded(tmp_path: Path, name: str) -> None:
    data, words = HOSTILE[name]
    description, certificate = files(tmp_path, data)
    tracemalloc.start()
    began = time.process_time()
    with pytest.raises(BadInput, match=words):
        bring_in_certificate(description, certificate)
    assert time.process_time() - began < 10.0
    assert tracemalloc.get_traced_memory()[1] < 200_000_000
    tracemalloc.stop()
    assert description.read_text(encoding="utf-8") == BEAM
