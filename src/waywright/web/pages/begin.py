"""Beginning: a quick look needs a name and instruments; a machine needs a name and how its axes lie."""

from __future__ import annotations

import tempfile
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from pathlib import Path
from uuid import NAMESPACE_URL, UUID, uuid5

from nicegui import events, ui

from waywright.clocks import SystemClock
from waywright.errors import BadInput, WaywrightError
from waywright.files.machine_file import read_machine
from waywright.files.setup_file import LineEntry, SetUpFile
from waywright.jobs.begin import QUICK_LOOK
from waywright.jobs.new_machine import plain_machine
from waywright.jobs.plans import plan_of
from waywright.jobs.typed import begin_typed_line
from waywright.machine import Machine
from waywright.quantities import Axes
from waywright.visit import PlanItem, Visit
from waywright.web.desk import Desk
from waywright.web.elements import Press, Words, box, choice, field, file_press, note
from waywright.web.frame import head
from waywright.web.pages.connect import DescriptionFiles
from waywright.wording import text

SIGNED_AXES = ("+X", "-X", "+Y", "-Y", "+Z", "-Z")
PRESETS = {"lathe": ("-Y", "+X"), "upright": ("+Z", "-Y")}


def register(desk: Desk) -> None:
    """The pages at ``/begin`` and ``/machine``."""

    @ui.page("/begin")
    def begin(machine: str = "", visit: str = "", item: str = "") -> None:
        head(text("web.quick_look"), here="begin")
        with box("page one"):
            Words(text("web.quick_look"), tag="h1")
            with box("sheet form", "section"):
                _quick_look(desk, machine, _Wanted.of(desk, visit, item))

    @ui.page("/machine")
    def new_machine() -> None:
        head(text("web.new_machine"), here="begin")
        with box("page"):
            with box("stack"):
                Words(text("web.new_machine"), tag="h1")
                with box("sheet form", "section"):
                    _machine_form(desk)
            with box("sheet", "section"):
                _machine_file(desk)


class AxesChoice:
    """How the axes lie, from a usual kind of machine or axis by axis."""

    def __init__(self) -> None:
        self.kind = "lathe"
        presets = [(name, text(f"web.axes.{name}")) for name in PRESETS]
        choice(presets, self.kind, self._preset, text("web.axes_label"))
        with box("row"):
            self._up = self._select(text("web.axis_up"), PRESETS[self.kind][0])
            self._operator = self._select(text("web.axis_operator"), PRESETS[self.kind][1])

    @property
    def axes(self) -> Axes:
        """The choice. Raises BadInput where both are the same axis."""
        return Axes(str(self._up.value), str(self._operator.value))

    def _select(self, label: str, value: str) -> ui.select:
        options = {axis: axis.replace("-", "\N{MINUS SIGN}") for axis in SIGNED_AXES}
        return ui.select(options, label=label, value=value).props("outlined square stack-label").classes("axis")

    def _preset(self, name: str) -> None:
        self.kind = name
        self._up.value, self._operator.value = PRESETS[name]


@dataclass(frozen=True, slots=True)
class _Wanted:
    """The visit that a line is to join, and the test of its plan that the line answers."""

    visit: Visit | None = None
    item: PlanItem | None = None

    @classmethod
    def of(cls, desk: Desk, visit: str, item: str) -> _Wanted:
        """From the page's address; what is not known there is not wanted."""
        try:
            found = desk.archive.load(Visit, UUID(visit))
        except (WaywrightError, ValueError):
            return cls()
        plan = plan_of(desk.archive, found.id)
        return cls(found, plan.item(item) if plan is not None else None)


def _quick_look(desk: Desk, wanted: str, joining: _Wanted) -> None:
    """Line, instruments, begin."""
    if joining.visit is not None:
        wanted = str(joining.visit.machine_id)
    machines = {str(machine.id): f"{machine.kind} {machine.name}" for machine in desk.archive.machines()}
    options = {"": text("web.machine_unknown"), **machines}
    given = ui.select(options, label=text("web.machine"), value=wanted if wanted in machines else "")
    given.props("outlined square stack-label")
    unknown = box("stack")
    with unknown:
        axes = AxesChoice()
    unknown.bind_visibility_from(given, "value", value="")
    name = field(text("web.line_name"), joining.item.what if joining.item else QUICK_LOOK)
    with box("row"):
        axis = ui.select(["X", "Y", "Z"], label=text("web.moving_axis"), value=_axis_of(joining)).props(
            "outlined square stack-label"
        )
        axis.classes("axis")
        ends = [
            ui.number(text(f"web.{end}")).props("outlined square stack-label").classes("short")
            for end in ("from_mm", "to_mm")
        ]
    technician = field(text("web.fact.technician"))
    files = DescriptionFiles(desk)

    def wanted_line() -> tuple[Machine, LineEntry, str | None]:
        chosen = str(given.value or "")
        machine = desk.archive.load(Machine, UUID(chosen)) if chosen else _unnamed(axes.axes)
        called = str(name.value).strip() or QUICK_LOOK
        entry = LineEntry(name=called, axis=axis.value, from_mm=ends[0].value, to_mm=ends[1].value)
        return machine, entry, str(technician.value).strip() or None

    async def start() -> None:
        machine, entry, who = wanted_line()
        if not files.files:
            raise BadInput("web.no_instruments")
        line = await desk.measure(machine, SetUpFile(line=entry), files.files, who, joining.visit)
        ui.navigate.to(f"/line/{line.id}/take")

    async def type_values() -> None:
        line = begin_typed_line(desk.archive, *wanted_line(), SystemClock(), joining.visit)
        desk.touched()
        ui.navigate.to(f"/line/{line.id}/take")

    _finish(text("web.begin"), start)
    _finish(text("web.begin_typing"), type_values, "")


def _axis_of(joining: _Wanted) -> str:
    axis = joining.item.axis if joining.item is not None else None
    return axis if axis in ("X", "Y", "Z") else "Z"


def _unnamed(axes: Axes) -> Machine:
    """A machine that nobody has named: the same one for the same axes."""
    name = text("web.unnamed_machine", up=axes.up, operator=axes.operator)
    return Machine(uuid5(NAMESPACE_URL, f"machine:{name}"), name, "", axes)


def _machine_form(desk: Desk) -> None:
    name, kind = field(text("web.machine_name")), field(text("web.machine_kind"))
    owner, serial = field(text("web.fact.owner")), field(text("web.fact.serial"))
    axes = AxesChoice()
    with box("row"):
        length = ui.number(text("web.bed_length"), min=100).props("outlined square stack-label").classes("short")
        supports = ui.number(text("web.supports_in_a_row"), min=0, max=60, precision=0, value=0)
        rows = ui.number(text("web.rows"), min=1, max=2, precision=0, value=1)
        for item in (supports, rows):
            item.props("outlined square stack-label").classes("short")
    Words(text("web.supports_words"), "mute small", "p")

    async def make() -> None:
        if not str(name.value).strip():
            raise BadInput("web.no_name")
        machine = plain_machine(
            str(name.value).strip(), str(kind.value).strip(), axes.axes, owner=str(owner.value).strip(),
            serial=str(serial.value).strip(), bed_length_mm=length.value,
            supports_in_a_row=int(supports.value or 0), rows=int(rows.value or 1),
        )  # fmt: skip
        _keep(desk, machine)

    _finish(text("web.keep_machine"), make)


def _machine_file(desk: Desk) -> None:
    Words(text("web.machine_file"), tag="h2")
    Words(text("web.machine_file_words"), "mute", "p")
    said = box("stack")

    async def came(event: events.UploadEventArguments) -> None:
        data = await event.file.read()
        with tempfile.TemporaryDirectory() as folder, said:
            place = Path(folder) / Path(event.file.name).name
            place.write_bytes(data)
            try:
                _keep(desk, read_machine(place))
            except WaywrightError as error:
                note(str(error).replace(str(folder), "").lstrip("/\\"), "bad")

    file_press(text("web.choose_machine_file"), came)


def _keep(desk: Desk, machine: Machine) -> None:
    desk.archive.save(machine)
    desk.touched()
    ui.navigate.to(f"/begin?machine={machine.id}")


def _finish(words: str, do: Callable[[], Awaitable[None]], look: str = "next") -> None:
    """The press that ends a form; what is wrong stands beside it."""
    problem = note("", "bad")
    problem.set_visibility(False)

    async def pressed() -> None:
        try:
            await do()
        except WaywrightError as error:
            problem.set_text(str(error))
            problem.set_visibility(True)

    Press(words, pressed, look)
