"""``waywright report``: what the customer keeps."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter


def report(
    line: str | None = None,
    *,
    folder: Path = Path("waywright-report"),
    reference: Literal["end-points", "least-squares", "minimum-zone"] = "least-squares",
    window_mm: float | None = None,
    archive: Annotated[Path | None, Parameter(name=["--archive", "-a"])] = None,
    json: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Write the report of a line: PDF, workbook and readings table.

    Parameters
    ----------
    line
        Name or id of the line; without it the newest.
    folder
        Where the files are written.
    reference
        The reference line that the report states its results for; the other two stand beside it.
    window_mm
        Also judge straightness locally over this length.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print the paths and results as JSON.
    """
    from waywright.cli import results_view, show
    from waywright.jobs import prove

    written = prove.report_of_line(line, folder, reference, window_mm, archive)
    if json:
        show.print_json(written)
        return
    results_view.print_results(written.results)
    for path in written.files:
        show.console().print(str(path))
