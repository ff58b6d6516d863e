"""Everything that only one database understands; the rest of the archive is the same on SQLite and PostgreSQL.

SQLite runs with a write-ahead log and ``synchronous=FULL``: a commit returns after the log has been flushed to the
disk. That a committed reading survives the loss of power rests on the disk honouring that flush.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event, inspect, text

# "WWAR" in the header of the file says that it is an archive of this program.
APPLICATION_ID = 0x57574152
HEADER = b"SQLite format 3\0"
BUSY_MS = 5_000

_ALWAYS = {
    "synchronous": "FULL",
    "fullfsync": "ON",  # macOS: an fsync alone does not reach the disk there
    "checkpoint_fullfsync": "ON",
    "recursive_triggers": "ON",  # so that INSERT OR REPLACE cannot go round the append-only triggers
    "busy_timeout": str(BUSY_MS),
}


def sqlite_engine(
    path: Path, *, create: bool = False, writable: bool = True, foreign_keys: bool = True, wal: bool = True
) -> Engine:
    """An engine on one file. Connections of ``engine.execution_options(writes=True)`` lock for writing at once.

    Without ``wal`` the file keeps its journal as it is, so that looking into another program's file leaves it alone.
    """
    engine = create_engine("sqlite://", creator=_opener(path, create, writable), poolclass=QueuePool)

    @event.listens_for(engine, "connect")
    def set_up(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # the driver starts no transactions of its own
        connection.text_factory = _text
        pragmas = _ALWAYS | {"foreign_keys": "ON" if foreign_keys else "OFF"}
        if writable and wal:
            pragmas = {"journal_mode": "WAL"} | pragmas
        for name, value in pragmas.items():
            connection.execute(f"PRAGMA {name}={value}").close()

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _text(stored: bytes) -> str:
    """Damaged text must not keep the rest of an archive from being read and checked."""
    return stored.decode(errors="replace")


def _opener(path: Path, create: bool, writable: bool) -> Callable[[], sqlite3.Connection]:
    if not writable:
        return lambda: _read_only(path)
    return lambda: _connect(path, f"mode={'rwc' if create else 'rw'}")


def _connect(path: Path, options: str) -> sqlite3.Connection:
    uri = f"{path.absolute().as_uri()}?{options}"
    return sqlite3.connect(uri, uri=True, timeout=BUSY_MS / 1000, check_same_thread=False)


def _read_only(path: Path) -> sqlite3.Connection:
    connection = _connect(path, "mode=ro")
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").close()
    except sqlite3.OperationalError:
        connection.close()
        if _has_log(path):
            raise
        # SQLite cannot keep its shared memory in a folder that cannot be written; without a log there is nothing to
        # share, and the file can be read as it stands.
        connection = _connect(path, "mode=ro&immutable=1")
    return connection


def _has_log(path: Path) -> bool:
    log = path.with_name(path.name + "-wal")
    return log.exists() and log.stat().st_size > 0


def pragmas(connection: Connection) -> dict[str, Any]:
    """The settings that durability rests on, as the database itself reports them."""
    names = ("journal_mode", "synchronous", "foreign_keys", "busy_timeout", "recursive_triggers", "fullfsync")
    return {name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one() for name in names}


def is_empty(connection: Connection) -> bool:
    """No table at all: a new file, or one whose creation was cut off."""
    return not inspect(connection).get_table_names()


def is_marked(connection: Connection) -> bool:
    """Whether the database says that it is an archive of this program."""
    if connection.dialect.name == "sqlite":
        return bool(connection.exec_driver_sql("PRAGMA application_id").scalar_one() == APPLICATION_ID)
    return inspect(connection).has_table("alembic_version")


def mark(connection: Connection) -> None:
    """Say in the database that it is an archive (part of the running transaction)."""
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")


def append_only(connection: Connection, table: str) -> None:
    """From now on rows of ``table`` can be added, never changed or removed."""
    sqlite = connection.dialect.name == "sqlite"
    for statement in _sqlite_triggers(table) if sqlite else _postgresql_triggers(table):
        connection.execute(text(statement))


def _sqlite_triggers(table: str) -> Iterator[str]:
    for action in ("update", "delete"):
        yield (
            f"CREATE TRIGGER {table}_no_{action} BEFORE {action.upper()} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table} is append-only'); END"
        )


def _postgresql_triggers(table: str) -> Iterator[str]:
    yield (
        "CREATE OR REPLACE FUNCTION append_only() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION '% is append-only', TG_TABLE_NAME; END $$"
    )
    for action in ("update", "delete", "truncate"):
        yield (
            f"CREATE TRIGGER {table}_no_{action} BEFORE {action.upper()} ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )


def file_problems(connection: Connection) -> Iterator[str]:
    """What the database finds wrong with its own pages and indexes."""
    if connection.dialect.name == "sqlite":
        for (line,) in connection.exec_driver_sql("PRAGMA integrity_check"):
            if line != "ok":
                yield line


def broken_references(connection: Connection) -> Iterator[str]:
    """Tables with rows that point to nothing."""
    if connection.dialect.name == "sqlite":
        for row in connection.exec_driver_sql("PRAGMA foreign_key_check"):
            yield f"{row[0]} -> {row[2]}"
