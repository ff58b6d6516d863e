"""A certificate of this computer's own, made once and kept, so that phones talk to it by https.

Phones warn the first time: nobody has vouched for it. Its fingerprint is told, to compare with what the phone shows.
"""

from __future__ import annotations

import hashlib
import ipaddress
import socket
from datetime import UTC, datetime, timedelta
from pathlib import Path

_DAYS = 397
"""Phones refuse certificates that are valid for longer."""


def self_made(folder: Path, address: str) -> tuple[Path, Path]:
    """Certificate and key in a folder; made anew where there is none for this address, or it is about to run out."""
    certificate, key = folder / "self-made.pem", folder / "self-made.key"
    if not (key.exists() and _holds(certificate, address)):
        folder.mkdir(parents=True, exist_ok=True)
        _make(certificate, key, address)
    return certificate, key


def fingerprint(certificate: Path) -> str:
    """SHA-256 of a certificate as phones show it."""
    from cryptography import x509
    from cryptography.hazmat.primitives.serialization import Encoding

    found = x509.load_pem_x509_certificate(certificate.read_bytes()).public_bytes(Encoding.DER)
    return hashlib.sha256(found).digest().hex(":").upper()


def _holds(certificate: Path, address: str) -> bool:
    from cryptography import x509

    try:
        found = x509.load_pem_x509_certificate(certificate.read_bytes())
    except (OSError, ValueError):
        return False
    names = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    known = [str(each) for each in names.get_values_for_type(x509.IPAddress)]
    soon = datetime.now(UTC) + timedelta(days=7)
    return address in known and found.not_valid_after_utc > soon


def _make(certificate: Path, key_file: Path, address: str) -> None:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Waywright at {socket.gethostname()}"[:64])])
    now = datetime.now(UTC)
    names: list[x509.GeneralName] = [x509.DNSName("localhost"), x509.IPAddress(ipaddress.ip_address("127.0.0.1"))]
    try:
        names.append(x509.IPAddress(ipaddress.ip_address(address)))
    except ValueError:
        names.append(x509.DNSName(address))
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + timedelta(days=_DAYS))
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    private = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    key_file.touch(mode=0o600)
    key_file.write_bytes(private)
    certificate.write_bytes(made.public_bytes(serialization.Encoding.PEM))
