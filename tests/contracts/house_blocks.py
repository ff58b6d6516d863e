"""The code blocks of a page: found, run in order, compared with what the page says they print.

* ``python`` blocks share one namespace per page; a ``text`` block right after one is what it prints.
* ``console`` blocks hold ``$ waywright ...`` lines, each followed by what it prints (nothing: not compared).
* In what is printed, a line ``...`` stands for any number of lines and ``...`` within a line for any text; how many
  blanks stand between words does not matter.
* Any block with ``title="name"`` becomes a file of that name; ``toml`` and ``json`` must parse.
* ``<!-- not run: reason -->`` before a console block is for commands that set up or need a network.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import shlex
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

FENCE = re.compile(r"^(?P<indent> *)(?P<fence>`{3,})(?P<language>[\w+-]*)(?P<rest>.*)$")
NOT_RUN = re.compile(r"^\s*<!-- not run: (?P<reason>.+?) -->\s*$")
SET_UP_COMMANDS = ("python3 x.py", "python x.py", "py x.py", "git ", "sudo ", "cd ", "pip ", "uv ")
KNOWN_LANGUAGES = {"python", "console", "csv", "toml", "json", "text", "yaml"}


@dataclass(frozen=True, slots=True)
class Block:
    """One fenced block: where it stands, what it is, and what lies between it and the block before."""

    line: int
    language: str
    title: str
    body: str
    not_run: str
    follows_closely: bool


def blocks_of(page: str) -> list[Block]:
    """All fenced blocks of a Markdown page, in order."""
    return list(_blocks(page.splitlines()))


def _blocks(lines: list[str]) -> Iterator[Block]:
    number, not_run, close = 0, "", False
    while number < len(lines):
        line = lines[number]
        opening = FENCE.match(line)
        if opening is None:
            marked = NOT_RUN.match(line)
            not_run = marked["reason"] if marked else (not_run if not line.strip() else "")
            close = close and not line.strip()
            number += 1
            continue
        end = next(n for n in range(number + 1, len(lines)) if lines[n].strip() == opening["fence"])
        body = "\n".join(text.removeprefix(opening["indent"]) for text in lines[number + 1 : end]) + "\n"
        title = re.search(r'title="([^"]+)"', opening["rest"])
        yield Block(number + 1, opening["language"], title[1] if title else "", body, not_run, close)
        number, not_run, close = end + 1, "", True


def run_page(page: str, folder: Path) -> int:
    """Run every block of a page with ``folder`` as the current one; how many were run or compared."""
    namespace: dict[str, object] = {"__name__": "__main__"}
    printed: str | None = None
    count = 0
    for block in blocks_of(page):
        place = f"line {block.line}"
        assert block.language in KNOWN_LANGUAGES, f"{place}: {block.language or 'no language'!r} cannot be checked"
        if block.not_run:
            check_not_run(block)
            continue
        if block.title:
            target = folder / block.title
            assert folder in target.resolve().parents, f"{place}: a file outside the page's folder"
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(block.body, encoding="utf-8")
        if block.language == "text" and block.follows_closely and printed is not None:
            compare(block.body, printed, place)
        printed = None
        if block.language == "python":
            printed = run_python(block, namespace)
        elif block.language == "console":
            run_console(block, folder)
        elif block.language in ("toml", "json"):
            {"toml": tomllib.loads, "json": json.loads}[block.language](block.body)
        count += 1
    return count


def check_not_run(block: Block) -> None:
    """Only what sets up or needs a network may be left out."""
    assert block.language == "console", f"line {block.line}: only console blocks can be left out"
    for command, _ in commands_of(block):
        assert command.startswith(SET_UP_COMMANDS), f"line {block.line}: {command!r} can be run, so run it"


def run_python(block: Block, namespace: dict[str, object]) -> str:
    """Execute in the page's namespace; what was printed."""
    out = io.StringIO()
    program = "\n" * block.line + block.body  # so that a traceback names the page's own line
    with contextlib.redirect_stdout(out):
        exec(compile(program, f"block of line {block.line}", "exec"), namespace)
    return out.getvalue()


def commands_of(block: Block) -> list[tuple[str, str]]:
    """(command, what the page says it prints) of a console block."""
    found: list[tuple[str, list[str]]] = []
    joined = block.body.replace("\\\n", " ")
    for line in joined.splitlines():
        if line.startswith("$ "):
            found.append((line[2:].strip(), []))
        else:
            assert found, f"line {block.line}: a console block begins with `$ `"
            found[-1][1].append(line)
    return [(command, "\n".join(lines)) for command, lines in found]


def run_console(block: Block, folder: Path) -> None:
    """Run each waywright command and compare what it prints."""
    plain = {"NO_COLOR": "1", "TERM": "dumb", "COLUMNS": "100", "PYTHONUTF8": "1", "HOME": str(folder)}
    for command, expected in commands_of(block):
        words = shlex.split(command)
        assert words[0] == "waywright", f"line {block.line}: {command!r} is not a waywright command"
        done = subprocess.run(
            [sys.executable, "-m", "waywright", *words[1:]],
            cwd=folder,
            env=os.environ | plain,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
            check=False,
        )
        shown_to_fail = "exit code" in block.body
        assert done.returncode == 0 or shown_to_fail, f"line {block.line}: {command}\n{done.stdout}"
        if expected.strip():
            compare(expected, done.stdout, f"line {block.line}: {command}")


def compare(expected: str, printed: str, place: str) -> None:
    """Line by line, with the two meanings of ``...``."""
    pattern = "".join(r"(?:[^\n]*\n)*?" if line == "..." else _line(line) for line in _lines(expected))
    got = "".join(line + "\n" for line in _lines(printed))
    assert re.fullmatch(pattern, got), f"{place}: the page says\n{expected}\nbut it prints\n{printed}"


def _lines(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.strip().splitlines()]


def _line(line: str) -> str:
    return "[^\n]*?".join(re.escape(part) for part in line.split("...")) + "\n"
