"""The reference page of commands, made from the commands themselves: `python tests/contracts/commands_page.py`."""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from cyclopts import App

from waywright.cli.app import app

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "commands.md"
INTRODUCTION = """\
# Commands

`python3 x.py run` stands for `waywright` (or activate `.venv`). `waywright --help` and `waywright COMMAND --help` show
the same as this page; `waywright --version` the version. `-h` is short for `--help`.

What prints results prints JSON with `--json`: keys are the field names of the records, units included. Units are in the
names of options: positions in mm, deviations in µm, times in s. Exit code 0 is done, 2 bad use, 1 anything else that
failed; the reason is on stderr.

Without `--archive FILE` (or `-a FILE`) everything is kept in one archive in your user data folder.

A class 2 laser is still a laser: never look into the beam, and end it on something dull. Keep clear of the moving
axis. Waywright moves no machine and turns no support.
"""


@dataclass(frozen=True, slots=True)
class Option:
    """One argument or option of a command."""

    names: tuple[str, ...]
    meaning: str
    default: str


@dataclass(frozen=True, slots=True)
class Command:
    """One command with what its help says."""

    name: str
    text: str
    options: tuple[Option, ...]


def commands(tree: App = app, place: tuple[str, ...] = ()) -> Iterator[Command]:
    """Every command, those of groups included, in the order of the help."""
    for name in tree:
        if name.startswith("-"):
            continue
        found, here = tree[name], (*place, name)
        if any(not inner.startswith("-") for inner in found):
            if found.default_command is not None:
                yield command_of(" ".join(here), found)
            yield from commands(found, here)
        else:
            yield command_of(" ".join(here), found)


def command_of(name: str, found: App) -> Command:
    """What the signature and the docstring of a command say."""
    said = inspect.cleandoc(found.default_command.__doc__ or "")
    text, _, listed = said.partition("\nParameters\n----------\n")
    meanings = dict(meanings_of(listed))
    options = []
    for argument in found.assemble_argument_collection():
        if argument.names == ("*",):  # a group of options, which follow one by one
            continue
        meaning = argument.parameter.help or meanings.get(argument.field_info.name, "")
        default = argument.field_info.default
        shown = "" if argument.required or default in (None, False, inspect.Parameter.empty) else f"{default}"
        options.append(Option(tuple(argument.names), meaning, "yes" if default is True else shown))
    return Command(name, text.strip(), tuple(options))


def meanings_of(listed: str) -> Iterator[tuple[str, str]]:
    """Parameter and meaning, of a numpy docstring's list."""
    name, lines = "", []
    for line in [*listed.splitlines(), "end"]:
        if line.startswith(" ") or not line:
            lines.append(line.strip())
            continue
        if name:
            yield name, " ".join(filter(None, lines))
        name, lines = line.strip(), []


def page() -> str:
    """The whole page."""
    return "\n".join([INTRODUCTION, *(section(command) for command in commands())])


def section(command: Command) -> str:
    """A heading, the text, a table of options."""
    rows = ["| option | meaning | default |", "|---|---|---|"]
    for option in command.options:
        names = ", ".join(f"`{name}`" for name in option.names)
        default = f"`{option.default}`" if option.default else ""
        rows.append(f"| {names} | {option.meaning.replace('|', chr(92) + '|')} | {default} |")
    return "\n".join([f"## waywright {command.name}", "", command.text, "", *rows, ""])


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
