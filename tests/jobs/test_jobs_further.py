"""Kept lines: passes compared, further results in the report, segments joined."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import openpyxl
import pypdf
import pytest
from made_line import BEGAN, begin_line, height_um, take_pass

from waywright.archive import Archive, open_archive
from waywright.clocks import new_id
from waywright.jobs.begin import Begun
from waywright.jobs.further import further_of_line
from waywright.jobs.line_passes import passes_of_line
from waywright.jobs.measured import joined, measured_line, results_of_line
from waywright.jobs.prove import ReportOrder, report_of
from waywright.jobs.told import sentence, told
from waywright.readings import ChannelValue, Reading, seal
from waywright.report import pdf_bytes, workbook_bytes
from waywright.visit import Pass, PassSettings, SetUp


@pytest.fixture
def archive(tmp_path: Path) -> Iterator[Archive]:
    with open_archive(tmp_path / "a.sqlite", create=True) as opened:
        yield opened


@pytest.fixture
def begun(archive: Archive, tmp_path: Path) -> Begun:
    return begin_line(archive, tmp_path)


def test_passes_of_a_line_carry_times_and_standard_deviations(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2, offset_um=2.0)
    result = passes_of_line(measured_line(archive, begun.line), "EYZ")
    assert result.positive == "up"
    assert result.reversal_um == pytest.approx(-2.0)
    assert result.drift is not None
    assert not result.drift.separable
    assert result.findings == ()
    # 0.5 um over 150 samples is the floor of the noise; a difference of two passes, limit 5.0 and power 0.84
    assert result.noticeable_spike_um == pytest.approx(5.84 * np.sqrt(2 / 150) * 0.5, rel=0.1)
    said = " ".join(sentence(each) for each in told(result))
    assert "Figures are positive up" in said


def test_a_slip_in_kept_readings_is_found_in_screen_sign(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2)
    _take(archive, begun, begun.setup, 3, np.linspace(0, 5000, 21), lambda x: height_um(x) + 9.0 * (x > 2600))
    result = passes_of_line(measured_line(archive, begun.line), "EYZ")
    [found] = result.findings
    assert (found.kind, found.passes) == ("step", (3,))
    assert found.size_um == pytest.approx(9.0, abs=0.1)
    assert (found.from_mm, found.to_mm) == (2500.0, 2750.0)


def test_the_report_says_what_the_passes_say(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2, offset_um=2.0)
    measured = measured_line(archive, begun.line)
    further = further_of_line(measured)
    assert [each.kind for each in further] == ["passes", "passes", "spatial"]
    content, _ = report_of(archive, [measured], ReportOrder(uncertainty=False))
    pdf = pdf_bytes(content)
    assert pdf == pdf_bytes(content)
    pages = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    for words in (
        "Further results",
        "The passes compared",
        "Straightness in space",
        "Reversal (forward minus backward)",
    ):
        assert words in pages
    book = openpyxl.load_workbook(io.BytesIO(workbook_bytes(content)))
    cells = [str(cell.value) for row in book["About"].iter_rows() for cell in row if cell.value]
    assert any("Reversal (forward minus backward) at most \N{MINUS SIGN}2.0 µm" in cell for cell in cells)


def test_a_report_without_further_results_has_no_empty_heading(archive: Archive, begun: Begun) -> None:
    take_pass(archive, begun, 1)
    measured = measured_line(archive, begun.line)
    content, _ = report_of(archive, [measured], ReportOrder(uncertainty=False))
    bare = pdf_bytes(replace(content, lines=(replace(content.lines[0], further=()),)))
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(bare)).pages)
    assert "Further results" not in text


def test_segments_of_a_kept_line_are_joined(archive: Archive, begun: Begun) -> None:
    """The beam is aimed again for the second half: another set-up, its own offset and tilt."""
    again = replace(begun.setup, id=new_id(), segment=2)
    archive.save(again)
    assert begun.interpretation is not None
    archive.save(replace(begun.interpretation, id=new_id(), setup_id=again.id))
    _take(archive, begun, begun.setup, 1, np.linspace(0, 3000, 13), height_um)
    _take(archive, begun, again, 2, np.linspace(2000, 5000, 13), lambda x: height_um(x) + 35.0 - 0.02 * x)
    measured = measured_line(archive, begun.line)
    whole = joined(measured, "EYZ")
    assert whole.position_mm == pytest.approx(np.linspace(0, 5000, 21))
    assert whole.mean == pytest.approx(height_um(whole.position_mm), abs=1e-6)
    results = [result for result in results_of_line(measured, "end-points", None) if result.code == "EYZ"]
    assert results[-1].chosen.value_um == pytest.approx(30.0)
    assert results[-1].end_mm == 5000.0


def _take(archive: Archive, begun: Begun, setup: SetUp, number: int, places_mm: np.ndarray, shape) -> None:  # type: ignore[no-untyped-def]
    """A finished pass of a set-up over its own places."""
    began = BEGAN + timedelta(minutes=10 * number)
    taken = Pass(
        new_id(began), begun.line.id, setup.id, number, "forward", begun.position_channel, begun.channels, began,
        PassSettings(3.0, 1.5, 20.0),
    )  # fmt: skip
    archive.begin_pass(taken)
    last: Reading | None = None
    for index, place in enumerate(places_mm):
        when = began + timedelta(seconds=10 * index)
        values = (
            ChannelValue("beam.vertical_um", float(shape(place)), 0.5, 150),
            ChannelValue("beam.side_um", 0.002 * place, 0.4, 150),
        )
        draft = Reading(
            new_id(when), taken.id, index, float(place), "forward", values, when, when + timedelta(seconds=3)
        )
        last = seal(draft, last)
        archive.keep_reading(last)
    archive.end_pass(replace(taken, ended_utc=began + timedelta(minutes=5), outcome="finished"))
