"""A sheet in words and figures, for page, PDF and workbook; blank or filled."""

from __future__ import annotations

from datetime import UTC, datetime

from waywright import __version__
from waywright.archive import Archive
from waywright.drawing import PRINT, plain_number, signed
from waywright.drawing.row_pictures import row_picture
from waywright.evaluate import Reason
from waywright.evaluate.sheet_rows import entries_of, kind_of_row
from waywright.evaluate.taper import TaperCauses
from waywright.files.sheet_file import SheetFile
from waywright.jobs.algorithm import ALGORITHM_VERSION
from waywright.jobs.sheet_fill import unit_of
from waywright.jobs.sheet_judge import RowResult, SheetResult
from waywright.jobs.sheet_keep import machine_of
from waywright.quantities import Kind
from waywright.report.sheet_content import MARKS, PlaceContent, SheetContent, SheetRowContent
from waywright.uncertainty.of_row import RowPart
from waywright.verdict import tolerance
from waywright.visit.sheet import MeasuringSheet, SheetRow
from waywright.wording import ENGLISH, text
from waywright.wording.said import sentence

SHOWN_UNITS = {"um": "µm", "um/m": "µm/m"}
SEAL = 16


def blank_content(sheet: SheetFile, machine: str | None = None, language: str = ENGLISH) -> SheetContent:
    """A sheet to fill with a pencil."""
    name = machine or sheet.machine or ""
    facts = [(text(f"sheet.print.{label}", language), value) for label, value in (
        ("machine", name), ("technician", ""), ("day", ""), ("temperature", ""))]  # fmt: skip
    rows = tuple(_blank_row(row, language) for row in sheet.row)
    return SheetContent(
        datetime.now(UTC), sheet.title, _heading(sheet.title, name), True, tuple(facts), rows, "",
        note=sheet.note, language=language,
    )  # fmt: skip


def _blank_row(row: SheetRow, language: str) -> SheetRowContent:
    kind = kind_of_row(row)
    used = unit_of(row)
    shown = (
        text("sheet.print.divisions", language, worth=division_words(row))
        if row.unit == "div"
        else _as_printed(used.name)
    )
    unit = "" if not entries_of(row) else shown
    return SheetRowContent(
        row.number, row.what, _picture(row.drawing or kind.drawing, row.what, row.number),
        tuple(PlaceContent(place_words(place, state, language), "") for place, state in entries_of(row)),
        "" if row.tolerance is None else str(tolerance(row.tolerance)), unit, "", "", "", "", row.remark,
    )  # fmt: skip


def filled_content(
    archive: Archive, sheet: MeasuringSheet, result: SheetResult, language: str = ENGLISH
) -> SheetContent:
    """A sheet as it stands."""
    machine, visit = machine_of(archive, sheet)
    facts = (
        (text("sheet.print.machine", language), " ".join(part for part in (machine.kind, machine.name) if part)),
        (text("sheet.print.technician", language), result.technician or text("report.not_recorded", language)),
        (text("sheet.print.day", language), f"{visit.began_utc:%Y-%m-%d %H:%M} UTC"),
        (text("sheet.print.burden", language), text(f"sheet.burden.{sheet.burden}", language)),
    )
    origin = (
        (text("report.software", language), f"Waywright {__version__}"),
        (text("report.algorithm", language), ALGORITHM_VERSION),
        (text("sheet.print.seal", language), result.last_hash or text("report.not_recorded", language)),
        (text("sheet.print.identity", language), str(result.id)),
    )
    rows = tuple(row_content(row, language) for row in result.rows)
    invented = text("report.invented", language) if result.invented else ""
    return SheetContent(
        datetime.now(UTC), sheet.title, _heading(sheet.title, machine.name), False, facts, rows,
        summary_words(result, language), note=sheet.note, invented=invented,
        undecided=tuple(undecided_words(row, language) for row in result.undecided),
        causes=tuple(line for found in result.taper for line in cause_words(found, language)), origin=origin,
        language=language,
    )  # fmt: skip


def row_content(row: RowResult, language: str = ENGLISH) -> SheetRowContent:
    """One row in words and figures."""
    unit, digits = SHOWN_UNITS[row.unit], 1
    is_signed = (row.value is not None and row.value < 0.0) or any(part.decision and part.decision.lower_um is not None
                                                                 for part in row.judged)  # fmt: skip
    shown = "" if row.value is None else signed(row.value, digits) if is_signed else plain_number(row.value, digits)
    places = tuple(
        PlaceContent(
            place_words(entry.place, entry.state, language),
            "–" if entry.value is None else f"{signed(entry.value, 1)} {_reading_unit(row)}", entry.value,
        )
        for entry in row.entries
    )  # fmt: skip
    return SheetRowContent(
        row.number, row.what, _picture(row.drawing, row.what, row.number), places,
        row.tolerance or text("sheet.print.no_limit", language), unit, shown,
        "" if row.expanded is None else f"± {plain_number(row.expanded, digits)}",
        text(f"sheet.verdict.{row.verdict.replace(' ', '-')}", language), MARKS.get(row.verdict, ""), row.remark,
        why=tuple(why_words(reason, language) for reason in row.why),
        further=tuple(figure_words(figure, language) for figure in row.figures),
        method=row.budget or "", budget=tuple(_part(part, unit, language) for part in row.parts),
        value_number=row.value, expanded_number=row.expanded, limit_number=row.limit,
    )  # fmt: skip


def _reading_unit(row: RowResult) -> str:
    from waywright.evaluate.sheet_work import KINDS

    return "µm/m" if KINDS[row.kind].reads is Kind.ANGLE else "µm"


def _part(part: RowPart, unit: str, language: str) -> tuple[str, str, str, str, str]:
    adds = f"{plain_number(part.contribution, 2)} {unit}" if part.contribution > 0.0 else "–"
    return (part.name, _amount(part), text(f"sheet.distribution.{part.distribution}", language),
            text(f"sheet.source.{part.source}", language), adds)  # fmt: skip


def place_words(place: str, state: str, language: str = ENGLISH) -> str:
    """``foot 4``, ``foot 4, level turned``, ``near, at 180°``."""
    return place if not state else text(f"sheet.state.{state}", language, place=place)


def figure_words(figure: tuple[str, float, str], language: str = ENGLISH) -> str:
    """A figure beside the value."""
    name, value, unit = figure
    return text(f"sheet.figure.{name}", language, value=signed(value, 1), unit=SHOWN_UNITS[unit])


def why_words(reason: Reason, language: str = ENGLISH) -> str:
    """A reason as a sentence, its unit with the proper mu."""
    unit = reason.facts.get("unit")
    facts = dict(reason.facts) if unit is None else {**reason.facts, "unit": SHOWN_UNITS.get(str(unit), unit)}
    return sentence(reason.key, facts, language)


def undecided_words(row: RowResult, language: str = ENGLISH) -> str:
    """Which row nothing is proved of, and why."""
    why = " ".join(why_words(reason, language) for reason in row.why)
    return text("sheet.row_is", language, number=row.number, what=row.what, why=why)


def summary_words(result: SheetResult, language: str = ENGLISH) -> str:
    """How many rows have each verdict."""
    parts = [text(f"sheet.count.{name.replace(' ', '-')}", language, count=count)
             for name, count in result.counts.items()]  # fmt: skip
    return text("sheet.summary", language, rows=len(result.rows), parts=", ".join(parts))


def cause_words(found: TaperCauses, language: str = ENGLISH) -> tuple[str, ...]:
    """The likely cause of a taper, and what the others do."""
    if found.likely is None:
        first = text("sheet.taper.none", language, taper=signed(found.taper_um))
    else:
        first = text("sheet.taper.likely", language, taper=signed(found.taper_um), share=100.0 * found.likely.share,
                     cause=text(f"sheet.cause.{found.likely.name}", language),
                     remedy=text(f"sheet.remedy.{found.likely.name}", language))  # fmt: skip
    lines = [first]
    lines += [text("sheet.taper.part", language, cause=text(f"sheet.cause.{cause.name}", language),
                   taper=signed(cause.taper_um)) for cause in found.causes]  # fmt: skip
    lines.append(text("sheet.taper.left", language, left=signed(found.left_um)))
    if found.not_measured:
        names = ", ".join(text(f"sheet.cause.{name}", language) for name in found.not_measured)
        lines.append(text("sheet.taper.not_measured", language, causes=names))
    return tuple(lines)


def division_words(row: SheetRow) -> str:
    """What a division is worth."""
    return f"{row.division:g} {row.division_unit}"


def _picture(name: str, what: str, number: str) -> str:
    return row_picture(name, what, palette=PRINT, ident=f"row-{number}")


def _heading(title: str, machine: str) -> str:
    return " · ".join(part for part in (title, machine) if part)


def _as_printed(unit: str) -> str:
    """A unit with its proper mu."""
    return SHOWN_UNITS.get(unit, unit)


def _amount(part: RowPart) -> str:
    """A contribution as its budget states it; a plain share in percent."""
    return f"{100.0 * part.value:g} %" if part.unit == "1" else f"{part.value:g} {_as_printed(part.unit)}"
