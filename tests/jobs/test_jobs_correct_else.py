"""Crown, settling, side, two rails, other remedies, the sheet on paper, the night: as the verbs give them."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from made_rounds import CALM

from waywright.cli import main
from waywright.correct.answering import answer_causes
from waywright.correct.target import crown, crown_for_mass
from waywright.errors import BadInput
from waywright.files.machine_file import write_machine
from waywright.jobs.correct import Correction, CorrectionOrder, correction_of_table
from waywright.jobs.fitters_sheet import sheet_content
from waywright.jobs.overnight import watched
from waywright.report.fitter_pdf import fitter_images, fitter_pdf

X_MM = np.linspace(750.0, 5950.0, 21)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    folder = tmp_path_factory.mktemp("files")
    write_machine(CALM.machine, folder / "machine.toml")
    # +Y points down on this lathe: a hollow of 60 um is positive in EYZ
    hollow = 60.0 * np.sin(np.pi * (X_MM - X_MM[0]) / np.ptp(X_MM))
    rows = [f"{x:.1f},{value:.2f}" for x, value in zip(X_MM, hollow, strict=True)]
    (folder / "readings.csv").write_text("position_mm,EYZ_um\n" + "\n".join(rows) + "\n")
    return folder / "machine.toml", folder / "readings.csv"


@pytest.fixture(scope="module")
def flat(files: tuple[Path, Path]) -> Correction:
    return correction_of_table(*files, CorrectionOrder(goal_um=15.0))


def test_a_crown_leaves_the_middle_higher_and_settling_aims_lower(files: tuple[Path, Path], flat: Correction) -> None:
    crowned = correction_of_table(*files, CorrectionOrder(goal_um=15.0, crown_um=30.0))
    difference = (crowned.plan.measured.height_um + 0.0) * 0.0
    for found, sign in ((crowned, 1.0), (flat, -1.0)):
        target = np.zeros(21) if found.plan.wish.target_um is None else found.plan.wish.target_um[:21]
        difference = difference + sign * (found.plan.predicted_um + target)
    middle = difference[10] - (difference[0] + difference[-1]) / 2.0
    assert 15.0 < middle < 45.0
    assert correction_of_table(*files, CorrectionOrder(goal_um=15.0, settling_um=5.0)).plan.goal_um == 10.0
    with pytest.raises(BadInput):
        correction_of_table(*files, CorrectionOrder(goal_um=15.0, settling_um=15.0))
    with pytest.raises(BadInput):
        crown(X_MM, -1.0)


def test_the_crown_for_the_moving_mass_is_convex_and_as_large_as_the_mass() -> None:
    bed = CALM.machine.bed
    assert bed is not None
    assert bed.carriage is not None
    once = crown_for_mass(bed, X_MM)
    twice = crown_for_mass(replace(bed, carriage=replace(bed.carriage, mass_kg=2 * bed.carriage.mass_kg)), X_MM)
    np.testing.assert_allclose(twice, 2.0 * once, atol=1e-9)
    assert (np.diff(once, 2) < 1e-9).all()
    assert once[0] == once[-1] == 0.0
    with pytest.raises(BadInput):
        crown_for_mass(replace(bed, carriage=None), X_MM)


def test_the_other_of_two_rails_follows_the_master_by_the_cross_level(files: tuple[Path, Path], tmp_path: Path) -> None:
    """The master is straight; the cross level says that the rear rail is 41 um low in the middle: its row is raised."""
    bed = CALM.machine.bed
    assert bed is not None
    write_machine(replace(CALM.machine, bed=replace(bed, rails=2, carriage=None)), tmp_path / "rails.toml")
    roll = 50.0 * np.sin(np.pi * (X_MM - X_MM[0]) / np.ptp(X_MM))  # um/m over 0.82 m
    rows = [f"{x:.1f},0.0,{value:.2f}" for x, value in zip(X_MM, roll, strict=True)]
    (tmp_path / "rails.csv").write_text("position_mm,EYZ_um,ECZ_um_per_m\n" + "\n".join(rows) + "\n")
    both = (tmp_path / "rails.toml", tmp_path / "rails.csv")
    other = correction_of_table(*both, CorrectionOrder(goal_um=15.0, rail="other")).plan
    assert other.value_now_um == pytest.approx(41.0, abs=1.0)
    assert set(other.supports) == {str(n) for n in range(8, 15)}
    middle = dict(zip(other.supports, other.moves_um, strict=True))["11"]
    ends = [dict(zip(other.supports, other.moves_um, strict=True))[name] for name in ("9", "14")]
    assert middle > max(ends) + 15.0 or middle < min(ends) - 15.0
    master = correction_of_table(*both, CorrectionOrder(goal_um=15.0, rail="master")).plan
    assert master.value_now_um < 0.1
    assert not master.moves_um.any()
    with pytest.raises(BadInput):
        correction_of_table(*files, CorrectionOrder(goal_um=15.0, rail="other"))


def test_a_bed_that_keeps_its_goal_is_left_as_it_is(files: tuple[Path, Path]) -> None:
    found = correction_of_table(*files, CorrectionOrder(goal_um=150.0))
    assert not found.plan.moves_um.any()


def test_the_fitters_sheet_is_one_page_and_the_same_each_time(flat: Correction) -> None:
    content = sheet_content(flat, datetime(2026, 5, 4, 9, 0, tzinfo=UTC), 1)
    pdf = fitter_pdf(content)
    assert pdf.startswith(b"%PDF-1.")
    assert pdf == fitter_pdf(content)
    assert len(fitter_images(content, 8.0, 30.0)) == 1
    longer = replace(content, sheet=replace(content.sheet, instructions=content.sheet.instructions * 6))
    import io

    from pypdf import PdfReader  # general PDF library

    assert len(PdfReader(io.BytesIO(pdf)).pages) == 1
    assert "sheet for the fitter" in PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
    assert len(fitter_images(longer, 9.5, 20.0)) > 1


def test_a_support_that_does_not_answer_is_told_from_one_that_is_turned_the_wrong_way() -> None:
    def likeliest(read_um: float, doubt_um: float = 4.0) -> str:
        return answer_causes("8", 60.0, 30.0, read_um, 0.5, doubt_um)[0].kind

    assert likeliest(28.0) == "as-asked"
    assert likeliest(0.3) == "not-carrying"
    assert likeliest(-29.0) == "wrong-direction"
    assert likeliest(62.0) == "wrong-amount"
    assert answer_causes("8", 60.0, 1.0, 0.0, 0.5, 0.3) == ()  # such a reading cannot tell


def test_a_night_that_drifts_is_told_from_one_that_jumps() -> None:
    hours = np.arange(0.0, 12.0, 1.0 / 60.0) * 3600.0
    noise = np.random.default_rng(3).normal(0.0, 0.2, hours.size)
    assert watched(hours, noise, 5.0).outcome == "stays"
    drifts = watched(hours, noise + 1.0 * hours / 3600.0, 5.0)
    assert (drifts.outcome, drifts.drift_um_per_h) == ("drifts", pytest.approx(1.0, abs=0.02))
    jumped = watched(hours, noise + 12.0 * (hours > 7 * 3600.0), 5.0)
    assert jumped.outcome == "jumped"
    assert jumped.jump_um == pytest.approx(12.0, abs=1.0)
    assert jumped.jump_s == pytest.approx(7 * 3600.0, abs=61.0)


def test_the_other_remedies_at_the_terminal(files: tuple[Path, Path], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["correct", "shims", "--thickness-um", "1340", "--stock", "500 x 4, 200 x 4, 100, 40"]) == 0
    assert "500 + 500 + 200 + 100 + 40 µm: 5 foils" in capsys.readouterr().out
    assert main(["correct", "sign-test", "--change-um", "-9.6"]) == 0
    assert "turn all signs" in capsys.readouterr().out
    assert main(["correct", "sign-test", "--change-um", "2"]) == 1
    assert main(["correct", "scraping", str(files[1]), "--goal-um", "40", "--width-mm", "60"]) == 0
    assert "no support can correct" in capsys.readouterr().out
    assert main(["correct", "table", str(files[1]), "--spacing-mm", "500"]) == 1  # one pass does not repeat
    stages = ["correct", "stages", str(files[0]), "--height-um", "70", "--height-goal-um", "15", "--twist-um", "30"]
    assert main([*stages, "--twist-goal-um", "10"]) == 0
    out = capsys.readouterr().out
    assert [line.split()[0] for line in out.splitlines() if line[:1].isalpha()][:3] == ["done", "done", "NOW"]
