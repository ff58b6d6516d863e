"""The verbs of the sheet that both skins use: examples, blank and filled papers, limits agreed, plans."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import Path
from typing import Any
from uuid import UUID

import msgspec

from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput, ReportError
from waywright.files.sheet_file import check_row, sheet_of, template, template_text
from waywright.jobs.remember import archive_path
from waywright.jobs.sheet_content import blank_content, filled_content
from waywright.jobs.sheet_judge import SheetResult, sheet_result
from waywright.jobs.sheet_keep import change_rows, filled_places, find_sheet, machine_of, sheets_kept
from waywright.jobs.sheet_level import LevelPlan, level_plan
from waywright.jobs.sheet_line import line_of_level
from waywright.report.sheet_pdf import sheet_pdf
from waywright.report.sheet_workbook import sheet_workbook
from waywright.verdict import tolerance
from waywright.visit import Line


@dataclass(frozen=True, slots=True)
class SheetListed:
    """One sheet of an archive."""

    id: UUID
    machine: str
    title: str
    began_utc: str
    filled: int
    places: int


@dataclass(frozen=True, slots=True)
class WrittenSheet:
    """Where the report of a sheet lies, and what it says."""

    files: tuple[Path, ...]
    result: SheetResult


def write_example(name: str, file: Path) -> int:
    """Write an example to edit; how many rows it has. Raises BadInput where the file exists."""
    if file.exists():
        raise BadInput("sheet.file_exists", file=str(file))
    file.write_text(template_text(name), encoding="utf-8")
    return len(template(name).row)


def write_blank(source: str, file: Path, machine: str | None = None) -> None:
    """A blank sheet as PDF."""
    _write(file, sheet_pdf(blank_content(sheet_of(source), machine)))


def sheets_listed(path: Path | None) -> tuple[SheetListed, ...]:
    """Every sheet of an archive, oldest first."""
    with open_archive(archive_path(path)) as archive:
        found = []
        for sheet in sheets_kept(archive):
            machine, visit = machine_of(archive, sheet)
            began = visit.began_utc.isoformat(timespec="seconds")
            found.append(SheetListed(sheet.id, machine.name, sheet.title, began, *filled_places(archive, sheet)))
        return tuple(found)


def sheet_shown(path: Path | None, wanted: str | None) -> SheetResult:
    """A sheet judged."""
    with open_archive(archive_path(path)) as archive:
        return sheet_result(archive, find_sheet(archive, wanted))


def agree(path: Path | None, wanted: str | None, number: str, rule: str) -> str:
    """Write the agreed limit into a row; returns the rule as read. Raises BadInput for no such row or rule."""
    said = str(tolerance(rule))
    with open_archive(archive_path(path)) as archive:
        sheet = find_sheet(archive, wanted)
        row = sheet.row(number)
        if row is None:
            raise BadInput("sheet.no_place", row=number, place="-")
        changed = replace(row, tolerance=said)
        check_row(changed)
        rows = tuple(changed if each is row else each for each in sheet.rows)
        change_rows(archive, sheet, rows, f"limit of row {number}: {said}")
    return said


def report_sheet(path: Path | None, wanted: str | None, folder: Path) -> WrittenSheet:
    """Write a sheet as PDF, workbook and JSON."""
    with open_archive(archive_path(path)) as archive:
        sheet = find_sheet(archive, wanted)
        result = sheet_result(archive, sheet)
        content = filled_content(archive, sheet, result)
    stem = file_stem(content.heading)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise ReportError("report.cannot_write", folder=str(folder), reason=reason) from problem
    made = {"pdf": sheet_pdf(content), "xlsx": sheet_workbook(content), "json": sheet_json(result)}
    for ending, data in made.items():
        _write(folder / f"{stem}.{ending}", data)
    return WrittenSheet(tuple(folder / f"{stem}.{ending}" for ending in made), result)


def sheet_json(result: SheetResult) -> bytes:
    """A judged sheet as one JSON document; keys are the field names of the records."""
    return json.dumps(_plain(result), indent=2, ensure_ascii=False).encode() + b"\n"


def planned_by_level(
    path: Path | None,
    wanted: str | None,
    machine: Path | None,
    goal_um: float,
    locked: Sequence[str] = (),
    keep: bool = False,
) -> tuple[LevelPlan, Line | None]:
    """The plan of a bed that was read with one level; with ``keep`` also its heights as a line to go on correcting."""
    with open_archive(archive_path(path)) as archive:
        sheet = find_sheet(archive, wanted)
        found = level_plan(archive, sheet, machine, goal_um, locked)
        return found, line_of_level(archive, sheet, found, SystemClock()) if keep else None


def file_stem(heading: str) -> str:
    """A file name that every system takes: letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", heading).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-") or "sheet"


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {each.name: _plain(getattr(value, each.name)) for each in fields(value)}
    if isinstance(value, dict):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, float):
        return value if value - value == 0.0 else None  # neither NaN nor infinite: JSON has no word for them
    return msgspec.to_builtins(value)


def _write(path: Path, data: bytes) -> None:
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(data)
        beside.replace(path)
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise ReportError("report.cannot_write", folder=str(path.parent), reason=reason) from problem
    finally:
        beside.unlink(missing_ok=True)
