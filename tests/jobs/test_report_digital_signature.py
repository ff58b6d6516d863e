"""A report signed with a throw-away certificate: what was signed, by whom, and what happens when it is changed."""

from __future__ import annotations

import importlib
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pikepdf
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import pkcs12
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.cli import main
from waywright.errors import BadInput
from waywright.jobs.digital_signature import sign_file, signatures_of
from waywright.jobs.prove import ReportOrder, written_report
from waywright.jobs.verify_report import verified

NAME = "Mara Quill (invented)"


def certificate(folder: Path, stem: str) -> tuple[Path, Path]:
    """A certificate that signs itself, with its key behind a passphrase, and alone."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, NAME)])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder().subject_name(subject).issuer_name(subject).public_key(key.public_key())
        .serial_number(x509.random_serial_number()).not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=30))
        .add_extension(x509.KeyUsage(True, True, False, False, False, True, False, False, False), critical=True)
        .add_extension(x509.BasicConstraints(ca=True, path_length=None), critical=True)
        .sign(key, hashes.SHA256())
    )  # fmt: skip
    lock = serialization.BestAvailableEncryption(b"open sesame")
    (folder / f"{stem}.p12").write_bytes(pkcs12.serialize_key_and_certificates(b"me", key, made, None, lock))
    (folder / f"{stem}.pem").write_bytes(made.public_bytes(serialization.Encoding.PEM))
    return folder / f"{stem}.p12", folder / f"{stem}.pem"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("signed")
    with open_archive(place / "a.sqlite", create=True) as opened:
        begun = begin_line(opened, place)
        take_pass(opened, begun, 1)
    written = written_report([], place, ReportOrder(uncertainty=False), place / "a.sqlite")
    written.files[0].rename(place / "report.pdf")
    return place


@pytest.fixture(scope="module")
def sealed(folder: Path) -> Path:
    own, _ = certificate(folder, "own")
    assert sign_file(folder / "report.pdf", own, "open sesame", folder / "sealed.pdf", "as left") == NAME
    return folder / "sealed.pdf"


def test_a_signature_holds_and_names_its_signer(folder: Path, sealed: Path) -> None:
    [found] = signatures_of(sealed, folder / "own.pem")
    assert (found.name, found.intact, found.whole, found.trusted) == (NAME, True, True, True)
    assert signatures_of(sealed)[0].trusted is None
    with pikepdf.open(sealed) as document:
        field = document.Root.AcroForm.Fields[0]
        assert str(field.V.SubFilter) == "/ETSI.CAdES.detached"  # PAdES, ETSI EN 319 142-1
    assert sealed.read_bytes().startswith((folder / "report.pdf").read_bytes())


def test_a_signed_report_still_agrees_with_its_data(sealed: Path) -> None:
    found = verified(sealed)
    assert found.agrees
    assert [note.key for note in found.notes] == ["report_verify.carries_signature"]


def test_another_certificate_is_not_trusted(folder: Path, sealed: Path) -> None:
    _, other = certificate(folder, "other")
    assert signatures_of(sealed, other)[0].trusted is False


def test_a_byte_changed_after_signing_breaks_it(folder: Path, sealed: Path) -> None:
    data = bytearray(sealed.read_bytes())
    place = data.index(b"/MediaBox")
    data[place + 12] = data[place + 12] ^ 1
    (folder / "broken.pdf").write_bytes(bytes(data))
    assert not signatures_of(folder / "broken.pdf", folder / "own.pem")[0].intact


def test_the_commands(folder: Path, sealed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", "signed", str(sealed), "--trust", str(folder / "own.pem")]) == 0
    assert f"Signed by {NAME} at" in capsys.readouterr().out
    assert main(["report", "signed", str(folder / "report.pdf")]) == 1
    assert "carries no digital signature" in capsys.readouterr().out
    target = folder / "again.pdf"
    command = ["report", "seal", str(folder / "report.pdf"), str(folder / "own.p12"), "--passphrase", "open sesame"]
    assert main([*command, "--to", str(target)]) == 0
    assert signatures_of(target, folder / "own.pem")[0].intact


def test_what_cannot_be_signed_is_said(folder: Path) -> None:
    with pytest.raises(BadInput, match="cannot be opened as a certificate"):
        sign_file(folder / "report.pdf", folder / "own.p12", "wrong", folder / "x.pdf")
    (folder / "text.pdf").write_text("hello")
    with pytest.raises(BadInput, match=r"text\.pdf cannot be signed"):
        sign_file(folder / "text.pdf", folder / "own.p12", "open sesame", folder / "x.pdf")
    assert not (folder / "x.pdf").exists()


def test_without_the_optional_part_it_says_how_to_get_it(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str, *args: object) -> object:
        if name.startswith("pyhanko"):
            raise ModuleNotFoundError(name)
        return importlib.__import__(name)

    monkeypatch.setitem(signatures_of.__globals__, "import_module", missing)
    with pytest.raises(BadInput, match="optional part “sign”"):
        signatures_of(folder / "report.pdf")
