"""Where capture announces what it has taken."""

from __future__ import annotations

from typing import Protocol

from waywright.readings import Reading, StreamBlock
from waywright.visit.passes import Pass, PassEvent


class ReadingSink(Protocol):
    """Implemented by the archive (must succeed) and by pages (may fail).

    When a method of the archive returns, what it was given is committed; when it raises, the pass stops.
    """

    def begin_pass(self, taken: Pass) -> None:
        """A pass is armed."""

    def keep_reading(self, reading: Reading) -> None:
        """A sealed reading; committed before anything says "taken"."""

    def keep_stream(self, block: StreamBlock) -> None:
        """Part of the raw stream of the pass."""

    def note(self, event: PassEvent) -> None:
        """Something that happened."""

    def end_pass(self, ended: Pass) -> None:
        """The pass with its end and outcome; a new revision, the first stays."""
