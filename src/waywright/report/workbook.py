"""The report as a workbook: results, one sheet of live formulas a quantity, budget, readings, and what they rest on."""

from __future__ import annotations

import io

from waywright.report.content import ReportContent
from waywright.report.saying import Saying
from waywright.report.workbook_about import about_sheet, readings_sheet
from waywright.report.workbook_book import Book
from waywright.report.workbook_budget import budget_sheet
from waywright.report.workbook_formulas import formula_sheets, results_sheet
from waywright.wording import speaking


def workbook_bytes(content: ReportContent) -> bytes:
    """The workbook as an XLSX file; the same content gives the same bytes. Text stays text, whatever it begins with.

    End-point and least-squares lines are formulas over the readings' mean, so that they can be checked by hand; the
    minimum zone and the uncertainty are figures of the program. In the first language of the report.
    """
    import xlsxwriter

    target = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = xlsxwriter.Workbook(target, options)
    with speaking(content.language.partition("+")[0]):
        say = Saying(content)
        footer = say.of("report.footer", version=content.software_version, made=say.moment(content.made_utc))
        book.set_properties(
            {
                "title": say.heading(),
                "author": content.technician or "",
                "comments": footer,
                "created": content.made_utc.replace(tzinfo=None),
            }
        )
        _write(Book(book, content))
    book.close()
    return target.getvalue()


def _write(book: Book) -> None:
    """All sheets; results stand first and point to the sheets of formulas."""
    results = book.sheet("report.sheet_results")
    found = formula_sheets(book)
    results_sheet(book, results, found)
    if any(quantity.uncertainty for line in book.content.lines for quantity in line.quantities):
        budget_sheet(book, book.sheet("report.sheet_budget"))
    readings_sheet(book, book.sheet("report.sheet_readings"))
    about_sheet(book, book.sheet("report.sheet_about"))
