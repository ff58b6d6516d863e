"""Self-signed certificates for tests, made when they are wanted."""

from __future__ import annotations

import datetime
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.x509.oid import NameOID


def make_certificate(folder: Path, name: str, uri: str) -> None:
    """``name.der`` and its key ``name.pem`` in a folder; the certificate states the application URI."""
    key = rsa.generate_private_key(public_exponent=65537, key_size=2048)
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Hollin Reach {name}")])
    began = datetime.datetime(2025, 1, 1, tzinfo=datetime.UTC)
    uris = x509.SubjectAlternativeName([x509.UniformResourceIdentifier(uri), x509.DNSName("localhost")])
    usage = x509.KeyUsage(True, True, True, True, False, True, False, False, False)
    made = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(1)
        .not_valid_before(began)
        .not_valid_after(began + datetime.timedelta(days=36500))
        .add_extension(uris, critical=False)
        .add_extension(x509.BasicConstraints(ca=True, path_length=None), critical=False)
        .add_extension(usage, critical=False)
        .sign(key, hashes.SHA256())
    )
    (folder / f"{name}.der").write_bytes(made.public_bytes(serialization.Encoding.DER))
    (folder / f"{name}.pem").write_bytes(
        key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
    )
