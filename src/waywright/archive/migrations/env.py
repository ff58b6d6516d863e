"""What Alembic runs: all steps on the connection, and in the transaction, that it was given."""

from __future__ import annotations

from alembic import context

from waywright.archive.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
