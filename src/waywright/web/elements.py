"""The few elements that pages are made of: plain markup with our own look, no tiles, no icons."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from nicegui import events, ui
from nicegui.elements.mixins.text_element import TextElement

from waywright.errors import WaywrightError


class Words(TextElement):
    """Text in a tag."""

    def __init__(self, text: str, classes: str = "", tag: str = "div") -> None:
        super().__init__(tag=tag, text=text)
        self.classes(classes)


class Press(TextElement):
    """A button that says what happens."""

    def __init__(self, text: str, on_press: Callable[..., Any] | None = None, classes: str = "") -> None:
        super().__init__(tag="button", text=text)
        self.classes(f"press {classes}")
        self.props('type="button"')
        if on_press is not None:
            self.on("click", on_press, [])

    def allow(self, allowed: bool) -> None:
        """Whether it can be pressed."""
        self._props["disabled"] = not allowed
        self.update()


class To(TextElement):
    """A link."""

    def __init__(self, text: str, address: str, classes: str = "") -> None:
        super().__init__(tag="a", text=text)
        self.classes(classes)
        self._props["href"] = address


def box(classes: str = "", tag: str = "div") -> ui.element:
    """An element that holds others."""
    return ui.element(tag).classes(classes)


def markup(content: str, classes: str = "", tag: str = "div") -> ui.html:
    """Markup made here (drawings), never text from outside."""
    made = ui.html(content, sanitize=False, tag=tag).classes(classes)
    if "scroll" in classes.split():
        made.props('tabindex="0"')  # the keyboard scrolls it too
    return made


def choice(options: Sequence[tuple[str, str]], chosen: str, on_choose: Callable[[str], Any], label: str) -> ui.element:
    """One of a few, each in words; switched in place."""
    group = box("choice").props('role="group"')
    group._props["aria-label"] = label
    presses: dict[str, Press] = {}

    async def choose(value: str) -> None:
        for name, press in presses.items():
            press._props["aria-pressed"] = "true" if name == value else "false"
            press.update()
        outcome = on_choose(value)
        if inspect.isawaitable(outcome):
            await outcome

    with group:
        for value, words in options:
            presses[value] = Press(words, lambda value=value: choose(value))
            presses[value]._props["aria-pressed"] = "true" if value == chosen else "false"
    return group


def field(label: str, value: str = "", classes: str = "") -> ui.input:
    """A line to write on."""
    return ui.input(label, value=value).props("outlined square stack-label").classes(classes)


def table(headings: Iterable[str], classes: str = "") -> ui.element:
    """A quiet table; rows are added inside its body, which is returned."""
    with box("scroll").props('tabindex="0"'), box(f"figures-table {classes}", "table"):
        with box(tag="thead"), box(tag="tr"):
            for heading in headings:
                Words(heading, tag="th").props('scope="col"')
        return box(tag="tbody")


def row(cells: Iterable[str], classes: str = "") -> ui.element:
    """A row of a table."""
    made = box(classes, "tr")
    with made:
        for cell in cells:
            Words(cell, tag="td")
    return made


def facts(pairs: Iterable[tuple[str, str]]) -> None:
    """Labels with their values."""
    with box("facts", "dl"):
        for label, value in pairs:
            Words(label, tag="dt")
            Words(value, tag="dd")


def note(sentence: str, classes: str = "") -> Words:
    """A sentence that wants to be seen."""
    return Words(sentence, f"note {classes}", "p")


def number(label: str, value: float | None, *, least: float | None = None, classes: str = "short") -> ui.number:
    """A figure to write."""
    return ui.number(label, value=value, min=least).props("outlined square stack-label").classes(classes)


class Bar:
    """A bar that fills."""

    def __init__(self) -> None:
        with box("bar quiet-bar") as self._outer:
            self._inner = box(tag="i")
        self._outer.set_visibility(False)

    def fill(self, share: float) -> None:
        """0 to 1; a full one goes away."""
        self._outer.set_visibility(0.0 <= share < 1.0)
        self._inner.style(f"width: {100 * share:.0f}%")


def tried(do: Callable[..., Any], problem: Words | None = None) -> Callable[..., Any]:
    """A step whose refusal stands in ``problem``, or beside what was pressed, in words."""

    async def step(*given: Any) -> None:
        try:
            outcome = do(*given)
            if inspect.isawaitable(outcome):
                await outcome
        except WaywrightError as error:
            if problem is None:
                note(str(error), "bad")
            else:
                problem.set_text(str(error))
                problem.set_visibility(True)
            return
        if problem is not None:
            problem.set_visibility(False)

    return step


def asking(label: str, words: str, do: Callable[[str], Any]) -> None:
    """A line to write a reason on and the press that needs it; what is wrong stands below."""
    why = field(label)
    place = box("stack")

    async def pressed() -> None:
        place.clear()
        with place:
            outcome = do(str(why.value or ""))
            if inspect.isawaitable(outcome):
                await outcome

    Press(words, pressed)


def file_press(
    words: str,
    on_upload: Callable[[events.UploadEventArguments], Any],
    *,
    multiple: bool = False,
    accept: str = ".toml",
) -> Press:
    """A press that opens the computer's own file dialogue; what is chosen comes at once."""
    upload = ui.upload(multiple=multiple, auto_upload=True, on_upload=on_upload).props(f'accept="{accept}"')
    upload.classes("unseen")
    press = Press(words)
    press.on("click", js_handler=f"() => runMethod({upload.id}, 'pickFiles', [])")
    return press
