"""A typed line over an invented bed that is to be corrected, and a reading that answers while a support is turned."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from nicegui.testing import User
from nicegui.testing.user_interaction import UserInteraction

from made_pages import gone, see, until
from waywright.archive import Archive, open_archive
from waywright.capture import Live
from waywright.clocks import SystemClock, new_id
from waywright.jobs.begin import Begun
from waywright.jobs.new_machine import plain_machine
from waywright.jobs.typed import append_typed, begin_typed_pass, end_typed_pass
from waywright.machine import Machine
from waywright.quantities import Axes
from waywright.visit import Conditions, Line, Visit
from waywright.web.desk import Desk
from waywright.web.elements import Press
from waywright.web.session import Session

HEIGHT = "typed.height_um"
PLACES_MM = tuple(150.0 + 450.0 * place for place in range(7))


def machine_on(supports: int) -> Machine:
    """An invented bed of 3 m whose supports lift 500 um a turn."""
    made = plain_machine("B-4", "lathe", Axes("-Y", "+X"), bed_length_mm=3000.0, supports_in_a_row=supports)
    if made.bed is None or not supports:
        return made
    known = tuple(replace(each, lift_um_per_turn=500.0, smallest_step_um=1.0) for each in made.bed.supports)
    return replace(made, bed=replace(made.bed, supports=known, bending_n_m2=2e6, mass_kg=1500.0))


def bowed(place_mm: float) -> float:
    """The bed as found: 30 um high in the middle."""
    return 30.0 * math.sin(math.pi * (place_mm - PLACES_MM[0]) / (PLACES_MM[-1] - PLACES_MM[0]))


def measured(path: Path, machine: Machine) -> Line:
    """A typed pass over the bed as found."""
    with open_archive(path, create=True) as archive:
        visit = Visit(new_id(), machine.id, None, SystemClock().utc())
        line = Line(new_id(), visit.id, "bed", "Z")
        for record in (machine, visit, line):
            archive.save(record)
        typed_pass(archive, machine, line, bowed)
    return line


def typed_pass(archive: Archive, machine: Machine, line: Line, height_um: Callable[[float], float]) -> None:
    """Heights read at seven places."""
    clock = SystemClock()
    taken = begin_typed_pass(archive, machine, line, "forward", [HEIGHT], clock)
    for place in PLACES_MM:
        append_typed(archive, taken.id, place, {HEIGHT: height_um(place)}, clock)
    end_typed_pass(archive, taken.id, clock)


class Parked:
    """Stands in for connected instruments: a real session that is never started, shown whatever is read."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        archive = desk.archive
        setup = archive.setups(line.id)[-1]
        meaning = archive.interpretation(setup.id)
        assert meaning is not None
        visit = archive.load(Visit, line.visit_id)
        begun = Begun(machine, visit, line, setup, meaning, Conditions(), (), "typed.position_mm")
        self.session = Session(desk.archive_path, begun, SystemClock(), desk.touched)
        self.session.on_figures = desk.adjusting.look
        desk.session = self.session

    def reads(self, position_mm: float, height_um: float) -> None:
        """The newest figure, as the session's thread tells it."""
        live = Live(position_mm=position_mm, latest={HEIGHT: height_um})
        session = self.session
        session.state = replace(session.state, phase="ready", live=live, position_mm=position_mm)
        session.on_figures(session.state)


async def to_the_plan(user: User) -> None:
    """Answer for the bow, and have the plan worked out."""
    await see(user, "Is this bow the bed's?")
    user.find("go on to the plan").click()
    await see(user, "Say why")
    user.find("why supports are turned all the same").type("top and foot read alike")
    user.find("go on to the plan").click()
    await see(user, "work out what to turn")
    user.find("work out what to turn").click()
    await see(user, "µm now. After these moves")


async def to_the_first_support(user: User) -> None:
    """Begin the round, confirm each thing on its own."""
    from nicegui import ui

    await to_the_plan(user)
    user.find("begin this round").click()
    await see(user, "Before anything is turned, confirm each")
    await gone(user, "turn now · ")
    answers = iter(("main switch off, padlock 14", "no vertical axis here", "cribs of oak under both ends"))
    for _ in range(6):
        fields = sorted(user.find(ui.input).elements, key=lambda each: each.id)
        maker = "maker" in str(fields[0].props["label"])
        fields[0].set_value("500" if maker else next(answers))
        before = len(fields)
        press_confirm(user)
        if before == 1:
            break
        await until(lambda before=before: len(confirm_fields(user)) < before)
    await see(user, "turn now · 1 of ")


def press_confirm(user: User) -> None:
    """Press the first of the confirmations that are still open."""
    presses = sorted(user.find("confirm").elements, key=lambda each: each.id)
    UserInteraction(user, {next(each for each in presses if isinstance(each, Press))}, None).click()


def confirm_fields(user: User) -> list[object]:
    """The open lines to answer on."""
    from nicegui import ui

    try:
        return list(user.find(ui.input).elements)
    except AssertionError:
        return []
