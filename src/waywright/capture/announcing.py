"""Readings, stream and events go to the archive first; screens hear of them once the archive has returned."""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence

from waywright.capture.live import Live, Watcher
from waywright.readings import Reading, StreamBlock
from waywright.visit import Pass, PassEvent, ReadingSink

_log = logging.getLogger(__name__)


class Announcer:
    """The archive must succeed: what it raises goes up. Listeners and watchers may fail: that is logged."""

    def __init__(self, archive: ReadingSink, listeners: Sequence[ReadingSink], watchers: Sequence[Watcher]) -> None:
        self._archive = archive
        self._listeners = tuple(listeners)
        self._watchers = tuple(watchers)

    def begin_pass(self, taken: Pass) -> None:
        """A pass is armed."""
        self._archive.begin_pass(taken)
        self._tell(lambda listener: listener.begin_pass(taken))

    def keep_reading(self, reading: Reading) -> None:
        """A sealed reading."""
        self._archive.keep_reading(reading)
        self._tell(lambda listener: listener.keep_reading(reading))

    def keep_stream(self, block: StreamBlock) -> None:
        """Part of the raw stream."""
        self._archive.keep_stream(block)
        self._tell(lambda listener: listener.keep_stream(block))

    def note(self, event: PassEvent) -> None:
        """Something that happened."""
        self._archive.note(event)
        self._tell(lambda listener: listener.note(event))

    def end_pass(self, ended: Pass) -> None:
        """The pass has ended."""
        self._archive.end_pass(ended)
        self._tell(lambda listener: listener.end_pass(ended))

    def show(self, live: Live) -> None:
        """The live state, for watchers only."""
        for watcher in self._watchers:
            _guarded(lambda watcher=watcher: watcher(live))  # type: ignore[misc]

    def _tell(self, what: Callable[[ReadingSink], None]) -> None:
        for listener in self._listeners:
            _guarded(lambda listener=listener: what(listener))  # type: ignore[misc]


def _guarded(call: Callable[[], None]) -> None:
    try:
        call()
    except Exception:
        _log.exception("a listener failed; the pass goes on")
