"""The list of machines and visits; an empty start offers to practise, a quick look, a new machine."""

from __future__ import annotations

from nicegui import ui

from waywright.errors import WaywrightError
from waywright.jobs.visits import KnownMachine, LineAtVisit, SheetAtVisit, VisitAtMachine, known_machines
from waywright.web.desk import PRACTICE_FACTORS, Desk
from waywright.web.elements import Press, To, Words, box, choice, note
from waywright.web.frame import head
from waywright.wording import text


def register(desk: Desk) -> None:
    """The page at ``/``."""

    @ui.page("/")
    def machines() -> None:
        head(text("web.machines"), here="machines")
        known = known_machines(desk.archive)
        with box("page wide-left"):
            with box("stack"):
                Words(text("web.machines") if known else text("web.welcome"), tag="h1")
                if not known:
                    Words(text("web.welcome_words"), "mute", "p")
                for machine in known:
                    _machine(machine, desk)
            with box("stack"):
                _practice(desk)
                _begin()


def _machine(known: KnownMachine, desk: Desk) -> None:
    machine = known.machine
    with box("sheet", "section"):
        with box("row apart"):
            Words(f"{machine.kind} {machine.name}".strip(), tag="h2")
            Words(machine.owner or text("web.owner_unknown"), "mute")
        if machine.invented:
            Words(text("web.invented"), "small mute", "p")
        with box("list", "ul"):
            for visit in known.visits:
                _visit(visit, desk)


def _visit(known: VisitAtMachine, desk: Desk) -> None:
    visit = known.visit
    with box(tag="li").classes("stack"):
        who = known.technician or text("web.technician_unknown")
        with box("row apart"):
            Words(f"{visit.began_utc:%Y-%m-%d %H:%M} UTC · {who}", "small mute")
            To(text("visit.open"), f"/visit/{visit.id}", "small")
        for line in known.lines:
            line_row(line, desk)
        for sheet in known.sheets:
            sheet_row(sheet)


def line_row(known: LineAtVisit, desk: Desk) -> None:
    """A line with the way to where its work goes on, and how far it is."""
    line = known.line
    running = desk.measures(line.id)
    page = "take" if running or known.interrupted or not known.passes else "judge"
    with box("row apart"):
        To(f"{line.name}, {text(f'web.state.{line.state}')}", f"/line/{line.id}/{page}")
        Words(_progress(known, running), "now" if running else "mute")


def sheet_row(known: SheetAtVisit) -> None:
    """A sheet of tests with the way to it, and how far it is filled."""
    with box("row apart"):
        To(known.sheet.title, f"/sheet/{known.sheet.id}")
        Words(text("keep.filled", filled=known.filled, places=known.places), "mute")


def _progress(known: LineAtVisit, running: bool) -> str:
    if running:
        return text("web.pass_runs", number=known.passes[-1].number)
    if known.interrupted:
        return text("web.pass_interrupted", number=known.interrupted.number, stations=known.stations)
    return text("web.passes_taken", passes=len(known.passes)) if known.passes else text("web.nothing_taken")


def _practice(desk: Desk) -> None:
    pace = {"factor": PRACTICE_FACTORS[1]}

    async def practise() -> None:
        start.allow(False)
        start.set_text(text("web.workshop_opens"))
        try:
            line = await desk.practise(pace["factor"])
        except WaywrightError as error:
            failed.set_text(str(error))
            failed.set_visibility(True)
            start.allow(True)
            start.set_text(text("web.practise"))
            return
        ui.navigate.to(f"/line/{line.id}/take")

    with box("sheet", "section"):
        Words(text("web.practise_title"), tag="h2")
        Words(text("web.practise_words"), "mute", "p")
        options = [(f"{factor:g}", text("web.pace", factor=factor)) for factor in PRACTICE_FACTORS]
        choice(options, f"{pace['factor']:g}", lambda chosen: pace.update(factor=float(chosen)), text("web.pace_label"))
        start = Press(text("web.practise"), practise, "next")
        failed = note("", "bad")
        failed.set_visibility(False)


def _begin() -> None:
    with box("sheet", "section"):
        Words(text("web.measure_title"), tag="h2")
        Words(text("web.measure_words"), "mute", "p")
        with box("row"):
            To(text("web.quick_look"), "/begin", "press")
            To(text("visit.full"), "/visit", "press")
            To(text("web.new_machine"), "/machine", "press")
