"""Connecting instruments to a line, their health, and taking up the work again after an interruption."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from nicegui import events, ui

from waywright.drawing import plain_number
from waywright.errors import WaywrightError
from waywright.instruments import parse_instrument
from waywright.jobs.connected import Unheard
from waywright.machine import Machine
from waywright.visit import Line
from waywright.web.desk import PRACTICE_FACTORS, Desk
from waywright.web.elements import Press, To, Words, box, choice, file_press, markup, note
from waywright.web.pages.typing import typing_sheet
from waywright.web.saying import table_markup
from waywright.web.state import FAILED, IDLE
from waywright.wording import text


def connect_sheet(desk: Desk, machine: Machine, line: Line) -> None:
    """What there is to connect, or the health of what is connected."""
    state = desk.state_of(line.id)
    if state.phase == FAILED:
        note(state.sentence, "bad")
    if state.phase in (IDLE, FAILED):
        if desk.state.phase == "armed":
            note(text("web.another_line"))
        elif machine.invented:
            _workshop_again(desk, line)
        else:
            typing_sheet(desk, machine, line)
            _instruments(desk, line)
        return
    for silent in state.unheard:
        note(f"{unheard_words(silent)} {text('unheard.next')}", "bad")
    health_sheet(desk)
    Press(text("web.let_go"), desk.let_go, "quiet")


def unheard_words(silent: Unheard) -> str:
    """Why nothing is heard of an instrument, as far as its link has told."""
    said = silent.said
    if said is None:
        return text("unheard.untold", title=silent.title)
    if said.key == "instruments.connected":
        return text("unheard.silent", title=silent.title, address=said.facts["address"])
    return text("unheard.told", title=silent.title, told=text(said.key, **said.facts))


def health_sheet(desk: Desk) -> None:
    """Every channel with its rate, age and scatter; the browser keeps it fresh."""
    session = desk.session
    if session is None:
        return
    with box("sheet", "details"):
        Words(text("web.instruments"), tag="summary")
        heads = [text(f"web.health_{name}") for name in ("channel", "rate", "age", "scatter")]
        rows = [item for source in session.begun.instruments for item in source.channels]
        markup(table_markup(heads, [(None, [name, "–", "–", "–"]) for name in rows]), "scroll health")
        ui.run_javascript(_MARK_HEALTH)


_MARK_HEALTH = """
document.querySelectorAll('.health tbody tr').forEach((row) => {
  const [name, rate, age, scatter] = row.children;
  rate.dataset.live = `rate-${name.textContent}`; age.dataset.live = `age-${name.textContent}`;
  scatter.dataset.live = `scatter-${name.textContent}`;
});
"""


def _workshop_again(desk: Desk, line: Line) -> None:
    pace = {"factor": PRACTICE_FACTORS[1]}

    async def again() -> None:
        start.set_text(text("web.workshop_opens"))
        try:
            await desk.practise_again(line, pace["factor"])
        except WaywrightError as error:
            problem.set_text(str(error))
            problem.set_visibility(True)

    with box("sheet", "section"):
        Words(text("web.workshop_closed"), tag="p")
        options = [(f"{factor:g}", text("web.pace", factor=factor)) for factor in PRACTICE_FACTORS]
        choice(options, f"{pace['factor']:g}", lambda chosen: pace.update(factor=float(chosen)), text("web.pace_label"))
        start = Press(text("web.workshop_again"), again, "next")
        problem = note("", "bad")
        problem.set_visibility(False)


def _instruments(desk: Desk, line: Line) -> None:
    with box("sheet", "section"):
        Words(text("web.connect_title"), tag="h2")
        picked = DescriptionFiles(desk)
        problem = note("", "bad")
        problem.set_visibility(False)

        async def connect() -> None:
            try:
                await desk.reconnect(line, picked.files)
            except WaywrightError as error:
                problem.set_text(str(error))
                problem.set_visibility(True)

        Press(text("web.connect"), connect, "next")


class DescriptionFiles:
    """Description files from this computer, checked as they come and kept beside the archive."""

    def __init__(self, desk: Desk, on_change: Callable[[], None] | None = None) -> None:
        self._folder = desk.folder
        self._kept: dict[str, Path] = {}
        self._on_change = on_change
        Words(text("web.description_words"), "mute small", "p")
        To(text("wizard.link"), "/instrument", "press quiet").props('target="_blank"')
        file_press(text("web.choose_descriptions"), self._came, multiple=True)
        self._said = box("stack")
        self._known_before()

    def _known_before(self) -> None:
        """Descriptions that were kept at this computer: one touch takes them again."""
        for place in sorted(self._folder.glob("*.toml")):
            try:
                instrument = parse_instrument(place.read_bytes(), place.name)
            except (WaywrightError, OSError):
                continue
            box_of = ui.checkbox(f"{instrument.description.title} ({', '.join(instrument.channels)})")
            box_of.on_value_change(lambda event, name=instrument.name, at=place: self._take(name, at, event.value))

    def _take(self, name: str, place: Path, wanted: object) -> None:
        if wanted:
            self._kept[name] = place
        else:
            self._kept.pop(name, None)

    @property
    def files(self) -> tuple[Path, ...]:
        """The files accepted so far."""
        return tuple(self._kept.values())

    async def _came(self, event: events.UploadEventArguments) -> None:
        data = await event.file.read()
        with self._said:
            try:
                instrument = parse_instrument(data, event.file.name)
            except WaywrightError as error:
                note(str(error), "bad")
                return
            self._folder.mkdir(parents=True, exist_ok=True)
            place = self._folder / f"{instrument.name}.toml"
            place.write_bytes(data)
            self._kept[instrument.name] = place
            rate = plain_number(instrument.description.stream.rate_hz)
            channels = ", ".join(instrument.channels)
            note(text("web.instrument_known", title=instrument.description.title, rate=rate, channels=channels), "good")
        if self._on_change:
            self._on_change()
