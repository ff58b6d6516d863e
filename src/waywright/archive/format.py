"""Formats of the archive: which one a database has, and the way from older ones to this program's.

A format is an Alembic revision numbered from 0001. There is no way back for an archive that holds readings.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, Engine, inspect, select, text

from waywright.archive.dialect import broken_references, mark
from waywright.archive.tables import READING
from waywright.errors import ArchiveError

if TYPE_CHECKING:
    from alembic.config import Config

# Every format this program can open, oldest first; the last is the one it writes.
FORMATS = ("0001", "0002")

_MIGRATIONS = Path(__file__).with_name("migrations")


def format_of(connection: Connection) -> str | None:
    """The format of the database, or None where it has none."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one_or_none()


def is_current(connection: Connection, place: str) -> bool:
    """Whether the format is this program's; False means an older one. A newer one raises ArchiveError."""
    found = format_of(connection)
    if found == FORMATS[-1]:
        return True
    if found is not None and found not in FORMATS:
        raise ArchiveError("archive.newer_format", path=place, found=found, known=FORMATS[-1])
    return False


def upgrade(engine: Engine, target: str = FORMATS[-1]) -> None:
    """Bring a database to a later format, or make the tables of an empty one; all of it or nothing."""
    from alembic import command

    with engine.execution_options(writes=True).begin() as connection:
        mark(connection)
        command.upgrade(_configured(connection), target)
        if found := next(broken_references(connection), None):
            raise ArchiveError("archive.check_reference", detail=found)


def downgrade(engine: Engine, target: str) -> None:
    """Back to an earlier format; only for an archive without readings, which means: for tests of migrations."""
    from alembic import command

    with engine.execution_options(writes=True).begin() as connection:
        if connection.execute(select(READING.c.id).limit(1)).first():
            raise ArchiveError("archive.no_way_back")
        command.downgrade(_configured(connection), target)


def _configured(connection: Connection) -> Config:
    from alembic.config import Config

    config = Config(attributes={"connection": connection})
    config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config
