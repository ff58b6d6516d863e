"""All results computed again: the same alone, on several processes and on a cluster; it goes on where it was cut."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from jobs.made_line import begin_line, take_pass
from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.jobs import plans
from waywright.jobs.computed import Rules
from waywright.jobs.history import history
from waywright.jobs.mend import Mending, mend
from waywright.jobs.reassess import Reassessed, reassess
from waywright.machine import Machine
from waywright.visit import KeptResult, PlanItem, Visit

RULES = Rules(rule="0.04", draws=1000)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Three lines that were measured, and one that was begun only."""
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        for offset_um in (0.0, 1.0, 2.0):
            begun = begin_line(archive, tmp_path)
            take_pass(archive, begun, 1, offset_um=offset_um)
            take_pass(archive, begun, 2)
        begin_line(archive, tmp_path)
    return tmp_path / "a.sqlite"


def again(path: Path, rules: Rules = RULES, **where: object) -> Reassessed:
    return reassess(path, rules, lambda done, total: None, **where)  # type: ignore[arg-type]


def kept(path: Path) -> dict[object, KeptResult]:
    with open_archive(path) as archive:
        return {each.id: replace(each, made_utc=SystemClock().utc().min) for each in archive.every(KeptResult)}


def test_the_same_numbers_alone_on_processes_and_on_a_cluster(path: Path, cluster: str) -> None:
    alone = again(path, workers=1)
    assert (alone.lines, alone.computed, alone.not_judged) == (4, 3, 1)
    figures = kept(path)
    assert len(figures) == 6
    assert again(path, replace(RULES, confidence=0.9), workers=1).computed == 3  # other rules: all is to be done
    others = kept(path)
    assert others.keys() == figures.keys()
    assert all(others[each] != figures[each] for each in figures)
    for where in ({"workers": 2}, {"scheduler": cluster}):
        copy = path.with_name("copy.sqlite")
        copy.unlink(missing_ok=True)
        with open_archive(path) as source, open_archive(copy, create=True) as target:
            target.receive(source)
        assert again(copy, **where).computed == 3
        assert kept(copy) == figures


@pytest.fixture(scope="module")
def cluster() -> Iterator[str]:
    """A scheduler and two workers, each a process of its own, on this computer."""
    pytest.importorskip("distributed")
    module = [sys.executable, "-m", "distributed.cli.dask_scheduler"]
    scheduler = subprocess.Popen([*module, "--host", "127.0.0.1", "--port", "0", "--no-dashboard"],
                                 stderr=subprocess.PIPE, text=True)  # fmt: skip
    assert scheduler.stderr is not None
    line = next(line for line in scheduler.stderr if "Scheduler at:" in line)
    address = line.split()[-1]
    worker = [sys.executable, "-m", "distributed.cli.dask_worker", address, "--nthreads", "1", "--no-dashboard",
              "--no-nanny", "--host", "127.0.0.1"]  # fmt: skip
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}
    workers = [subprocess.Popen(worker, stderr=subprocess.DEVNULL, env=environment) for _ in range(2)]
    yield address
    for process in (*workers, scheduler):
        process.kill()
        process.wait()


def test_a_cluster_that_is_not_there_is_said(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(reassess.__globals__, "_FIRST_S", 1)
    with pytest.raises(BadInput, match="does not answer"):
        again(path, scheduler="tcp://127.0.0.1:9")


def test_what_is_up_to_date_is_not_computed_again_and_what_was_cut_goes_on(path: Path) -> None:
    class Cut(Exception):
        pass

    def cut(done: int, total: int) -> None:
        if done == 2:
            raise Cut

    with pytest.raises(Cut):
        reassess(path, RULES, cut, workers=1)
    went_on = again(path, workers=1)
    assert (went_on.up_to_date, went_on.computed) == (2, 1)
    assert again(path, workers=1).up_to_date == 3
    mend(None, Mending(channel="beam.vertical_um", factor=2.0, reason="wrong scale"), path)
    assert (again(path, workers=1).computed, again(path, workers=1).up_to_date) == (1, 3)


def test_a_verdict_that_changes_with_the_rule_is_told(path: Path) -> None:
    again(path, workers=1)
    strict = again(path, replace(RULES, rule="0.01"), workers=1)
    assert {(change.quantity, change.before, change.after) for change in strict.changed_verdicts} == {
        ("EYZ", "conforms", "does not conform")
    }


def test_the_plan_goes_before_the_rule_that_was_asked_for(path: Path) -> None:
    with open_archive(path) as archive:
        visit = archive.visits()[0]
        plan = plans.draft(visit.id, "agreed", (PlanItem("height", "Height", code="EYZ", reference="end-points"),))
        plan = plans.with_tolerance(plan, "height", "0.005", "contract", archive.people()[0], SystemClock())
        archive.save(plan)
        plans.agree(archive, plan, archive.people()[0], "customer", SystemClock())
    again(path, workers=1)
    with open_archive(path) as archive:
        (line,) = archive.lines(visit.id)
        found = {result.quantity: result for result in archive.every(KeptResult, line.id)}
    assert (found["EYZ"].reference, found["EYZ"].limit, found["EYZ"].information_only) == ("end-points", 5.0, False)
    assert found["EXZ"].information_only


def test_the_history_takes_adjustments_off(path: Path) -> None:
    """As found 30, left 10; a year later found 14: left alone the bed has moved by 4."""
    with open_archive(path) as archive:
        machine = archive.machines()[0]
        _keep_results(archive, machine)
        found = history(archive, machine)
    (bow,) = [course for course in found.courses if course.figure == "bow"]
    assert [round(point.alone) for point in bow.points] == [30, 34, 38]
    assert bow.trend is not None
    assert bow.trend.told == "settlement"
    assert bow.trend.per_year == pytest.approx(4.0, abs=0.1)
    assert found.next_check is not None
    (value,) = [course for course in found.courses if course.figure == "value"]
    assert value.limit == 40.0


def _keep_results(archive: Archive, machine: Machine) -> None:
    from datetime import timedelta

    from waywright.clocks import new_id
    from waywright.visit import Line

    for visit in archive.visits():
        archive.withdraw(visit.id)
    began = SystemClock().utc() - timedelta(days=1000)
    for year, (as_found, as_left) in enumerate([(30.0, 10.0), (14.0, 5.0), (9.0, 9.0)]):
        visit = Visit(new_id(), machine.id, None, began + timedelta(days=365.25 * year))
        archive.save(visit)
        for state, bow in (("as-found", as_found), ("as-left", as_left)):
            line = Line(new_id(), visit.id, "carriage", "Z", state=state)
            archive.save(line)
            archive.save(KeptResult(new_id(), line.id, "EYZ", "least-squares", abs(bow), "um", 1.0, 2.0, 0.95, "1", "",
                                    visit.began_utc, limit=40.0, verdict="conforms",
                                    figures={"bow_um": bow, "bow_expanded_um": 1.0}))  # fmt: skip
