"""Typing readings: a pass without instruments, every reading saved as soon as it is kept."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from nicegui import ui

from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput, WaywrightError
from waywright.jobs.instruments_said import names_said, uses_said
from waywright.jobs.typed import CHANNELS, append_typed, begin_typed_pass, end_typed_pass, open_typed_pass
from waywright.machine import Machine
from waywright.visit import Line, Pass, Visit
from waywright.web.desk import Desk
from waywright.web.elements import Press, Words, box, field, note
from waywright.wording import text


def typing_sheet(desk: Desk, machine: Machine, line: Line) -> None:
    """The pass that is being typed, or the choice to begin one."""
    with box("sheet", "section"):
        Words(text("web.typing_title"), tag="h2")
        taken = open_typed_pass(desk.archive, line)
        if taken is None:
            _begin(desk, machine, line)
        else:
            _readings(desk, taken)


def _begin(desk: Desk, machine: Machine, line: Line) -> None:
    Words(text("web.typing_words"), "mute small", "p")
    wanted = {channel: ui.checkbox(_words(channel), value=at == 0) for at, channel in enumerate(CHANNELS)}
    instruments = field(text("keep.read_with"))

    def begin(direction: str) -> None:
        channels = [channel for channel, each in wanted.items() if each.value]
        said = names_said(str(instruments.value or ""))

        def do(archive: Archive) -> object:
            uses = uses_said(archive, said, archive.load(Visit, line.visit_id).technician_id)
            return begin_typed_pass(archive, machine, line, direction, channels, SystemClock(), uses)

        _step(desk, do)
        ui.navigate.reload()

    with box("row"):
        for number, direction in enumerate(("forward", "backward")):
            words = text(f"web.type_{direction}")
            _guarded(words, partial(begin, direction), "" if number else "next")


def _readings(desk: Desk, taken: Pass) -> None:
    Words(text("web.pass", number=taken.number, direction=text(f"web.{taken.direction}")), "mute")
    with box("row"):
        position = _number(text("web.typed_position"))
        values = {channel: _number(_words(channel)) for channel in taken.channels}

    def keep() -> None:
        figures = {channel: each.value for channel, each in values.items()}
        if position.value is None or None in figures.values():
            raise BadInput("web.not_a_number")
        typed = {channel: float(value) for channel, value in figures.items() if value is not None}
        place_mm = float(position.value)
        _step(desk, lambda archive: append_typed(archive, taken.id, place_mm, typed, SystemClock()))
        for each in (position, *values.values()):
            each.value = None
        position.run_method("focus")

    def end() -> None:
        _step(desk, lambda archive: end_typed_pass(archive, taken.id, SystemClock()))
        ui.navigate.reload()

    _guarded(text("web.keep_reading"), keep, "next")
    position.on("keydown.enter", keep)
    _guarded(text("web.pass_complete"), end)


def _words(channel: str) -> str:
    name = channel.partition(".")[2]
    return text(f"web.typed.{name}")


def _number(label: str) -> ui.number:
    return ui.number(label).props("outlined square stack-label").classes("short")


def _step(desk: Desk, step: Callable[[Archive], object]) -> None:
    """In an archive of its own, so that the right to capture is given back at once."""
    with open_archive(desk.archive_path) as archive:
        step(archive)
    desk.touched()


def _guarded(words: str, do: Callable[[], None], look: str = "") -> None:
    """A press; what goes wrong stands below it."""
    problem = note("", "bad")
    problem.set_visibility(False)

    def pressed() -> None:
        try:
            do()
        except WaywrightError as error:
            problem.set_text(str(error))
            problem.set_visibility(True)
        else:
            problem.set_visibility(False)

    Press(words, pressed, look)
