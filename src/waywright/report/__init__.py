"""The report: one content model feeds PDF, workbook and table, so that they can never disagree."""

from waywright.report.content import (
    ChangeContent,
    IssueContent,
    OnTheSpotContent,
    PartyContent,
    ReportContent,
    SealContent,
)
from waywright.report.content_line import (
    BudgetRow,
    ExcludedContent,
    FigureRow,
    FurtherContent,
    LineContent,
    LineValue,
    PassContent,
    PassCurve,
    QuantityContent,
    UncertaintyContent,
    VerdictContent,
)
from waywright.report.folder import ReportPaths, write_report
from waywright.report.pdf import pdf_bytes
from waywright.report.table import line_table
from waywright.report.workbook import workbook_bytes

__all__ = [
    "BudgetRow",
    "ChangeContent",
    "ExcludedContent",
    "FigureRow",
    "FurtherContent",
    "IssueContent",
    "LineContent",
    "LineValue",
    "OnTheSpotContent",
    "PartyContent",
    "PassContent",
    "PassCurve",
    "QuantityContent",
    "ReportContent",
    "ReportPaths",
    "SealContent",
    "UncertaintyContent",
    "VerdictContent",
    "line_table",
    "pdf_bytes",
    "workbook_bytes",
    "write_report",
]
