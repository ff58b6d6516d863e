"""The first format: subjects and their records, readings, streams, events; all append-only."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from waywright.archive.columns import Id, Utc
from waywright.archive.dialect import append_only

revision = "0001"
down_revision = None

_TABLES = ("subject", "record", "reading", "stream_block", "pass_event")


def upgrade() -> None:
    """Make all tables of the first format."""
    _make_records()
    _make_readings()
    _make_streams()
    for table in _TABLES:
        append_only(op.get_bind(), table)


def downgrade() -> None:
    """Remove them again, on an archive without readings."""
    for table in reversed(_TABLES):
        op.drop_table(table)


def _make_records() -> None:
    op.create_table("subject", sa.Column("id", Id, primary_key=True), sa.Column("kind", sa.Text, nullable=False))
    op.create_index(None, "subject", ["kind"])
    op.create_table(
        "record",
        sa.Column("id", Id, primary_key=True),
        sa.Column("subject", Id, sa.ForeignKey("subject.id"), nullable=False),
        sa.Column("parent", Id),
        sa.Column("replaces", Id, sa.ForeignKey("record.id")),
        sa.Column("recorded_utc", Utc, nullable=False),
        sa.Column("recorded_by", Id),
        sa.Column("reason", sa.Text),
        sa.Column("body", sa.Text),
    )
    for columns in (["subject", "id"], ["parent"], ["replaces"]):
        op.create_index(None, "record", columns)


def _make_readings() -> None:
    op.create_table(
        "reading",
        sa.Column("id", Id, primary_key=True),
        sa.Column("pass_id", Id, sa.ForeignKey("subject.id"), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("position_mm", sa.Double, nullable=False),
        sa.Column("began_utc", Utc, nullable=False),
        sa.Column("previous_hash", sa.LargeBinary(32), nullable=False),
        sa.Column("hash", sa.LargeBinary(32), nullable=False),
        sa.Column("body", sa.LargeBinary, nullable=False),
        sa.Column("window", sa.LargeBinary),
        sa.UniqueConstraint("pass_id", "number"),
        sa.CheckConstraint("number >= 0", name="number"),
    )


def _make_streams() -> None:
    op.create_table(
        "stream_block",
        sa.Column("pass_id", Id, sa.ForeignKey("subject.id"), primary_key=True),
        sa.Column("source", sa.Text, primary_key=True),
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("channels", sa.Text, nullable=False),
        sa.Column("samples", sa.Integer, nullable=False),
        sa.Column("time_s", sa.LargeBinary, nullable=False),
        sa.Column("value", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "pass_event",
        sa.Column("id", Id, primary_key=True),
        sa.Column("pass_id", Id, sa.ForeignKey("subject.id"), nullable=False),
        sa.Column("made_utc", Utc, nullable=False),
        sa.Column("body", sa.Text, nullable=False),
    )
    op.create_index(None, "pass_event", ["pass_id"])
