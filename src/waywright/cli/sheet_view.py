"""How ``waywright sheet`` shows sheets, kinds and plans."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.wording import text

if TYPE_CHECKING:
    from waywright.jobs.sheet_judge import SheetResult
    from waywright.jobs.sheet_level import LevelPlan


def print_kinds(json: bool) -> None:
    """The table of kinds."""
    from waywright.cli import show
    from waywright.evaluate.sheet_work import KINDS

    if json:
        plain = {name: {"reads": kind.reads, "gives": kind.gives, "needs": kind.needs, "budget": kind.budget,
                        "places": kind.layout.usual, "turned": kind.turns} for name, kind in KINDS.items()}  # fmt: skip
        show.print_json(plain)
        return
    page = show.table(*(text(f"sheet.head.{name}") for name in ("kind", "reads", "needs", "places")))
    for name, kind in KINDS.items():
        reads = "um/m" if kind.reads.value == "um_per_m" else "um"
        page.add_row(name, reads, ", ".join(kind.needs), ", ".join(kind.layout.usual))
    show.console().print(page)


def print_sheets(archive: Path | None, json: bool) -> None:
    """The sheets kept, oldest first."""
    from waywright.cli import show
    from waywright.jobs.sheet_files import sheets_listed

    found = sheets_listed(archive)
    if json:
        show.print_json({"sheets": found})
        return
    page = show.table(*(text(f"sheet.head.{name}") for name in ("machine", "title", "began", "filled", "identity")))
    for each in found:
        page.add_row(each.machine, each.title, each.began_utc[:16], f"{each.filled}/{each.places}", str(each.id)[-8:])
    show.console().print(page)


def print_sheet(wanted: str | None, archive: Path | None, json: bool) -> None:
    """One sheet with its verdicts."""
    from waywright.cli import show
    from waywright.jobs.sheet_files import sheet_shown

    result = sheet_shown(archive, wanted)
    if json:
        show.print_json(result)
        return
    _print_rows(result)


def _print_rows(result: SheetResult) -> None:
    from waywright.cli import show
    from waywright.jobs.sheet_content import cause_words, row_content, summary_words, undecided_words

    console = show.console()
    heads = ("number", "what", "permissible", "measured", "expanded", "verdict")
    page = show.table(*(text(f"sheet.head.{name}") for name in heads), title=f"{result.machine}: {result.title}")
    page.columns[1].justify = "left"
    for result_row in result.rows:
        row = row_content(result_row)
        unit = row.unit if row.measured else ""
        page.add_row(row.number, row.what, row.permissible, f"{row.measured} {unit}", row.expanded, row.verdict)
    console.print(page)
    console.print(summary_words(result), markup=False)
    for open_row in result.undecided:
        console.print(undecided_words(open_row), markup=False)
    for found in result.taper:
        for line in cause_words(found):
            console.print(line, markup=False)


@dataclass(frozen=True, slots=True)
class PlanWish:
    """What is wanted of a plan; see the options of ``waywright sheet plan``."""

    sheet: str | None
    machine: Path | None
    goal_um: float
    locked: str | None
    keep: bool


def print_plan(wish: PlanWish, archive: Path | None, json: bool) -> None:
    """What to do with a bed that was read with one level."""
    from waywright.cli import show
    from waywright.jobs.correct import names, summary
    from waywright.jobs.sheet_files import planned_by_level

    found, line = planned_by_level(archive, wish.sheet, wish.machine, wish.goal_um, names(wish.locked), wish.keep)
    if json:
        plain = {name: getattr(found, name) for name in _PLAIN}
        correction = None if found.correction is None else summary(found.correction)
        kept = None if line is None else {"name": line.name, "id": str(line.id)}
        show.print_json({"machine": found.machine.name, **plain, "correction": correction, "line": kept})
        return
    _print_level(found)
    if line is not None:
        show.console().print(text("sheet.line_kept", name=line.name))


_PLAIN = (
    "twist_um_per_m",
    "along_um_per_m",
    "across_um_per_m",
    "height_um",
    "bed",
    "steps_taken_out",
    "stages",
    "rough",
)


def _print_level(found: LevelPlan) -> None:
    from waywright.cli import show
    from waywright.cli.correct_view import print_correction

    console = show.console()
    facts = {"twist": found.twist_um_per_m, "along": found.along_um_per_m, "across": found.across_um_per_m}
    console.print(text("sheet.level_found", **facts, height=found.height_um))
    console.print(text("sheet.level_closure", closure=found.bed.closure_um_per_m))
    for at_mm, step in found.steps_taken_out:
        console.print(text("sheet.level_step", step=step, at_mm=at_mm))
    for stage in found.stages:
        state = text(f"sheet.state_of.{stage.state}")
        console.print(text("sheet.stage", name=text(f"sheet.stage.{stage.name}"), state=state))
    if found.rough:
        console.print(text("sheet.level_rough"))
        page = show.table(text("sheet.head.support"), text("sheet.head.raise"))
        for move in found.rough:
            page.add_row(move.support, f"{move.raise_um / 1000.0:.2f} mm")
        console.print(page)
    if found.correction is not None:
        print_correction(found.correction)
