"""Self-check: the published checks on the installed copy, with date and version, for the technician and the report."""

from __future__ import annotations

import math
import platform
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from waywright import __version__
from waywright.archive import open_archive
from waywright.clocks import Clock, SystemClock, new_id
from waywright.jobs.measured import find_line
from waywright.jobs.published_checks import CHECKS, PublishedCheck, agrees
from waywright.jobs.remember import archive_path
from waywright.visit import OnTheSpot


@dataclass(frozen=True, slots=True)
class CheckedValue:
    """One published value and what this copy gives; ``problem`` says what went wrong where nothing came out."""

    name: str
    source: str
    published: float
    within: float
    found: float | None
    passed: bool
    problem: str | None = None


@dataclass(frozen=True, slots=True)
class SelfCheck:
    """The page of a self-check."""

    made_utc: datetime
    version: str
    python: str
    system: str
    values: tuple[CheckedValue, ...]

    @property
    def passed(self) -> bool:
        """Whether every value is what is published."""
        return all(each.passed for each in self.values)


def self_check(clock: Clock | None = None, checks: tuple[PublishedCheck, ...] = CHECKS) -> SelfCheck:
    """Compute every published value again."""
    return SelfCheck(
        (clock or SystemClock()).utc(),
        __version__,
        platform.python_version(),
        f"{platform.system()} {platform.machine()}",
        tuple(_checked(each) for each in checks),
    )


def keep_self_check(found: SelfCheck, line: str | None = None, path: Path | None = None) -> OnTheSpot:
    """Keep a self-check with the visit of a line (by default of the newest), so that its report shows it."""
    rows = [{"name": each.name, "result": _result(each)} for each in found.values]
    figures = {
        "version": found.version,
        "python": found.python,
        "system": found.system,
        "failed": sum(not each.passed for each in found.values),
        "checks": rows,
    }
    with open_archive(archive_path(path)) as archive:
        visit = find_line(archive, line).visit_id
        kept = OnTheSpot(new_id(found.made_utc), visit, "self-check", found.passed, found.made_utc, figures)
        archive.save(kept)
    return kept


def _checked(check: PublishedCheck) -> CheckedValue:
    try:
        found = check.computed()
    except Exception as problem:  # a broken copy must be reported, whatever is broken
        why = f"{type(problem).__name__}: {problem}"
        return CheckedValue(check.name, check.source, check.value, check.within, None, False, why)
    value = found if math.isfinite(found) else None
    return CheckedValue(check.name, check.source, check.value, check.within, value, agrees(check, found))


def _result(each: CheckedValue) -> str:
    word = "✓" if each.passed else "✗"
    return f"{word} {'–' if each.found is None else f'{each.found:.12g}'}; {each.published:.12g} ± {each.within:.1g}"
