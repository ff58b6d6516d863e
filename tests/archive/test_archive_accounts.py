"""Accounts of a department's archive: reader, technician, head, and nobody else; over a network only encrypted."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest
from test_archive_shared import laptop

from archive_samples import a_reading, stay
from archive_servers import Link, Server
from waywright.archive import open_archive
from waywright.archive.roles import script
from waywright.clocks import new_id
from waywright.errors import ArchiveError
from waywright.visit import Exclusion, Person

ROLES = ("reader", "technician", "head")


@pytest.fixture(scope="module")
def department(server: Server) -> tuple[Server, str]:
    """A department's archive with one account of each role, and an account of the server that has none."""
    address = server.database()
    open_archive(address, create=True).close()
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(script())
        connection.execute(script())  # it may be run again
        for role in ROLES:
            connection.execute(f"CREATE ROLE some_{role} LOGIN IN ROLE waywright_{role}")
        connection.execute("CREATE ROLE stranger LOGIN")
    return server, address


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


def test_a_server_without_encryption_is_not_spoken_to_over_a_network(department: tuple[Server, str]) -> None:
    """The address looks like one of another computer; the server answers that it knows no encryption."""
    link = Link(department[0])
    address = f"postgresql://some_reader@archive.example:{link.port}{urlsplit(department[1]).path}?hostaddr=127.0.0.1"
    with pytest.raises(ArchiveError, match="SSL"):
        open_archive(address)
    link.close()
