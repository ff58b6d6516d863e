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


def overwrite_freed(connection: Connection) -> None:
    """What is taken out in this transaction leaves no traces in the file."""
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql("PRAGMA secure_delete=ON")


def flush_log(engine: Engine) -> None:
    """Bring the write-ahead log into the file and empty it, so that what was overwritten is not left there."""
    if engine.dialect.name == "sqlite":
        with engine.connect() as connection:
            raw = connection.connection.driver_connection
            connection.rollback()
            if raw is not None:
                raw.execute("PRAGMA wal_checkpoint(TRUNCATE)").close()


def append_only(connection: Connection, table: str, *, but_update: bool = False) -> None:
    """From now on rows of ``table`` can be added, never changed or removed."""
    sqlite = connection.dialect.name == "sqlite"
    actions = ("delete", "truncate") if but_update else ("update", "delete", "truncate")
    for statement in _sqlite_triggers(table, actions) if sqlite else _postgresql_triggers(table, actions):
        connection.execute(text(statement))


def changeable(connection: Connection, table: str) -> None:
    """Take the triggers of :func:`append_only` away, for a migration that puts them back."""
    sqlite = connection.dialect.name == "sqlite"
    for action in ("update", "delete") if sqlite else ("update", "delete", "truncate"):
        connection.execute(text(f"DROP TRIGGER {table}_no_{action}" + ("" if sqlite else f" ON {table}")))


def blankable(connection: Connection) -> None:
    """Records cannot be changed, but for the name of a person that a record says is blanked: it may become empty."""
    for statement in _SQLITE_BLANKABLE if connection.dialect.name == "sqlite" else _POSTGRESQL_BLANKABLE:
        connection.exec_driver_sql(statement)


# "IS" is never NULL: what cannot be told is refused.
_SAME = " AND ".join(
    f"NEW.{column} {{same}} OLD.{column}"
    for column in ("id", "subject", "parent", "replaces", "recorded_utc", "recorded_by", "reason", "computer")
)
_SQLITE_BLANKABLE = (
    "CREATE TRIGGER record_no_update BEFORE UPDATE ON record WHEN NOT ("
    + _SAME.format(same="IS")
    + " AND (SELECT kind FROM subject WHERE id = OLD.subject) IS 'person' AND json_extract(NEW.body, '$.name') IS ''"
    " AND EXISTS (SELECT 1 FROM record WHERE subject = OLD.subject AND json_extract(body, '$.blanked') IS 1)"
    ") BEGIN SELECT RAISE(ABORT, 'record is append-only'); END",
)
_POSTGRESQL_BLANKABLE = (
    "CREATE OR REPLACE FUNCTION record_blanks_only() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN IF ("
    + _SAME.format(same="IS NOT DISTINCT FROM")
    + " AND (SELECT kind FROM subject WHERE id = OLD.subject) IS NOT DISTINCT FROM 'person'"
    " AND (NEW.body::json ->> 'name') IS NOT DISTINCT FROM ''"
    " AND EXISTS (SELECT 1 FROM record WHERE subject = OLD.subject AND (body::json ->> 'blanked') = 'true')"
    ") THEN RETURN NEW; END IF; RAISE EXCEPTION 'record is append-only'; END $$",
    "CREATE TRIGGER record_no_update BEFORE UPDATE ON record FOR EACH ROW EXECUTE FUNCTION record_blanks_only()",
)


def _sqlite_triggers(table: str, actions: tuple[str, ...]) -> Iterator[str]:
    for action in actions:
        if action != "truncate":
            yield (
                f"CREATE TRIGGER {table}_no_{action} BEFORE {action.upper()} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table} is append-only'); END"
            )


def _postgresql_triggers(table: str, actions: tuple[str, ...]) -> Iterator[str]:
    yield (
        "CREATE OR REPLACE FUNCTION append_only() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION '% is append-only', TG_TABLE_NAME; END $$"
    )
    for action in actions:
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
