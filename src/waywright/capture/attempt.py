"""One standstill that is being averaged: where, since when, and what has gone wrong so far."""

from __future__ import annotations

from waywright.capture.events import Disturbed
from waywright.capture.window import Trouble

_SAME_S = 1.0


class Attempt:
    """``place_mm`` is where the axis stands, ``after_s`` the start of the window, ``until_s`` its end once known."""

    def __init__(self, place_mm: float, after_s: float, by_hand: bool = False) -> None:
        self.place_mm = place_mm
        self.began_s = self.after_s = after_s
        self.until_s: float | None = None
        self.by_hand = by_hand
        self.looked_s = after_s
        self.absent: dict[str, float] = {}
        self._troubles: list[Trouble] = []

    @property
    def again(self) -> bool:
        """Whether a window has been rejected at this standstill."""
        return bool(self._troubles)

    def begin_again(self, after_s: float) -> None:
        """The window begins at ``after_s``; nothing before counts."""
        self.after_s = self.looked_s = max(self.after_s, after_s)
        self.until_s = None

    def reject(self, trouble: Trouble) -> None:
        """The window was disturbed; it begins again after that."""
        last = self._troubles[-1] if self._troubles else None
        if last is not None and trouble.from_s - last.to_s < _SAME_S:
            trouble = Trouble(last.from_s, trouble.to_s, last.channel, last.cause)
            self._troubles.pop()
        self._troubles.append(trouble)
        self.begin_again(trouble.to_s)

    def disturbed(self, time_s: float, retaken: bool) -> list[Disturbed]:
        """What is to be said about the disturbances at the end."""
        if not self._troubles:
            return []
        duration_s = sum(item.to_s - item.from_s for item in self._troubles)
        first = self._troubles[0]
        return [Disturbed(time_s, self.place_mm, duration_s, first.channel, first.cause, retaken)]
