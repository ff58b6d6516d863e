"""The second format: contents of attached files, repeats and computers in columns, names of people can go."""

from __future__ import annotations

from uuid import UUID

import sqlalchemy as sa
from alembic import op

from waywright.archive.columns import Id
from waywright.archive.dialect import append_only, blankable, changeable
from waywright.readings import read_canonical

revision = "0002"
down_revision = "0001"

_READING = sa.table("reading", sa.column("id", Id), sa.column("body"), sa.column("supersedes", Id))
_AT_A_TIME = 1000


def upgrade() -> None:
    """Add what is new; what the archive holds stays as it is."""
    connection = op.get_bind()
    op.create_table(
        "content",
        sa.Column("sha256", sa.LargeBinary(32), primary_key=True),
        sa.Column("size", sa.BigInteger, nullable=False),
        sa.Column("body", sa.LargeBinary, nullable=False),
    )
    append_only(connection, "content")
    op.drop_index("ix_subject_kind", "subject")
    op.create_index(None, "subject", ["kind", "id"])
    op.add_column("reading", sa.Column("supersedes", Id))
    changeable(connection, "reading")
    _fill(connection)
    append_only(connection, "reading")
    op.add_column("record", sa.Column("computer", sa.Text))
    changeable(connection, "record")
    append_only(connection, "record", but_update=True)
    blankable(connection)


def downgrade() -> None:
    """Back to the first format, on an archive without readings."""
    connection = op.get_bind()
    changeable(connection, "record")
    append_only(connection, "record")
    op.drop_column("record", "computer")
    op.drop_column("reading", "supersedes")
    op.drop_index("ix_subject_kind_id", "subject")
    op.create_index(None, "subject", ["kind"])
    op.drop_table("content")


def _fill(connection: sa.Connection) -> None:
    """The column repeats what the sealed bytes say."""
    rows = connection.execute(sa.select(_READING.c.id, _READING.c.body).execution_options(yield_per=_AT_A_TIME))
    repeats: dict[UUID, UUID] = {}
    for row in rows:
        supersedes = read_canonical(bytes(row.body)).supersedes
        if supersedes is not None:
            repeats[row.id] = supersedes
    for identity, supersedes in repeats.items():
        connection.execute(_READING.update().where(_READING.c.id == identity).values(supersedes=supersedes))
