"""Hears what the archive has committed, on behalf of the pages."""

from __future__ import annotations

from typing import Protocol

from waywright.readings import Reading, StreamBlock
from waywright.visit import Pass, PassEvent


class Told(Protocol):
    """Who wants to know."""

    def took(self, reading: Reading) -> None:
        """A reading is in the archive."""

    def noted(self) -> None:
        """An event is in the archive."""


class Committed:
    """Hears what the archive has committed."""

    def __init__(self, told: Told) -> None:
        self._told = told

    def begin_pass(self, taken: Pass) -> None:
        """Known from arming."""

    def keep_reading(self, reading: Reading) -> None:
        """A committed reading."""
        self._told.took(reading)

    def keep_stream(self, block: StreamBlock) -> None:
        """Nothing to show."""

    def note(self, event: PassEvent) -> None:
        """Something that happened."""
        self._told.noted()

    def end_pass(self, ended: Pass) -> None:
        """How it ended stands in the archive."""
        self._told.noted()
