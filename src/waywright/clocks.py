"""Clocks are arguments: one for intervals, one for records, and a faster one for practice.

``monotonic_s`` measures intervals and never jumps; ``utc`` dates records. A :class:`ScaledClock` runs both at a
stated factor, so that the code that waits for a carriage does not know whether it practises.
"""

from __future__ import annotations

import asyncio
import secrets
import time
from datetime import UTC, datetime, timedelta
from typing import Protocol
from uuid import UUID

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


class Clock(Protocol):
    """What capture needs to know of time."""

    @property
    def factor(self) -> float:
        """Seconds of this clock per second of the wall clock; 1 except in practice."""

    def monotonic_s(self) -> float:
        """Seconds since an arbitrary origin; never runs backwards."""

    def utc(self) -> datetime:
        """The time of day for records, aware, UTC."""

    async def sleep(self, duration_s: float) -> None:
        """Wait for a duration of this clock."""


class SystemClock:
    """The computer's own clocks."""

    factor = 1.0

    def monotonic_s(self) -> float:
        """Seconds of the system's monotonic clock (it stands still while a computer sleeps)."""
        return time.monotonic()

    def utc(self) -> datetime:
        """The system's time of day."""
        return datetime.now(UTC)

    async def sleep(self, duration_s: float) -> None:
        """Wait without blocking others."""
        await asyncio.sleep(max(0.0, duration_s))


class ScaledClock:
    """A clock that runs ``factor`` times as fast as the wall clock, from now on."""

    def __init__(self, factor: float) -> None:
        self.factor = factor
        self._began_s = time.monotonic()
        self._began_utc = datetime.now(UTC)

    def monotonic_s(self) -> float:
        """Scaled seconds since this clock was made."""
        return (time.monotonic() - self._began_s) * self.factor

    def utc(self) -> datetime:
        """The moment this clock was made plus the scaled interval."""
        return self._began_utc + timedelta(seconds=self.monotonic_s())

    def pass_by(self, duration_s: float) -> None:
        """Go on at once by a duration that nobody wants to sit through; a clock is never put back."""
        skipped_s = max(0.0, duration_s)
        self._began_s -= skipped_s / self.factor

    async def sleep(self, duration_s: float) -> None:
        """Wait for a scaled duration."""
        await asyncio.sleep(max(0.0, duration_s) / self.factor)


def utc_microseconds(moment: datetime) -> int:
    """Whole microseconds since 1970-01-01T00:00:00Z, exact."""
    return (moment - EPOCH) // timedelta(microseconds=1)


def from_utc_microseconds(microseconds: int) -> datetime:
    """The aware UTC moment of :func:`utc_microseconds`."""
    return EPOCH + timedelta(0, 0, microseconds)


class _Sequence:
    """Keeps ids made in the same millisecond in the order they were made."""

    last = 0


def new_id(moment: datetime | None = None) -> UUID:
    """A UUID of version 7 (RFC 9562, 5.7): milliseconds of ``moment`` (default now), then random bits.

    Ids of one process sort in the order they were made, also within a millisecond and when the clock steps back.
    """
    milliseconds = utc_microseconds(moment or datetime.now(UTC)) // 1000
    bits = milliseconds << 80 | 7 << 76 | secrets.randbits(12) << 64 | 2 << 62 | secrets.randbits(62)
    if bits <= _Sequence.last:
        bits = _next_after(_Sequence.last)
    _Sequence.last = bits
    return UUID(int=bits)


def _next_after(bits: int) -> int:
    """The next id after ``bits``: a random stride in the 62 tail bits, carrying into the 12 bits above them."""
    tail = (bits & (1 << 62) - 1) + 1 + secrets.randbits(32)
    carried = (bits >> 64 & 0xFFF) + (tail >> 62)
    milliseconds = (bits >> 80) + (carried >> 12)
    return milliseconds << 80 | 7 << 76 | (carried & 0xFFF) << 64 | 2 << 62 | tail & (1 << 62) - 1
