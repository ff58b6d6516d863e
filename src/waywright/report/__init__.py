"""The report: one content model feeds PDF, workbook and table, so that they can never disagree."""

from waywright.report.content import FurtherContent, LineValue, PassContent, PassCurve, QuantityContent, ReportContent
from waywright.report.folder import ReportPaths, write_report
from waywright.report.pdf import pdf_bytes
from waywright.report.table import report_table
from waywright.report.workbook import workbook_bytes

__all__ = [
    "FurtherContent",
    "LineValue",
    "PassContent",
    "PassCurve",
    "QuantityContent",
    "ReportContent",
    "ReportPaths",
    "pdf_bytes",
    "report_table",
    "workbook_bytes",
    "write_report",
]
