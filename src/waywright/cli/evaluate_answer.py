"""How ``waywright evaluate`` answers: sentences, JSON, a drawing, and what the result rests on."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from cyclopts import Parameter

if TYPE_CHECKING:
    from collections.abc import Sequence

Json = Annotated[bool, Parameter(negative="", help="Print JSON.")]
Drawing = Annotated[Path | None, Parameter(help="Also draw it into this SVG file.")]
Flag = Annotated[bool, Parameter(negative="")]


def answer(results: Sequence[Any], drawing: Path | None, json: bool, *files: Path) -> None:
    """Print results that come from tables; the first is drawn."""
    from waywright.cli import show
    from waywright.jobs.basis import basis_of_files
    from waywright.jobs.drawn_parts import drawn
    from waywright.jobs.told import sentence
    from waywright.jobs.told_parts import basis_told, told

    if drawing is not None:
        from waywright.files.table_writer import write_text

        write_text(drawing, drawn(results[0]))
    bases = [basis_of_files(each, files) for each in results]
    if json:
        found = [
            {"kind": _kind(each), **show.plain(each), "basis": show.plain(basis)}
            for each, basis in zip(results, bases, strict=True)
        ]
        show.print_json({"results": found})
        return
    for number, (each, basis) in enumerate(zip(results, bases, strict=True)):
        if number:
            show.console().print()
        for said in (*told(each), *basis_told(basis)):
            show.console().print(sentence(said))


def _kind(result: object) -> str:
    """The name of the command that gives such a result."""
    name = type(result).__name__.removesuffix("Result")
    return re.sub(r"(?<=[a-z])(?=[A-Z])", "-", name).lower()
