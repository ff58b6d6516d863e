"""${message}."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from waywright.archive.columns import Id, Utc
from waywright.archive.dialect import append_only

revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}


def upgrade() -> None:
    """${message}."""
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    """Back again, on an archive without readings."""
    ${downgrades if downgrades else "pass"}
