"""Column types and names that are part of the archive format; old migrations rely on them, so they never change.

Moments are whole microseconds since 1970 in UTC, ids the 16 bytes of a UUID (PostgreSQL: its own type). Both sort in
the order of time.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import BigInteger, Dialect, LargeBinary, Uuid
from sqlalchemy.types import TypeDecorator, TypeEngine

from waywright.clocks import from_utc_microseconds, utc_microseconds

# Constraints have names from the first format on, so that any later migration can address them on any database.
NAMING = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}


class Utc(TypeDecorator[datetime]):
    """An aware moment, exact to the microsecond."""

    impl = BigInteger
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> int | None:
        """Microseconds; a moment without time zone raises TypeError."""
        return None if value is None else utc_microseconds(value)

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        """The aware UTC moment."""
        return None if value is None else from_utc_microseconds(value)


class Id(TypeDecorator[UUID]):
    """A UUID as 16 bytes, or as the database's own type where it has one."""

    impl = LargeBinary(16)
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """PostgreSQL has a type for it."""
        return dialect.type_descriptor(Uuid() if dialect.name == "postgresql" else LargeBinary(16))

    def process_bind_param(self, value: UUID | None, dialect: Dialect) -> UUID | bytes | None:
        """What the database stores."""
        return value if value is None or dialect.name == "postgresql" else value.bytes

    def process_result_value(self, value: Any, dialect: Dialect) -> UUID | None:
        """The UUID."""
        return UUID(bytes=value) if isinstance(value, bytes) else value
