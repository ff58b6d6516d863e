"""``waywright machine history`` and ``compare``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cyclopts import App

from waywright.cli.options import ArchivePlace, Json, opened_archive

if TYPE_CHECKING:
    from waywright.jobs.history import Course, MachineHistory

_MONTH_YEARS = 1 / 12


def add_to(commands: App) -> None:
    """Add the commands of this file."""
    commands.command(history)
    commands.command(compare)


def history(name: str, /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Show all visits of a machine on one time line: values, bow, level, twist, what they did, and the next check.

    Parameters
    ----------
    name
        The machine's name, serial number or the last characters of its id.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.history import history as find
    from waywright.jobs.machines import find_machine

    with opened_archive(archive) as opened:
        found = find(opened, find_machine(opened, name))
    if json:
        show.print_json(found)
    else:
        _show(found)


def _show(found: MachineHistory) -> None:
    from waywright.cli import show
    from waywright.wording import text

    console = show.console()
    for course in found.courses:
        if not course.points:
            continue
        title = f"{course.line}, {course.quantity}: {text(f'history.figure_{course.figure}')}, {course.unit}"
        page = show.table("visit", "as found", "U", "as left", "left alone", "verdict", title=title)
        for point in course.points:
            u = "-" if point.expanded_uncertainty is None else f"{point.expanded_uncertainty:.1f}"
            figures = (show.signed(point.found), u, show.signed(point.left), show.signed(point.alone))
            page.add_row(f"{point.began_utc:%Y-%m-%d}", *figures, point.verdict or "-")
        console.print(page)
        console.print(_told(course))
    if any(course.trend for course in found.courses):
        console.print(text("history.test"), style="dim")
    if found.next_check is not None:
        console.print(text("history.next", day=f"{found.next_check.by:%Y-%m-%d}", why=text(found.next_check.why)))


def _told(course: Course) -> str:
    """What the figure did, and how little a few visits can tell."""
    from waywright.wording import text

    trend = course.trend
    if trend is None:
        return text("history.too_few")
    model = trend.model
    facts = {} if model is None else {"amplitude": model.amplitude, "step": model.step, "per_year": model.per_year}
    after = None if model is None else model.step_after
    day = "" if after is None else f"{course.points[after + 1].began_utc:%Y-%m-%d}"
    said = text(f"history.{trend.told.replace(' ', '_')}", unit=course.unit, day=day, **facts)
    if trend.span_years < _MONTH_YEARS:
        return f"{said}. {text('history.weakness_short', visits=trend.visits)}"
    weak = text(
        "history.weakness",
        visits=trend.visits,
        span_years=trend.span_years,
        smallest_per_year=trend.smallest_per_year,
        unit=course.unit,
        untried=", ".join(text(f"history.name_{name}") for name in trend.untried) or text("history.name_none"),
    )
    return f"{said}. {weak}"


def compare(first: str, second: str, /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Lay two lines over each other by the machine's marks: what changed, and whether supports did it.

    Parameters
    ----------
    first
        Name or id (or its end) of the earlier line.
    second
        Name or id (or its end) of the later line.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.compare import compare as do
    from waywright.jobs.evidence import plain, sentences
    from waywright.jobs.guard_gates import compared_states
    from waywright.wording import text

    with opened_archive(archive) as opened:
        found = do(opened, first, second)
    change, states = found.height, compared_states(found.first, found.second)
    if json:
        lines = {"first": found.first.line, "second": found.second.line, "machine": found.machine.name}
        more_facts = {"twist": found.twist_um_per_m, "states": plain(states)}
        show.print_json({**lines, "height": change, "supports": found.support_names, **more_facts})
        return
    console = show.console()
    for objection in sentences(states.objections if states else ()):
        console.print(objection, style="bold")
    page = show.table("bed mm", "change µm", *(["twist µm/m"] if found.twist_um_per_m else []))
    twists = found.twist_um_per_m or ()
    for number, (place, value) in enumerate(zip(change.position_mm, change.change_um, strict=True)):
        more = [show.signed(twists[number])] if twists else []
        page.add_row(f"{place:.0f}", show.signed(float(value)), *more)
    console.print(page)
    console.print(text("history.change", largest_um=change.largest_um, noise_um=change.noise_um, bow_um=change.bow_um))
    shares = {"share_bow": change.share_bow, "share_supports": change.share_supports}
    console.print(text(f"history.change_{change.shape}", **shares))
    for name, value in zip(found.support_names, change.support_um, strict=True):
        console.print(text("history.at_support", support=name, change=show.signed(value)))
    console.print(text("history.change_weakness"), style="dim")
