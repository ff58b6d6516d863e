"""Accounts of a department's archive: reader, technician, head, and nobody else; over a network only encrypted."""

from __future__ import annotations

import socket
import ssl
import subprocess
import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest
from test_archive_shared import laptop

from archive_samples import a_reading, stay
from archive_servers import Link, Server, running_server
from waywright.archive import open_archive
from waywright.archive.roles import script
from waywright.clocks import new_id
from waywright.errors import ArchiveError
from waywright.visit import Exclusion, Person

ROLES = ("reader", "technician", "head")


@pytest.fixture(scope="module")
def department() -> Iterator[tuple[Server, str]]:
    """A department's archive with one account of each role, and an account of the server that has none."""
    with running_server() as server:
        address = server.database()
        open_archive(address, create=True).close()
        with psycopg.connect(address, autocommit=True) as connection:
            connection.execute(script())
            connection.execute(script())  # it may be run again
            for role in ROLES:
                connection.execute(f"CREATE ROLE some_{role} LOGIN IN ROLE waywright_{role}")
            connection.execute("CREATE ROLE stranger LOGIN")
        yield server, address


def as_role(department: tuple[Server, str], role: str) -> str:
    return department[1].replace("postgres:", f"{role}:", 1)


def test_a_technician_pushes_and_a_reader_looks(department: tuple[Server, str], tmp_path: Path) -> None:
    mine, one = laptop(tmp_path / "a.sqlite", seed=3)
    with open_archive(as_role(department, "some_technician")) as there:
        assert there.receive(mine).refused == {}
    with open_archive(as_role(department, "some_reader")) as there:
        assert one.machine.id in [machine.id for machine in there.machines()]
        assert len(there.readings(one.taken.id)) == 6
        assert there.check().good
        mine.keep_reading(a_reading(one.taken.id, mine.readings(one.taken.id)[-1]))
        merged = there.receive(mine)
        assert sum(merged.refused.values()) >= 1
        assert merged.added == {}
        with pytest.raises(ArchiveError, match="Your account may not do that"):
            there.save(Person(new_id(), "x"))
    with open_archive(as_role(department, "some_head")) as there:
        assert there.receive(mine).added["reading"] == 1


def test_what_a_technician_may_take_back_and_what_only_the_head(department: tuple[Server, str], tmp_path: Path) -> None:
    mine, one = laptop(tmp_path / "a.sqlite", seed=4)
    exclusion = Exclusion(new_id(), mine.readings(one.taken.id)[0].id, "by mistake", one.taken.began_utc)
    mine.save(exclusion)
    with open_archive(as_role(department, "some_technician")) as there:
        there.receive(mine)
        there.withdraw(exclusion.id, reason="it was right")
        for refused in (lambda: there.withdraw(one.machine.id), lambda: there.blank(one.person.id)):
            with pytest.raises(ArchiveError, match="Your account may not do that"):
                refused()
        assert there.machines()
    mine.blank(one.person.id, reason="asked to")
    with open_archive(as_role(department, "some_technician")) as there:
        assert there.receive(mine).refused == {"record": 1}
        assert there.load(Person, one.person.id).name
    with open_archive(as_role(department, "some_head")) as there:
        there.receive(mine)
        assert {revision.record.name for revision in there.history(one.person.id)} == {""}
        there.save(replace(stay().machine, owner="another"), reason="sold")


@pytest.mark.parametrize("role", [f"some_{role}" for role in ROLES])
def test_nobody_changes_or_removes_anything(department: tuple[Server, str], role: str) -> None:
    statements = ("DELETE FROM reading", "UPDATE reading SET number = 1", "TRUNCATE record CASCADE",
                  "DROP TABLE reading", "UPDATE record SET reason = 'x'", "CREATE TABLE mine (x int)",
                  "ALTER TABLE record DISABLE TRIGGER ALL")  # fmt: skip
    for statement in statements:
        with psycopg.connect(as_role(department, role)) as connection, pytest.raises(psycopg.Error):
            connection.execute(statement)


def test_nobody_else_gets_in(department: tuple[Server, str]) -> None:
    for role in ("stranger", "somebody"):
        with pytest.raises(ArchiveError, match="does not let you in"):
            open_archive(as_role(department, role))


class Terminator:
    """What stands before a server with TLS: speaks PostgreSQL's request for encryption, then passes on in the clear."""

    def __init__(self, server: Server, certificate: Path, key: Path) -> None:
        self._server = server
        self._context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
        self._context.load_cert_chain(certificate, key)
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = self._listener.getsockname()[1]
        self.encrypted = 0
        threading.Thread(target=self._accept, daemon=True).start()

    def _accept(self) -> None:
        while True:
            near, _ = self._listener.accept()
            threading.Thread(target=self._serve, args=(near,), daemon=True).start()

    def _serve(self, near: socket.socket) -> None:
        try:
            if near.recv(8)[4:] != bytes.fromhex("04d2162f"):
                return
            near.sendall(b"S")
            safe = self._context.wrap_socket(near, server_side=True)
            self.encrypted += 1
            far = socket.socket(socket.AF_UNIX)
            far.connect(self._server.socket_file)
            threading.Thread(target=_pump, args=(safe, far), daemon=True).start()
            _pump(far, safe)
        except OSError:
            near.close()


def _pump(one: socket.socket, other: socket.socket) -> None:
    try:
        while data := one.recv(65536):
            other.sendall(data)
    except OSError:
        pass


@pytest.fixture
def certificate(tmp_path: Path) -> tuple[Path, Path]:
    """For a server called archive.example."""
    paths = tmp_path / "server.crt", tmp_path / "server.key"
    command = ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes",
               "-days", "2", "-subj", "/CN=archive.example", "-addext", "subjectAltName=DNS:archive.example",
               "-out", str(paths[0]), "-keyout", str(paths[1])]  # fmt: skip
    try:
        subprocess.run(command, check=True, capture_output=True)
    except FileNotFoundError:
        pytest.skip("there is no openssl on this computer to make a throw-away certificate with")
    return paths


def test_over_a_network_the_link_is_encrypted_and_the_server_proves_who_it_is(
    department: tuple[Server, str], certificate: tuple[Path, Path]
) -> None:
    terminator = Terminator(department[0], *certificate)
    name = urlsplit(department[1]).path
    start = f"postgresql://some_reader@archive.example:{terminator.port}{name}?hostaddr=127.0.0.1"
    with open_archive(f"{start}&sslrootcert={certificate[0]}") as there:
        assert there.check().good
    assert terminator.encrypted >= 1
    with pytest.raises(ArchiveError):  # nobody that this computer trusts has signed the certificate
        open_archive(start)
    other = start.replace("archive.example", "other.example")
    with pytest.raises(ArchiveError, match=r"other\.example"):
        open_archive(f"{other}&sslrootcert={certificate[0]}")


def test_a_server_without_encryption_is_not_spoken_to_over_a_network(department: tuple[Server, str]) -> None:
    """The address looks like one of another computer; the server answers that it knows no encryption."""
    link = Link(department[0])
    address = f"postgresql://some_reader@archive.example:{link.port}{urlsplit(department[1]).path}?hostaddr=127.0.0.1"
    with pytest.raises(ArchiveError, match="SSL"):
        open_archive(address)
    link.close()
