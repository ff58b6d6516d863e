"""Words and figures of a measured line, as the pages show them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from waywright.jobs.measured import MeasuredLine, MeasuredPass
from waywright.machine import Machine
from waywright.quantities import Code, Direction, plain_name
from waywright.visit import Column
from waywright.web.display import amount, deviation, place, place_unit, unit_for
from waywright.wording import text

REFERENCES = ("end-points", "least-squares", "minimum-zone")


def word_of(code: Code, machine: Machine) -> str:
    """The plain word of a quantity: height, side, roll."""
    name = plain_name(code, machine.axes)
    return text(name.key, **name.facts)


def direction_word(direction: Direction) -> str:
    """A physical direction in words."""
    return text(f"quantities.{direction.value}")


def unit_of(code: Code) -> str:
    """The unit as written beside a value."""
    return unit_for(code).word


def heading_of(code: Code, machine: Machine) -> str:
    """``height (EYZ)``."""
    return f"{word_of(code, machine)} ({code.text})"


def pass_words(single: MeasuredPass) -> str:
    """``pass 1, forward``."""
    return text("web.pass", number=single.taken.number, direction=text(f"web.{single.taken.direction}"))


def references() -> list[tuple[str, str]]:
    """The reference lines to choose from, in words."""
    return [(name, text(f"web.reference.{name}")) for name in REFERENCES]


def straight_codes(measured: MeasuredLine) -> list[Code]:
    """The straightness quantities of a line, in the order of its channels."""
    return [column.code for column in columns_of(measured) if column.code.is_straightness]


def columns_of(measured: MeasuredLine) -> tuple[Column, ...]:
    """The columns of the last pass."""
    return measured.passes[-1].profile.columns if measured.passes else ()


def readings_table(single: MeasuredPass, machine: Machine) -> str:
    """The readings of a pass as markup, the newest first."""
    columns = single.profile.columns
    heads = [place_unit(), *(f"{word_of(c.code, machine)} {unit_of(c.code)}" for c in columns), text("web.sd")]
    rows = []
    for at in range(len(single.readings) - 1, -1, -1):
        position = float(single.profile.position_mm[at])
        values = [deviation(c.code, float(c.screen[at])) for c in columns]
        scatter = amount(columns[0].code, float(columns[0].standard_deviation[at])) if columns else ""
        rows.append((str(single.readings[at].id), [place(position), *values, scatter]))
    return table_markup(heads, rows)


def table_markup(
    heads: Sequence[str], rows: Iterable[tuple[str | None, Sequence[str]]], chosen: str = "", look: str = ""
) -> str:
    """A table as markup, everything escaped; a row with an id opens on touch."""
    head = "".join(f'<th scope="col">{escape(each)}</th>' for each in heads)
    body = "".join(_row(identity, cells, chosen) for identity, cells in rows)
    return f'<table class="figures-table {look}"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


def _row(identity: str | None, cells: Sequence[str], chosen: str) -> str:
    inside = "".join(f"<td>{escape(cell)}</td>" for cell in cells)
    marked = " chosen" if identity is not None and identity == chosen else ""
    opens = f' class="opens{marked}" tabindex="0" data-opens="{escape(identity)}"' if identity else ""
    return f"<tr{opens}>{inside}</tr>"
