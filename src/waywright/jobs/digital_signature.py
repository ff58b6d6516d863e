"""The digital signature of a PDF with a person's own certificate (PAdES), and whether one still holds.

Needs the optional part ``sign`` (pyHanko). The signature is added to the end of the file: what was there stays byte for
byte, so a signed report can still be verified against its data.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from waywright.errors import BadInput
from waywright.report.printed import LARGEST_PDF

if TYPE_CHECKING:
    from types import ModuleType

FIELD = "Signature"


@dataclass(frozen=True, slots=True)
class FoundSignature:
    """A signature in a file. ``intact``: what was signed is unchanged; ``whole``: it covers the whole file.

    ``trusted`` is None where no certificate to trust was given; ``detail`` says why it is not.
    """

    name: str
    signed_utc: datetime | None
    intact: bool
    whole: bool
    trusted: bool | None
    detail: str = ""


def sign_file(file: Path, certificate: Path, passphrase: str | None, target: Path, reason: str | None = None) -> str:
    """Sign a PDF with the certificate and key of a PKCS #12 file, and write it to ``target``; returns the name.

    Raises BadInput where the optional part is missing, the certificate cannot be opened, or the file cannot be signed.
    """
    signers = _part("pyhanko.sign.signers")
    fields, writer = _part("pyhanko.sign.fields"), _part("pyhanko.pdf_utils.incremental_writer")
    own = _loaded(signers, certificate, passphrase)
    name = str(own.signing_cert.subject.native.get("common_name") or own.signing_cert.subject.human_friendly)
    metadata = signers.PdfSignatureMetadata(
        field_name=FIELD, subfilter=fields.SigSeedSubFilter.PADES, md_algorithm="sha256", name=name, reason=reason
    )
    data = _read(file)
    out = io.BytesIO()
    try:
        signers.sign_pdf(writer.IncrementalPdfFileWriter(io.BytesIO(data), strict=False), metadata, own, output=out)
    except Exception as problem:  # whatever a file that is no PDF makes the library raise
        raise BadInput("report_sign.seal_failed", file=file.name, detail=str(problem)[:160]) from problem
    beside = target.with_name(f".{target.name}.part")
    try:
        beside.write_bytes(out.getvalue())
        beside.replace(target)
    except OSError as problem:
        reason_said = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_write", file=str(target), reason=reason_said) from problem
    finally:
        beside.unlink(missing_ok=True)
    return name


def signatures_of(file: Path, trust: Path | None = None) -> tuple[FoundSignature, ...]:
    """Every digital signature in a PDF, with what it is worth; ``trust`` is a certificate (PEM or DER) to trust.

    Raises BadInput where the optional part is missing, or the file cannot be read.
    """
    reader = _part("pyhanko.pdf_utils.reader")
    try:
        document = reader.PdfFileReader(io.BytesIO(_read(file)), strict=False)
        return tuple(_found(document, trust))
    except BadInput:
        raise
    except Exception as problem:  # whatever a broken file makes the library raise
        raise BadInput("report_verify.not_a_pdf", file=file.name, detail=str(problem)[:120]) from problem


def _found(document: Any, trust: Path | None) -> Iterator[FoundSignature]:
    validation = _part("pyhanko.sign.validation")
    validator = _part("pyhanko_certvalidator")
    roots = [] if trust is None else [_certificate(trust)]
    for embedded in document.embedded_signatures:
        context = validator.ValidationContext(trust_roots=roots, allow_fetching=False)
        name = str(embedded.signer_cert.subject.native.get("common_name") or "-")
        moment = embedded.self_reported_timestamp
        try:
            status = validation.validate_pdf_signature(embedded, signer_validation_context=context)
        except Exception as problem:  # a signature so broken that it cannot be judged is broken
            yield FoundSignature(name, moment, False, False, None if trust is None else False, str(problem)[:160])
            continue
        whole = status.coverage.name == "ENTIRE_FILE"
        trusted = None if trust is None else bool(status.trusted)
        yield FoundSignature(name, moment, bool(status.intact and status.valid), whole, trusted)


def _loaded(signers: ModuleType, certificate: Path, passphrase: str | None) -> Any:
    secret = passphrase.encode() if passphrase else None
    try:
        own = signers.SimpleSigner.load_pkcs12(str(certificate), passphrase=secret)
    except (OSError, ValueError) as problem:
        raise BadInput("report_sign.bad_certificate", file=certificate.name, detail=str(problem)[:120]) from problem
    if own is None:
        raise BadInput("report_sign.bad_certificate", file=certificate.name, detail="-")
    return own


def _certificate(path: Path) -> Any:
    keys = _part("pyhanko.keys")
    try:
        return keys.load_cert_from_pemder(str(path))
    except (OSError, ValueError) as problem:
        raise BadInput("report_sign.bad_certificate", file=path.name, detail=str(problem)[:120]) from problem


def _read(file: Path) -> bytes:
    try:
        if file.stat().st_size > LARGEST_PDF:
            raise BadInput("report_verify.too_large", file=file.name, limit_mb=LARGEST_PDF / 1e6)
        return file.read_bytes()
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_read", file=str(file), reason=reason) from problem


def _part(name: str) -> ModuleType:
    try:
        return import_module(name)
    except ModuleNotFoundError as problem:
        raise BadInput("report_sign.extra_missing") from problem
