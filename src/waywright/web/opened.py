"""What stands behind a touch on the way drawing: a station with all its readings, or a support."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui import ui

from waywright.clocks import SystemClock
from waywright.errors import WaywrightError
from waywright.jobs.set_aside import leave_out, take_back
from waywright.machine import Machine, Support
from waywright.readings import Reading
from waywright.visit import Line, Pass, Profile, interpreted
from waywright.web.desk import Desk
from waywright.web.display import amount, deviation, length, place, place_unit
from waywright.web.elements import Press, Words, box, facts, field, note
from waywright.web.saying import heading_of, unit_of
from waywright.wording import text

_SAME_STATION_MM = 20.0


def open_thing(desk: Desk, machine: Machine, line: Line, support: str | None, position_mm: float | None) -> None:
    """Open a support or a station in a dialogue."""
    found = next((item for item in machine.bed.supports if item.name == support), None) if machine.bed else None
    if found is not None:
        _dialogue(text("web.support", name=found.name), lambda close: _support(found))
    elif position_mm is not None:
        title = text("web.station", place=place(position_mm), unit=place_unit())
        _dialogue(title, lambda close: _station(desk, machine, line, position_mm, close))


def open_reading(desk: Desk, machine: Machine, line: Line, identity: str) -> None:
    """Open the station of a reading."""
    for taken in desk.archive.passes(line.id):
        for reading in desk.archive.readings(taken.id):
            if str(reading.id) == identity:
                profile = _profile(desk, machine, taken, reading)
                open_thing(desk, machine, line, None, float(profile.position_mm[0]))
                return


def _dialogue(title: str, fill: Callable[[Callable[[], object]], None]) -> None:
    with ui.dialog() as dialogue, box("sheet opened"):
        with box("row apart"):
            Words(title, tag="h2")
            Press(text("web.close"), dialogue.close, "quiet")
        fill(dialogue.close)
    dialogue.on("hide", dialogue.delete)
    dialogue.open()


def _support(support: Support) -> None:
    unknown = text("web.not_recorded")
    lift = support.lift_um_per_turn
    turn = text(f"web.turn.{support.raise_turn}")
    facts([
        (text("web.support_place"), f"{place(support.bed_mm)} {place_unit()}"),
        (text("web.support_row"), text(f"web.row.{support.row}")),
        (text("web.support_kind"), support.kind or unknown),
        (text("web.support_lift"), f"{length(lift)}, {turn}" if lift else unknown),
        (text("web.support_load"), support.load_felt or unknown),
    ])  # fmt: skip


def _station(desk: Desk, machine: Machine, line: Line, position_mm: float, close: Callable[[], object]) -> None:
    found = False
    for taken in desk.archive.passes(line.id):
        everything = desk.archive.readings(taken.id)
        superseded = {reading.supersedes for reading in everything if reading.supersedes}
        reasons = {item.reading_id: item.reason for item in desk.archive.exclusions(taken.id)}
        for reading in everything:
            profile = _profile(desk, machine, taken, reading)
            if profile is None or abs(float(profile.position_mm[0]) - position_mm) > _SAME_STATION_MM:
                continue
            found = True
            with box("stack reading"):
                _reading(machine, taken, reading, profile, reading.id in superseded)
                if reading.id not in superseded:
                    _aside(desk, taken, reading, reasons.get(reading.id), close)
    if not found:
        Words(text("web.no_reading_here"), "mute", "p")


def _profile(desk: Desk, machine: Machine, taken: Pass, reading: Reading) -> Profile:
    setup = next(item for item in desk.archive.setups(taken.line_id) if item.id == taken.setup_id)
    meaning = desk.archive.interpretation(setup.id)
    if meaning is None:
        return Profile(_raw(reading), ())
    return interpreted((reading,), meaning, machine.axes, setup)


def _raw(reading: Reading) -> Any:
    import numpy as np

    return np.array([reading.position_mm])


def _reading(machine: Machine, taken: Pass, reading: Reading, profile: Profile, superseded: bool) -> None:
    words = text("web.pass", number=taken.number, direction=text(f"web.{taken.direction}"))
    tail = f" · {text('web.superseded')}" if superseded else ""
    Words(f"{words}, {text('web.reading_number', number=reading.number + 1)}{tail}", "mute")
    pairs = [(text("web.position"), f"{place(float(profile.position_mm[0]), 2)} {place_unit()}")]
    for column in profile.columns:
        scatter = amount(column.code, float(column.standard_deviation[0]))
        value = f"{deviation(column.code, float(column.screen[0]))} ± {scatter}"
        words = text("web.value_of_samples", value=value, unit=unit_of(column.code), samples=int(column.samples[0]))
        pairs.append((heading_of(column.code, machine), words))
    pairs.append((text("web.taken_at"), f"{reading.began_utc:%Y-%m-%d %H:%M:%S} UTC"))
    pairs.append((text("web.taken_by"), text(f"web.by.{reading.taken_by}")))
    facts(pairs)


def _aside(desk: Desk, taken: Pass, reading: Reading, reason: str | None, close: Callable[[], object]) -> None:
    """Leaving out asks for a reason; what is left out can be taken back."""
    if reason is not None:
        note(text("web.left_out", reason=reason))

        def back() -> None:
            take_back(desk.archive, taken.id, reading.id)
            desk.touched()
            close()

        Press(text("web.take_back"), back)
        return
    why = field(text("web.why_left_out"))
    problem = note("", "bad")
    problem.set_visibility(False)

    def aside() -> None:
        try:
            leave_out(desk.archive, reading.id, str(why.value or ""), SystemClock())
        except WaywrightError as error:
            problem.set_text(str(error))
            problem.set_visibility(True)
            return
        desk.touched()
        close()

    Press(text("web.leave_out"), aside)
