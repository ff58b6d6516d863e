"""A PostgreSQL that itself speaks TLS: the one of this computer, because the wheel with PostgreSQL is built without."""

from __future__ import annotations

import contextlib
import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

NAME = "archive.example"
ACCESS = """
local all all trust
hostssl all all 127.0.0.1/32 scram-sha-256
"""
"""Over TCP nobody gets in but with TLS and a password."""


@dataclass(frozen=True)
class Encrypted:
    """A running server, the certificate of its authority, and the way in for its owner."""

    port: int
    authority: Path
    owner: str

    def address(self, account: str, name: str = NAME, **more: str) -> str:
        options = "&".join(f"{key}={value}" for key, value in {"hostaddr": "127.0.0.1", **more}.items())
        return f"postgresql://{account}@{name}:{self.port}/postgres?{options}"


def made_certificate(folder: Path) -> tuple[Path, Path]:
    """Certificate and key of a server called archive.example, made on the spot."""
    paths = folder / "server.crt", folder / "server.key"
    command = ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes",
               "-days", "2", "-subj", f"/CN={NAME}", "-addext", f"subjectAltName=DNS:{NAME}",
               "-out", str(paths[0]), "-keyout", str(paths[1])]  # fmt: skip
    try:
        subprocess.run(command, check=True, capture_output=True)
    except FileNotFoundError:
        pytest.skip("there is no openssl on this computer to make a throw-away certificate with")
    return paths


@contextlib.contextmanager
def encrypted_server() -> Iterator[Encrypted]:
    """A server of its own with TLS, gone with its files afterwards; skipped where this computer has none that can."""
    programs = _programs()
    folder = Path(tempfile.mkdtemp(prefix="pg"))
    data = folder / "data"
    try:
        made_certificate(folder)
        _give_away(folder)
        _run(programs / "initdb", "-D", data, "-U", "owner", "-A", "trust", "--no-sync", "-E", "UTF8", "--locale=C")
        with socket.create_server(("127.0.0.1", 0)) as free:
            port = free.getsockname()[1]
        settings = {"port": port, "listen_addresses": "'127.0.0.1'", "unix_socket_directories": f"'{folder}'",
                    "ssl": "on", "ssl_cert_file": f"'{folder}/server.crt'", "ssl_key_file": f"'{folder}/server.key'",
                    "fsync": "off"}  # fmt: skip
        with (data / "postgresql.conf").open("a") as file:
            file.writelines(f"{name} = {value}\n" for name, value in settings.items())
        (data / "pg_hba.conf").write_text(ACCESS)
        _run(programs / "pg_ctl", "-D", data, "-l", folder / "log", "-w", "-t", "30", "start")
        yield Encrypted(port, folder / "server.crt", f"postgresql://owner@/postgres?host={folder}&port={port}")
    finally:
        if data.exists():
            _run(programs / "pg_ctl", "-D", data, "-m", "immediate", "stop", check=False)
        shutil.rmtree(folder, ignore_errors=True)


def _programs() -> Path:
    """Where a server stands that can do TLS."""
    for place in (shutil.which("pg_ctl"), *map(str, Path("/usr/lib/postgresql").glob("*/bin/pg_ctl"))):
        folder = Path(place).resolve().parent if place else Path("/none")
        config = folder / "pg_config"
        if config.exists() and (folder / "initdb").exists():
            said = subprocess.run([config, "--configure"], capture_output=True, text=True, check=True).stdout
            if "with-openssl" in said or "with-ssl" in said:
                return folder
    pytest.skip("this computer has no PostgreSQL server that can do TLS")


def _account() -> str | None:
    """PostgreSQL refuses to run as root; then it runs as somebody who may do nothing else."""
    if os.geteuid() != 0:
        return None
    names = {each.pw_name for each in pwd.getpwall()}
    return next((name for name in ("postgres", "nobody") if name in names), None)


def _give_away(folder: Path) -> None:
    account = _account()
    if account is not None:
        for path in (folder, *folder.iterdir()):
            shutil.chown(path, account)
    folder.chmod(0o755)


def _run(*words: str | Path, check: bool = True) -> None:
    subprocess.run(list(map(str, words)), check=check, capture_output=True, user=_account(), cwd="/")
