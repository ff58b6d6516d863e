"""Kept lines asked like tables, questions kept for the report, joints of the machine, what a line says by itself."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from made_line import STATIONS_MM, begin_line, height_um, take_pass

from waywright.archive import Archive, open_archive
from waywright.cli import main
from waywright.clocks import new_id
from waywright.jobs.begin import Begun
from waywright.jobs.further import further_of_line, further_results
from waywright.jobs.judge_joints import JointResult
from waywright.jobs.judge_parts import FunctionalPointResult
from waywright.jobs.judged_at_visit import answer_again, further_of_visit, questions_of
from waywright.jobs.line_table import table_of_line
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.jobs.told import sentence
from waywright.machine import Bed, Joint
from waywright.visit import Exclusion


@pytest.fixture
def archive(tmp_path: Path) -> Iterator[Archive]:
    with open_archive(tmp_path / "a.sqlite", create=True) as opened:
        yield opened


@pytest.fixture
def begun(archive: Archive, tmp_path: Path) -> Begun:
    """Two passes of a line whose positions grow to the left from 5950 mm of the bed; the bed has two joints."""
    begun = begin_line(archive, tmp_path)
    bed = Bed(6400.0, gauge_mm=900.0, joints=(Joint(3450.0, 200.0), Joint(6300.0, 200.0)))
    archive.save(replace(begun.machine, bed=bed))
    take_pass(archive, begun, 1)
    take_pass(archive, begun, 2, offset_um=2.0)
    return begun


def evaluated(capsys: pytest.CaptureFixture[str], archive: Archive, *words: object, code: int = 0) -> str:
    assert main(["evaluate", *map(str, words), "--archive", str(archive.path)]) == code
    printed = capsys.readouterr()
    return printed.out if code == 0 else printed.err


def result(capsys: pytest.CaptureFixture[str], archive: Archive, *words: object) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(evaluated(capsys, archive, *words, "--json"))["results"][0]
    return found


def test_a_kept_line_is_asked_like_a_table(archive: Archive, begun: Begun, capsys: pytest.CaptureFixture[str]) -> None:
    """EYZ is positive down on this lathe: a table has the ISO sign, the hump of 30 um is hollow in it."""
    found = json.loads(evaluated(capsys, archive, "straightness", "line:carriage", "--quantity", "EYZ", "--json"))
    mean = found["results"][-1]
    assert mean["by_reference"]["end-points"]["value_um"] == pytest.approx(30.0)
    assert mean["by_reference"]["end-points"]["smallest_um"] == pytest.approx(-30.0)
    assert mean["basis"]["passes"] == [1, 2]
    assert mean["basis"]["positive"] == {"EYZ": "down"}
    assert mean["basis"]["excluded"] == 0
    passes = result(capsys, archive, "passes", "line:carriage", "--quantity", "EYZ")
    assert passes["largest_reversal_um"] == pytest.approx(2.0)
    assert passes["drift"] is not None  # the times of the readings came along


def test_the_table_of_a_line_carries_what_columns_cannot(archive: Archive, begun: Begun) -> None:
    measured = measured_line(archive, begun.line)
    left = measured.passes[0].readings[3]
    archive.save(Exclusion(new_id(), left.id, "crane passed", left.began_utc))
    table = table_of_line(measured_line(archive, begun.line))
    notes = table.metadata
    assert (notes["up"], notes["operator"], notes["zero mark"], notes["positions grow"]) == (
        "-Y", "+X", "tailstock mark", "left",
    )  # fmt: skip
    assert notes["excluded"] == "pass 1, 750 mm, crane passed"
    assert notes["joints"] == "2500"  # 5950 - 3450; the other lies behind the first station
    assert table.position_mm.size == 2 * STATIONS_MM.size - 1


def test_a_line_says_joint_and_basis_by_itself(archive: Archive, begun: Begun) -> None:
    measured = measured_line(archive, begun.line)
    found = further_results(measured)
    assert [each.kind for each in found] == ["passes", "passes", "spatial", "joint", "joint"]
    joint = found[3].result
    assert isinstance(joint, JointResult)
    assert (joint.code, joint.result.at_mm, joint.result.before) == ("EYZ", 2500.0, 6)
    assert joint.result.step_um == pytest.approx(0.0, abs=0.01)
    assert abs(joint.result.kink_um_per_m) < 2.0  # a sine bends otherwise than an even bow, a little so near
    assert found[3].basis.passes == (1, 2)
    entries = further_of_line(measured)
    assert {row.key for row in entries[3].rows} == {"rows.step", "rows.kink"}
    said = " ".join(sentence(one) for one in entries[3].basis)
    assert "Rests on passes: 1, 2." in said
    assert "EYZ is positive up." in said
    assert "No reading was left out." in said


def test_one_pass_says_that_the_reference_line_matters(archive: Archive, tmp_path: Path) -> None:
    """An S, read once: about its ends 20 um, in the minimum zone much less. Where it does not matter it is not said."""
    begun = begin_line(archive, tmp_path)
    take_pass(archive, begun, 1)
    measured = measured_line(archive, begun.line)
    assert "straightness" not in [each.kind for each in further_results(measured)]
    single = measured.passes[0]
    height, side = single.profile.columns
    bent = replace(height, iso=10 * np.sin(2 * np.pi * single.profile.position_mm / 5000))
    single = replace(single, profile=replace(single.profile, columns=(bent, side)))
    (entry,) = [one for one in further_of_line(replace(measured, passes=(single,))) if one.kind == "straightness"]
    assert "Agree with the customer which one counts" in sentence(entry.said[-1])


def test_joint_of_the_machine_file_and_of_the_line(
    archive: Archive, begun: Begun, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = result(capsys, archive, "joint", "line:carriage", "--quantity", "EYZ")
    assert found["result"]["at_mm"] == 2500.0
    machine = tmp_path / "m.toml"
    machine.write_text(
        'format = 1\nname = "HR-6"\nkind = "roll lathe"\ninvented = true\n[axes]\nup = "-Y"\noperator = "+X"\n'
        "[bed]\nlength_mm = 6400.0\n[[bed.joint]]\nbed_mm = 3000.0\nextra_length_mm = 200.0\n"
        '[[mark]]\nname = "tailstock mark"\nbed_mm = 5950.0\n'
    )
    table = tmp_path / "t.csv"
    rows = "\n".join(f"{x},{y}" for x, y in zip(STATIONS_MM, height_um(STATIONS_MM), strict=True))
    notes = "# zero mark: tailstock mark\n# positions grow: left\n"
    table.write_text(f"{notes}position_mm,EYZ_um\n{rows}\n")
    assert result(capsys, archive, "joint", table, "--machine", machine)["result"]["at_mm"] == 2950.0
    table.write_text(f"position_mm,EYZ_um\n{rows}\n")  # positions are bed coordinates
    assert result(capsys, archive, "joint", table, "--machine", machine)["result"]["at_mm"] == 3000.0
    assert "says of no joint" in evaluated(capsys, archive, "joint", table, code=1)


def test_a_kept_question_is_answered_anew_in_the_report(
    archive: Archive, begun: Begun, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "ram.csv"
    table.write_text("extension_mm,off_um,on_um\n0,0,0\n200,-4,4\n400,-14,2\n")
    said = evaluated(capsys, archive, "ram", table, "--keep", "--remark", "ram of the second spindle")
    evaluated(capsys, archive, "straightness", "line:carriage", "--quantity", "EYZ", "--given", 0, 0,
              "--in-report-of", "carriage")  # fmt: skip
    table.unlink()
    visit = begun.visit.id
    first, second = questions_of(archive, visit)
    assert (first.kind, first.line_id, second.line_id) == ("ram", None, begun.line.id)
    further = further_of_visit(archive, visit)
    (entry,) = further[None]
    assert (entry.kind, entry.remark) == ("ram", "ram of the second spindle")
    assert sentence(entry.said[0]) in " ".join(said.split()).replace("\n", " ")
    assert {row.key: row.value for row in entry.rows} == {"rows.ram_off": -14.0, "rows.ram_on": 0.0}
    assert entry.svg is not None
    assert "Rests on ram.csv." in [sentence(one) for one in entry.basis]
    (line,) = further[begun.line.id]
    assert "about a given line" in sentence(line.said[0])
    take_pass(archive, begun, 3, offset_um=4.0)
    assert answer_again(archive, second).bases[-1].passes == (1, 2, 3)


def test_kept_questions_are_listed_and_left_out(
    archive: Archive, begun: Begun, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tables = []
    for name, slope in (("x", 12.0), ("y", -4.0)):
        code = {"x": "EYX", "y": "EXY"}[name]
        rows = "\n".join(f"{x},{slope * x / 1000}" for x in (0, 200, 400, 600))
        tables.append(tmp_path / f"{name}.csv")
        tables[-1].write_text(f"position_mm,{code}_um\n{rows}\n")
    evaluated(capsys, archive, "squareness", *tables, "--code", "C0Y", "--keep")
    (kept,) = questions_of(archive, begun.visit.id)
    assert [table.name for table in kept.tables] == ["x.csv", "y.csv"]
    assert answer_again(archive, kept).results[0].result.value_um_per_m == pytest.approx(-8.0)
    (entry,) = json.loads(evaluated(capsys, archive, "kept", "--json"))["kept"]
    assert entry["kind"] == "squareness"
    assert "C0Y" in entry["says"]
    evaluated(capsys, archive, "kept", "--leave-out", str(kept.id)[-8:])
    assert questions_of(archive, begun.visit.id) == ()
    assert further_of_visit(archive, begun.visit.id) == {}
    assert "fits 0 kept results" in evaluated(capsys, archive, "kept", "--leave-out", "none", code=1)


def test_ties_are_kept_with_their_tables(
    archive: Archive, begun: Begun, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One level reads 0 and 5 um/m on two lines that each look level in their own frame."""
    for name in ("one", "two"):
        (tmp_path / f"{name}.csv").write_text("position_mm,EYZ_um\n0,0\n1000,0\n2000,0\n3000,0\n")
    level = tmp_path / "level.csv"
    level.write_text("position_mm,first_um_per_m,second_um_per_m,sd_um_per_m\n200,0,5,1\n1800,0,5,1\n")
    words = (tmp_path / "one.csv", tmp_path / "two.csv", "--level", level)
    assert "Give --level-base-mm" in evaluated(capsys, archive, "parallelism", *words, code=1)
    evaluated(capsys, archive, "parallelism", *words, "--level-base-mm", 200, "--keep")
    (kept,) = questions_of(archive, begun.visit.id)
    linked = answer_again(archive, kept).results[0].linked
    assert linked.value_um_per_m == pytest.approx(5.0)
    assert linked.standard_uncertainty_um_per_m == pytest.approx(1.0)
    assert (linked.method, linked.link_share) == ("level", pytest.approx(1.0))


def test_a_question_that_cannot_be_answered_says_why(
    archive: Archive, begun: Begun, capsys: pytest.CaptureFixture[str]
) -> None:
    evaluated(capsys, archive, "spatial", "line:carriage", "--keep")
    (kept,) = questions_of(archive, begun.visit.id)
    archive.save(replace(kept, kind="twist"), reason="a kind that the line does not answer")
    (entry,) = further_of_visit(archive, begun.visit.id)[None]
    assert entry.said[0].key == "jobs.not_answered"
    assert "no single quantity" in sentence(entry.said[0])
    assert "line:carriage has no single quantity" in evaluated(capsys, archive, "twist", "line:carriage", code=1)


def test_functional_point_of_a_line_with_rotations(archive: Archive, begun: Begun) -> None:
    """A roll that grows by 10 um/m a metre, a tool 300 mm nearer to the operator: its height gains 3 um a metre."""
    measured = with_roll(measured_line(archive, begun.line))
    found = {each.kind: each for each in reversed(further_results(measured))}
    result = found["functional-point"].result
    assert isinstance(result, FunctionalPointResult)
    share = result.result.share_um["ECZ"]
    assert np.abs(share) == pytest.approx(0.3 * 10.0 * STATIONS_MM / 1000)
    assert found["angles"].basis.passes == (1, 2)
    assert found["twist"].kind == "twist"


def with_roll(measured: MeasuredLine) -> MeasuredLine:
    """The same line with a roll beside its height, and places of detector and tool."""
    from waywright.quantities import Direction, code
    from waywright.visit import Column

    passes = []
    for single in measured.passes:
        roll = 0.01 * single.profile.position_mm
        column = Column(
            code("ECZ"), roll, np.full_like(roll, 0.5), np.full_like(roll, 100), Direction.OPERATOR_SIDE_UP, -1
        )
        setup = replace(single.setup, detector_offset_mm=(0.0, 0.0, 0.0), functional_point_mm=(0.0, 0.0, 300.0))
        profile = replace(single.profile, columns=(*single.profile.columns, column))
        passes.append(replace(single, setup=setup, profile=profile))
    return replace(measured, passes=tuple(passes))
