"""``waywright report``: what the customer keeps."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import App, Parameter

if TYPE_CHECKING:
    from waywright.jobs.report_order import ReportOrder

commands = App(name="report", help="Write the report of a visit, sign it, and verify one.")

Reference = Literal["end-points", "least-squares", "minimum-zone"]
Language = Literal["en", "de", "en+de"]
Paper = Literal["a4", "us-letter"]
ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"])]
Json = Annotated[bool, Parameter(negative="")]
Folder = Path("waywright-report")


@commands.default
def report(
    *lines: str,
    folder: Path = Folder,
    reference: Reference = "least-squares",
    window_mm: float | None = None,
    uncertainty: bool = True,
    budget: str | None = None,
    tolerance: str | None = None,
    burden: Literal["supplier", "customer", "shared", "simple"] = "supplier",
    language: Language = "en",
    paper: Paper = "a4",
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
    archive
        The archive file; without it the one in your user data folder.
    json
        Print the paths and results as JSON.
    """
    from waywright.cli import results_view, show
    from waywright.jobs import prove

    order = _order(reference, window_mm, uncertainty, budget, tolerance, burden, language, paper)
    written = prove.written_report(lines, folder, order, archive)
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
def note(
    kind: Literal[
        "limitation", "safety", "further-check", "not-corrected", "reservation", "remark", "next-check", "number"
    ],
    words: str,
    *,
    line: str | None = None,
    by: str | None = None,
    archive: ArchiveFile = None,
) -> None:
    """Add something that the report of a visit says: a limit, a safety remark, the customer's reservation, its number.

    Parameters
    ----------
    kind
        What it is. "next-check" takes a date (2027-03-01), "number" the number of the report.
    words
        What the report says.
    line
        The line that it is about; without it the visit of the newest line.
    by
        Who says so.
    archive
        The archive file; without it the one in your user data folder.
    """
    from waywright.cli import show
    from waywright.jobs.signing import add_note
    from waywright.wording import text

    made = add_note(kind, words, line=line, by=by, path=archive)
    show.console().print(text("report_sign.noted", words=made.text))


@commands.command
def sign(
    *lines: str,
    by: str,
    role: Literal["technician", "customer"],
    strokes: Path | None = None,
    folder: Path = Folder,
    reference: Reference = "least-squares",
    tolerance: str | None = None,
    language: Language = "en",
    paper: Paper = "a4",
    archive: ArchiveFile = None,
) -> None:
    """Sign the report as it is now, and write it with the signature (drawn, or a place to sign in ink).

    What changes afterwards makes a new revision, which says what is new.

    Parameters
    ----------
    lines
        As for the report itself.
    by
        Who signs.
    role
        For whom.
    strokes
        A JSON file of the signature as drawn: a list of strokes, each a list of [x, y], x from 0 to 1, y from 0 to 0.3.
    folder
        Where the files are written.
    reference
        The reference line of the report.
    tolerance
        A tolerance rule where the plan has none.
    language
        English, German, or both side by side.
    paper
        A4 or US Letter.
    archive
        The archive file; without it the one in your user data folder.
    """
    from waywright.cli import show
    from waywright.jobs.signing import Signing, read_strokes, signed_report
    from waywright.wording import text

    signing = Signing(by=by, role=role, strokes=() if strokes is None else read_strokes(strokes))
    order = _order(reference, None, True, None, tolerance, "supplier", language, paper)
    written = signed_report(lines, folder, order, signing, archive)
    facts = {"number": written.number, "revision": written.revision}
    show.console().print(text("report_sign.signed", name=by, role=role, **facts))
    for path in written.files:
        show.console().print(str(path))


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

    order = _order(reference, None, True, None, tolerance, "supplier", "en", "a4")
    show.console().print(str(written_qif(lines, file, order, archive)))


@commands.command
def seal(
    file: Path, certificate: Path, *, to: Path | None = None, passphrase: str | None = None, reason: str | None = None
) -> None:
    """Sign a report's PDF digitally with your own certificate (PAdES). Needs the optional part "sign".

    The file stays as it is, the signature is added at its end. What it proves depends on who issued the certificate.

    Parameters
    ----------
    file
        The PDF.
    certificate
        Your certificate with its key (PKCS #12: .p12 or .pfx).
    to
        Where the signed file is written; without it beside the PDF as NAME-signed.pdf.
    passphrase
        The passphrase of the certificate; without it it is asked for, or taken from WAYWRIGHT_PASSPHRASE.
    reason
        Why it is signed, as the signature says it.
    """
    import os
    from getpass import getpass

    from waywright.cli import show
    from waywright.jobs.digital_signature import sign_file
    from waywright.wording import text

    secret = passphrase if passphrase is not None else os.environ.get("WAYWRIGHT_PASSPHRASE")
    target = to or file.with_name(f"{file.stem}-signed.pdf")
    name = sign_file(file, certificate, getpass() if secret is None else secret, target, reason)
    show.console().print(text("report_sign.sealed", file=file.name, name=name, target=str(target)), markup=False)


@commands.command
def signed(file: Path, *, trust: Path | None = None, json: Json = False) -> int:
    """Check the digital signatures of a PDF. Needs the optional part "sign".

    Parameters
    ----------
    file
        The PDF.
    trust
        A certificate that you trust (PEM or DER): the signer's own, or that of who issued it.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.digital_signature import signatures_of
    from waywright.wording import text

    found = signatures_of(file, trust)
    good = bool(found) and all(each.intact and each.whole and each.trusted is not False for each in found)
    if json:
        show.print_json({"good": good, "signatures": found})
        return 0 if good else 1
    page = show.console()
    if not found:
        page.print(text("report_sign.not_signed", file=file.name), markup=False)
    for each in found:
        when = f"{each.signed_utc:%Y-%m-%d %H:%M %Z}" if each.signed_utc else "-"
        key = "report_sign.intact" if each.intact else "report_sign.broken"
        page.print(text(key, name=each.name, when=when, detail=each.detail), markup=False)
        if not each.whole:
            page.print(text("report_sign.more_than_signed", name=each.name), markup=False)
        trusted = "report_sign.trusted" if each.trusted else "report_sign.not_trusted"
        page.print(text(trusted, name=each.name, detail=each.detail or "-"), markup=False)
    return 0 if good else 1


def _order(
    reference: str,
    window_mm: float | None,
    uncertainty: bool,
    budget: str | None,
    tolerance: str | None,
    burden: str,
    language: str,
    paper: str,
) -> ReportOrder:
    from waywright.jobs.report_order import ReportOrder

    return ReportOrder(
        reference=reference, window_mm=window_mm, uncertainty=uncertainty, budget=budget, rule=tolerance,
        burden=burden, language=language, paper=paper,
    )  # fmt: skip
