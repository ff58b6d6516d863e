"""What holds for every test: reproducible examples, no network beyond this computer."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, database=None, print_blob=True)
settings.load_profile("steady")


@pytest.fixture(scope="session")
def project() -> Path:
    """The project's folder."""
    return Path(__file__).resolve().parent.parent


@pytest.fixture(autouse=True)
def only_loopback(monkeypatch: pytest.MonkeyPatch) -> None:
    """A test that reaches for another computer fails; child processes are not covered."""
    for name in ("connect", "connect_ex"):
        monkeypatch.setattr(socket.socket, name, _guarded(getattr(socket.socket, name)))


def _guarded(connect: Callable[..., object]) -> Callable[..., object]:
    def to_this_computer(self: socket.socket, address: object) -> object:
        if self.family in (socket.AF_INET, socket.AF_INET6) and isinstance(address, tuple):
            _check(str(address[0]))
        return connect(self, address)

    return to_this_computer


def _check(host: str) -> None:
    if host in ("localhost", ""):
        return
    try:
        inside = ipaddress.ip_address(host.partition("%")[0]).is_loopback
    except ValueError:
        inside = False
    if not inside:
        raise AssertionError(f"a test reached for {host}; only this computer is allowed")
