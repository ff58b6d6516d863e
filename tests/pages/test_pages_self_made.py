"""The certificate made here: for this address, kept, made anew when it does not fit; its key is nobody else's."""

from __future__ import annotations

import os
import ssl
from pathlib import Path

import pytest

from waywright.web.self_made import fingerprint, self_made

ADDRESS = "192.0.2.10"  # reserved for examples (RFC 5737)


def test_a_certificate_is_made_once_and_fits_the_address(tmp_path: Path) -> None:
    from cryptography import x509

    certificate, key = self_made(tmp_path, ADDRESS)
    found = x509.load_pem_x509_certificate(certificate.read_bytes())
    names = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert ADDRESS in [str(each) for each in names.get_values_for_type(x509.IPAddress)]
    assert (found.not_valid_after_utc - found.not_valid_before_utc).days <= 398  # more than that phones refuse
    first = certificate.read_bytes()
    assert self_made(tmp_path, ADDRESS) == (certificate, key)
    assert certificate.read_bytes() == first
    self_made(tmp_path, "192.0.2.11")
    assert certificate.read_bytes() != first
    ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key)
    assert len(fingerprint(certificate)) == 32 * 3 - 1


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes.")
def test_nobody_else_reads_the_key(tmp_path: Path) -> None:
    _, key = self_made(tmp_path, ADDRESS)
    assert key.stat().st_mode & 0o077 == 0
