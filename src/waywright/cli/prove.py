"""``waywright report``: what the customer keeps."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from cyclopts import App

from waywright.cli import prove_sign
from waywright.cli.prove_options import FOLDER, ArchiveFile, Json, Keep, Language, Paper, Reference, order_of

commands = App(name="report", help="Write the report of a visit, sign it, and verify one.")


@commands.default
def report(
    *lines: str,
    folder: Path = FOLDER,
    reference: Reference = "least-squares",
    window_mm: float | None = None,
    uncertainty: bool = True,
    budget: str | None = None,
    tolerance: str | None = None,
    burden: Literal["supplier", "customer", "shared", "simple"] = "supplier",
    language: Language = "en",
    paper: Paper = "a4",
    keep: Keep = False,
    archive: ArchiveFile = None,
    json: Json = False,
) -> None:
    """Write the report of one or more lines of a visit: PDF, workbook and readings tables.

    Parameters
    ----------
    lines
        Names or ids of lines of one visit; without any the newest line. "all" is every line of the newest visit.
    folder
        Where the files are written.
    reference
        The reference line that the report states its results for; the other two stand beside it.
    window_mm
        Also judge straightness locally over this length.
    uncertainty
        State every straightness with its uncertainty and budget.
    budget
        A budget file, or a ready one: beam, level, autocollimator, straightedge. Without it the one of the method.
    tolerance
        A tolerance rule for quantities that the agreed test plan has none for; then verdicts are for information only.
    burden
        Who has to prove what where the plan does not say.
    language
        English, German, or both side by side.
    paper
        A4 or US Letter.
    keep
        Keep the PDF itself in the archive, not only its hash; `visit show` lists it, `archive extract` writes it out.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print the paths and results as JSON.
    """
    from waywright.cli import results_view, show
    from waywright.jobs import prove

    order = order_of(reference, window_mm, uncertainty, budget, tolerance, burden, language, paper)
    written = prove.written_report(lines, folder, order, archive, keep=keep)
    if json:
        show.print_json(written)
        return
    results_view.print_results(written.results)
    for path in written.files:
        show.console().print(str(path))


@commands.command
def verify(file: Path, *, against: Path | None = None, json: Json = False) -> int:
    """Compute a report again from what lies inside it, and say where print and data do not agree.

    Parameters
    ----------
    file
        The PDF.
    against
        An archive: the chains of hashes in the report must also be those of the archive.
    json
        Print what was found as JSON.
    """
    from waywright.cli import show
    from waywright.jobs.verify_report import verified
    from waywright.wording import text
    from waywright.wording.said import sentence

    found = verified(file, against)
    if json:
        show.print_json({"agrees": found.agrees, **show.plain(found)})
    else:
        page = show.console()
        key = "report_verify.agrees" if found.agrees else "report_verify.disagrees"
        page.print(text(key, findings=len(found.findings)))
        names = ("number", "revision", "numbers", "pages", "readings", "passes", "root")
        facts = {name: getattr(found, name) for name in names}
        for said in (*found.findings, *found.notes):
            page.print(sentence(said.key, said.facts))
        page.print(text("report_verify.counted", **facts))
    return 0 if found.agrees else 1


@commands.command
def qif(
    *lines: str,
    file: Path = Path("waywright.qif"),
    reference: Reference = "least-squares",
    tolerance: str | None = None,
    archive: ArchiveFile = None,
) -> None:
    """Write results as QIF 3.0 (ISO 23952): value, tolerance, verdict, uncertainty, instruments.

    Parameters
    ----------
    lines
        As for the report itself.
    file
        Where it is written.
    reference
        The reference line of the results.
    tolerance
        A tolerance rule where the plan has none.
    archive
        The archive file; without it the one in your user data folder.
    """
    from waywright.cli import show
    from waywright.jobs.prove import written_qif

    order = order_of(reference, None, True, None, tolerance, "supplier", "en", "a4")
    show.console().print(str(written_qif(lines, file, order, archive)))


prove_sign.add_to(commands)
