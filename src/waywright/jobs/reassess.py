"""Reassess: every result of an archive computed again, on all cores of this computer or on a cluster.

A task is one line: what was measured there, its plan and the rules go out, results come back and are kept at once. What
is up to date already (same readings and meaning, same rules, same algorithm) is not computed again, so a run that was
cut goes on where it stopped. Each line draws its own random numbers, so the figures do not depend on where or in which
order they were computed.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor, as_completed
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from uuid import UUID

from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput, MissingPart
from waywright.jobs.algorithm import ALGORITHM_VERSION
from waywright.jobs.computed import Rules, computed, digest_of
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.jobs.people import who
from waywright.jobs.plans import plan_of
from waywright.jobs.remember import archive_place
from waywright.visit import KeptResult, Line, VisitPlan

Progress = Callable[[int, int], None]
"""Told how many lines are done, and how many there are."""

_AHEAD = 4
_FIRST_S = 60


@dataclass(frozen=True, slots=True)
class Reassessed:
    """How many lines were computed again, were up to date, or cannot be judged; and what changed."""

    lines: int
    computed: int
    up_to_date: int
    not_judged: int
    changed_verdicts: tuple[VerdictChange, ...]


@dataclass(frozen=True, slots=True)
class VerdictChange:
    """A verdict that is another than before."""

    line: str
    line_id: UUID
    quantity: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class _Task:
    measured: MeasuredLine
    plan: VisitPlan | None
    rules: Rules
    mark: str
    now: datetime


def reassess(
    place: Any,
    rules: Rules,
    progress: Progress,
    *,
    workers: int | None = None,
    scheduler: str | None = None,
    by: str | None = None,
) -> Reassessed:
    """Compute all results of an archive again.

    ``workers`` processes here (all cores without it; 1 computes in this process), or on the Dask cluster whose
    scheduler has the address ``scheduler``. Raises MissingPart without the optional part, BadInput for a cluster that
    does not answer.
    """
    with open_archive(archive_place(place)) as archive, _executor(workers, scheduler) as submit:
        return _run(archive, rules, progress, submit, who(archive, by))


def _run(archive: Archive, rules: Rules, progress: Progress, submit: Submit, by: UUID | None) -> Reassessed:
    known = {result.id: result for result in archive.every(KeptResult)}
    marks: dict[UUID, set[str]] = {}
    for result in known.values():
        marks.setdefault(result.line_id, set()).add(result.readings)
    lines = archive.every(Line)
    counted = {"computed": 0, "up_to_date": 0, "not_judged": 0}
    changes: list[VerdictChange] = []
    for done, (line, results) in enumerate(_results(archive, lines, rules, marks, submit), start=1):
        counted["up_to_date" if results is None else "computed" if results else "not_judged"] += 1
        for result in results or ():
            before = known.get(result.id)
            archive.save(result, by=by, reason=None)
            if before is not None and before.verdict != result.verdict:
                changes.append(VerdictChange(line.name, line.id, result.quantity, before.verdict, result.verdict))
        progress(done, len(lines))
    return Reassessed(len(lines), changed_verdicts=tuple(changes), **counted)


def _results(
    archive: Archive, lines: tuple[Line, ...], rules: Rules, marks: dict[UUID, set[str]], submit: Submit
) -> Iterator[tuple[Line, tuple[KeptResult, ...] | None]]:
    """Each line with its results, None where they are up to date. Few tasks are under way: the rest waits on disk."""
    waiting: dict[Future[Any], Line] = {}
    now = SystemClock().utc()
    for line in lines:
        measured, plan = measured_line(archive, line), plan_of(archive, line.visit_id)
        mark = mark_of(measured, plan, rules)
        if marks.get(line.id) == {mark}:
            yield line, None
            continue
        waiting[submit(_compute, _Task(measured, plan, rules, mark, now))] = line
        while len(waiting) >= _ahead():
            yield from _first(waiting)
    while waiting:
        yield from _first(waiting)


def _first(waiting: dict[Future[Any], Line]) -> Iterator[tuple[Line, tuple[KeptResult, ...]]]:
    """Of those that are done the one that was asked for first: what a cut leaves behind does not hang on chance."""
    future = next((each for each in waiting if each.done()), None) or next(as_completed(waiting))
    yield waiting.pop(future), future.result()


def mark_of(measured: MeasuredLine, plan: VisitPlan | None, rules: Rules) -> str:
    """SHA-256 over all that the results of a line depend on."""
    planned = None if plan is None else (plan.items, plan.burden, plan.confidence, plan.agreed)
    told = repr((ALGORITHM_VERSION, digest_of(measured), planned, rules))
    return hashlib.sha256(told.encode()).hexdigest()


def _compute(task: _Task) -> tuple[KeptResult, ...]:
    """One line, anywhere."""
    try:
        found = computed(task.measured, task.plan, task.rules, task.now)
    except BadInput:
        return ()
    return tuple(replace(result, readings=task.mark) for result in found)


Submit = Callable[[Callable[[_Task], Any], _Task], "Future[Any]"]


def _ahead() -> int:
    return _AHEAD * (os.cpu_count() or 1)


@contextlib.contextmanager
def _executor(workers: int | None, scheduler: str | None) -> Iterator[Submit]:
    """Where tasks go: a cluster, processes of this computer, or this very process."""
    if scheduler is not None:
        with _cluster(scheduler) as client:
            yield client.get_executor(pure=False).submit
    elif workers == 1:
        yield lambda do, task: _done(do(task))
    else:
        pool: Executor
        with ProcessPoolExecutor(workers) as pool:
            yield pool.submit


def _done(result: Any) -> Future[Any]:
    future: Future[Any] = Future()
    future.set_result(result)
    return future


@contextlib.contextmanager
def _cluster(scheduler: str) -> Iterator[Any]:
    try:
        from distributed import Client
    except ImportError as error:
        raise MissingPart("keep.missing_cluster") from error
    try:
        client = Client(scheduler, timeout=_FIRST_S, set_as_default=False)  # type: ignore[no-untyped-call]
        client.wait_for_workers(1, timeout=_FIRST_S)
    except (OSError, TimeoutError, ValueError) as error:
        raise BadInput("keep.no_cluster", address=scheduler, reason=str(error)) from error
    with client:
        yield client
