"""Joints kept for the report: one with too few stations is not judged, a rule for angles is for the kink."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.cli import main
from waywright.files import ReadingsTable, write_table
from waywright.files.budget_file import ready_budget_text
from waywright.jobs.judged_at_visit import further_of_visit
from waywright.report import FurtherContent

X_MM = np.linspace(0.0, 3000.0, 21)


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A visit with a line, to keep results at."""
    folder = tmp_path_factory.mktemp("joint")
    with open_archive(folder / "a.sqlite", create=True) as opened:
        take_pass(opened, begin_line(opened, folder), 1)
    height_um = 0.02 * np.maximum(X_MM - 1480.0, 0.0) + np.random.default_rng(3).normal(0.0, 0.3, 21)
    write_table(folder / "way.csv", ReadingsTable(X_MM, {"EZX": height_um}))
    (folder / "budget.toml").write_text(ready_budget_text("straightedge"), encoding="utf-8")
    return folder / "a.sqlite"


def kept(archive: Path, *asked: str) -> tuple[FurtherContent, ...]:
    table, budget = (str(archive.parent / name) for name in ("way.csv", "budget.toml"))
    keeping = ["--keep", "--archive", str(archive), "--uncertainty", budget, "--tolerance", "0.01/1000"]
    assert main(["evaluate", "joint", table, "--at-mm", "1480", *asked, *keeping]) == 0
    with open_archive(archive) as opened:
        return further_of_visit(opened, opened.visits()[0].id)[None]


def test_a_joint_that_is_not_judged_stands_without_uncertainty_and_verdict(archive: Path) -> None:
    last = kept(archive, "--within-mm", "200")[-1]
    assert (last.uncertainty, last.verdict) == (None, None)


def test_a_rule_for_angles_judges_the_kink(archive: Path) -> None:
    last = kept(archive)[-1]
    assert last.verdict is not None
    assert (last.unit, last.verdict.verdict) == ("µm/m", "does-not-conform")
