"""How an instrument is reached, as a form: one for each kind of link, made from what a description may say."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Protocol, get_args, get_origin

import msgspec
from nicegui import ui

from waywright.errors import BadInput
from waywright.instruments.link_records import VALUE_LINKS, Link
from waywright.web.elements import Words, box, choice, field
from waywright.wording import text

EXAMPLES = {
    "host": "192.0.2.10",
    "path": "C:/log.txt",
    "resource": "USB0::0x1234::INSTR",
    "topic": "hall/beam",
    "url": "opc.tcp://192.0.2.8:4840",
    "address": "C0:FF:EE:00:00:01",
    "notify": "6e400003-b5a3-f393-e0a9-e50e24dcca9e",
}
_KINDS = {str(kind.__struct_config__.tag): kind for kind in get_args(Link)}
_VALUES = tuple(str(kind.__struct_config__.tag) for kind in VALUE_LINKS)


class _Line(Protocol):
    value: Any


class LinkForm:
    """Choose the kind, fill in what it needs; what has a usual value stands under "more"."""

    def __init__(self) -> None:
        self._kind = next(iter(_KINDS))
        self._written: dict[str, _Line] = {}
        self._items: _Line | None = None
        kinds = [(kind, text(f"wizard.kind_{kind}")) for kind in _KINDS]
        choice(kinds, self._kind, self._choose, text("wizard.kind"))
        self._place = box("stack")
        self._choose(self._kind)

    @property
    def brings_values(self) -> bool:
        """Whether named values are read instead of lines."""
        return self._kind in _VALUES

    @property
    def items(self) -> tuple[str, ...]:
        """The nodes or data items wanted. Raises BadInput where none is named."""
        said = str(self._items.value or "") if self._items else ""
        found = tuple(dict.fromkeys(item.strip() for item in said.splitlines() if item.strip()))
        if not found:
            raise BadInput("wizard.no_items")
        return found

    @property
    def link(self) -> dict[str, Any]:
        """The link as a description says it, without what is usual. Raises BadInput where something is missing."""
        made: dict[str, Any] = {"kind": self._kind}
        for each in msgspec.structs.fields(_KINDS[self._kind]):
            said = str(self._written[each.name].value or "").strip()
            if not said and each.required:
                raise BadInput("wizard.missing", field=self._label(each.name))
            if said and said != _written(each.default):
                made[each.name] = _read(said, _base(each.type))
        return made

    def _choose(self, kind: str) -> None:
        self._kind, self._items = kind, None
        fields = msgspec.structs.fields(_KINDS[kind])
        self._place.clear()
        with self._place:
            Words(text(f"wizard.about_{kind}"), "small mute", "p")
            with box("row"):
                self._written = {each.name: self._line(each) for each in fields if each.required}
            if self.brings_values:
                self._items = ui.textarea(text(f"wizard.items_{kind}")).props("outlined square stack-label rows=3")
            usual = [each for each in fields if not each.required]
            if usual:
                with box("budget", "details"):
                    Words(text("wizard.more"), tag="summary")
                    with box("row"):
                        self._written |= {each.name: self._line(each) for each in usual}

    def _line(self, each: msgspec.structs.FieldInfo) -> _Line:
        label = self._label(each.name)
        if get_origin(each.type) is Literal:
            options = {str(one): str(one) for one in get_args(each.type)}
            return ui.select(options, label=label, value=str(each.default)).props("outlined square stack-label")
        made = field(label, "" if each.required or each.default is None else _written(each.default))
        if each.required and each.name in EXAMPLES:
            made.props["placeholder"] = EXAMPLES[each.name]
        return made

    def _label(self, name: str) -> str:
        serial = self._kind == "serial" and name == "port"
        return text("wizard.field_serial_port" if serial else f"wizard.field_{name}")


def _base(stated: Any) -> type:
    """What a value is: a number, or a text."""
    if get_origin(stated) is Literal:
        return type(get_args(stated)[0])
    return get_args(stated)[0] if get_origin(stated) is Annotated else str


def _written(value: object) -> str:
    return str(value).replace("\r", "\\r").replace("\n", "\\n")


def _read(said: str, base: type) -> Any:
    """A value as written; what is no number is left to the record, which says what it wants."""
    try:
        return base(said) if base is not str else said.replace("\\r", "\r").replace("\\n", "\n")
    except ValueError:
        return said
