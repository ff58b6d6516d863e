"""A question to the evaluation: which one, of which tables, with which options. Kept lines count as tables.

Where a table is wanted, ``line:NAME`` means the kept line of that name (or the end of its id) in the archive.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import Path
from typing import Any

from waywright.archive import Archive, open_archive
from waywright.errors import BadInput
from waywright.files import write_table
from waywright.jobs.basis import Basis, basis_of_files
from waywright.jobs.judge import straightness_of_table
from waywright.jobs.judge_joints import joints_of_table
from waywright.jobs.judge_lines import (
    guideway_of_table,
    parallelism_of_tables,
    segments_of_tables,
    spatial_of_table,
    squareness_of_tables,
    twist_of_table,
)
from waywright.jobs.judge_more import angles_of_table, squares_of_tables
from waywright.jobs.judge_parts import (
    functional_point_of_table,
    ram_of_table,
    roll_of_tables,
    spindle_of_table,
    straightedge_of_table,
    ways_of_tables,
)
from waywright.jobs.judge_surfaces import flatness_of_table, level_of_table, positioning_of_table
from waywright.jobs.line_table import table_of_line
from waywright.jobs.measured import find_line, measured_line
from waywright.jobs.passes_compared import passes_of_table
from waywright.jobs.remember import archive_path

LINE = "line:"
_NOT_READINGS = ("machine",)

VERBS: Mapping[str, Callable[..., Any]] = {
    "straightness": straightness_of_table,
    "passes": passes_of_table,
    "segments": segments_of_tables,
    "spatial": spatial_of_table,
    "angles": angles_of_table,
    "twist": twist_of_table,
    "guideway": guideway_of_table,
    "functional-point": functional_point_of_table,
    "joint": joints_of_table,
    "level": level_of_table,
    "flatness": flatness_of_table,
    "ways": ways_of_tables,
    "squareness": squareness_of_tables,
    "squares": squares_of_tables,
    "parallelism": parallelism_of_tables,
    "roll": roll_of_tables,
    "ram": ram_of_table,
    "spindle": spindle_of_table,
    "straightedge": straightedge_of_table,
    "positioning": positioning_of_table,
}
"""Every evaluation of tables by the name of its command."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One question; ``options`` are the arguments of its verb by name, tables among them as paths."""

    kind: str
    options: Mapping[str, Any]

    @property
    def files(self) -> tuple[Path, ...]:
        """The tables that the result rests on."""
        return tuple(
            path for name, value in self.options.items() if name not in _NOT_READINGS for path in _paths(value)
        )


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """Results of a question, and what each rests on."""

    asked: Asked
    results: tuple[Any, ...]
    bases: tuple[Basis, ...]


def answer_to(asked: Asked, archive: Archive | Path | None = None) -> Answer:
    """The results of a question; kept lines come from an open archive or the file of one.

    Raises BadInput where the tables do not answer it.
    """
    with on_files(asked, archive) as ready:
        found = VERBS[ready.kind](**ready.options)
        results = found if isinstance(found, tuple) else (found,)
        bases = tuple(getattr(each, "basis", None) or basis_of_files(each, ready.files) for each in results)
        return Answer(asked, results, bases)


@contextmanager
def on_files(asked: Asked, archive: Archive | Path | None) -> Iterator[Asked]:
    """The question with every kept line written out as a table, for as long as the block lasts."""
    lines = [path for path in asked.files if str(path).startswith(LINE)]
    if not lines:
        yield asked
        return
    with tempfile.TemporaryDirectory() as folder, _opened(archive) as opened:
        written, names = {}, {}
        for number, path in enumerate(lines):
            measured = measured_line(opened, find_line(opened, str(path).removeprefix(LINE)))
            if not measured.passes:
                raise BadInput("jobs.no_readings", line=measured.line.name)
            written[path] = place(Path(folder), number, f"{measured.line.name}.csv")
            names[str(written[path])] = f"{LINE}{measured.line.name}"
            write_table(written[path], table_of_line(measured))
        with named(names):
            yield Asked(asked.kind, {name: replaced(value, written) for name, value in asked.options.items()})


@contextmanager
def named(names: Mapping[str, str]) -> Iterator[None]:
    """Faults of a table that was written out for the moment speak of it by the name that people know."""
    try:
        yield
    except BadInput as problem:
        facts = {key: names.get(fact, fact) if isinstance(fact, str) else fact for key, fact in problem.facts.items()}
        raise BadInput(problem.key, **facts) from problem


@contextmanager
def _opened(archive: Archive | Path | None) -> Iterator[Archive]:
    if isinstance(archive, Archive):
        yield archive
        return
    with open_archive(archive_path(archive)) as opened:
        yield opened


def place(folder: Path, number: int, name: str) -> Path:
    """Where a table lies under its own name, however many of them have that name."""
    own = folder / str(number)
    own.mkdir()
    return own / "".join("-" if sign in '/\\:*?"<>|' else sign for sign in name)


def replaced(value: Any, by: Mapping[Path, Any]) -> Any:
    """A value with paths replaced, in sequences and in ties too."""
    if isinstance(value, Path):
        return by.get(value, value)
    if isinstance(value, tuple | list):
        return tuple(replaced(each, by) for each in value)
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{one.name: replaced(getattr(value, one.name), by) for one in fields(value)})
    return value


def _paths(value: object) -> Sequence[Path]:
    if isinstance(value, Path):
        return (value,)
    if isinstance(value, tuple | list):
        return tuple(path for each in value for path in _paths(each))
    if is_dataclass(value) and not isinstance(value, type):
        return tuple(path for one in fields(value) for path in _paths(getattr(value, one.name)))
    return ()
