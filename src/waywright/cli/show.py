"""How commands show answers: tables for people, JSON for programs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

T = TypeVar("T")


def console() -> Console:
    """The terminal; as wide as a page where the output goes to a file."""
    from rich.console import Console

    found = Console(highlight=False)
    return found if found.is_terminal else Console(highlight=False, width=120)


def table(*headings: str, title: str | None = None) -> Table:
    """A quiet table: numbers to the right, first column to the left."""
    from rich import box
    from rich.table import Table

    made = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left", title_style="bold", pad_edge=False)
    for number, heading in enumerate(headings):
        made.add_column(heading, justify="left" if number == 0 else "right", overflow="fold")
    return made


def print_json(answer: Any) -> None:
    """One JSON document; keys are the field names of the records, units included."""
    import msgspec

    print(msgspec.json.format(msgspec.json.encode(plain(answer)), indent=2).decode())


def answer(found: Any, sentence: str, json: bool) -> None:
    """JSON for programs, one sentence for people."""
    if json:
        print_json(found)
    else:
        console().print(sentence)


def listing(
    found: Sequence[T], json: bool, headings: Sequence[str], row: Callable[[T], Sequence[str]], none: str
) -> None:
    """JSON for programs; for people a row of a table for each, or the sentence ``none`` where there is nothing."""
    if json:
        print_json(found)
        return
    page = table(*headings)
    for each in found:
        page.add_row(*row(each))
    console().print(page if found else none)


def facts(rows: dict[str, str]) -> None:
    """Names and what is known under them."""
    page = table("", "")
    page.show_header, page.columns[1].justify = False, "left"
    for name, value in rows.items():
        page.add_row(name, value)
    console().print(page)


@contextmanager
def progress(shown: bool = True) -> Iterator[Callable[[str, int, int], None]]:
    """A bar on the terminal for what takes long: call it with what is done, how much of it, and how much there is.

    It is written beside the answer (stderr), and not at all where nobody looks.
    """
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TaskID, TextColumn, TimeRemainingColumn

    from waywright.wording import text

    terminal = Console(stderr=True)
    tasks: dict[str, TaskID] = {}
    columns = (TextColumn("{task.description}"), BarColumn(), TextColumn("{task.completed}/{task.total}"))
    with Progress(
        *columns, TimeRemainingColumn(), console=terminal, disable=not (shown and terminal.is_terminal)
    ) as bar:

        def told(what: str, done: int, total: int) -> None:
            if what not in tasks:
                tasks[what] = bar.add_task(text(f"progress.{what}"), total=total)
            bar.update(tasks[what], completed=done, total=total)

        yield told


def plain(value: Any) -> Any:
    """Records, arrays and paths as JSON values; NaN as null."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    for kind, convert in _PLAIN.items():
        if isinstance(value, kind):
            return convert(value)
    return plain(value.tolist()) if hasattr(value, "tolist") else value


_PLAIN: dict[type, Callable[[Any], Any]] = {bytes: bytes.hex, Path: str}


def signed(value: float, digits: int = 1) -> str:
    """A figure with its sign always shown and a true minus: +3.2, −0.7, ±0.0."""
    text = f"{value:+.{digits}f}"
    if float(text) == 0:
        return "±" + text[1:]
    return text.replace("-", "−")
