"""``waywright report note``, ``sign``, ``seal``, ``signed``: what people add to a report, and their signatures."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from cyclopts import App

from waywright.cli.prove_options import FOLDER, ArchiveFile, Json, Language, Paper, Reference, order_of


def add_to(commands: App) -> None:
    """Add the commands to those of the report."""
    for each in (note, sign, seal, signed):
        commands.command(each)


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


def sign(
    *lines: str,
    by: str,
    role: Literal["technician", "customer"],
    strokes: Path | None = None,
    folder: Path = FOLDER,
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
    order = order_of(reference, None, True, None, tolerance, "supplier", language, paper)
    written = signed_report(lines, folder, order, signing, archive)
    facts = {"number": written.number, "revision": written.revision}
    show.console().print(text("report_sign.signed", name=by, role=role, **facts))
    for path in written.files:
        show.console().print(str(path))


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
