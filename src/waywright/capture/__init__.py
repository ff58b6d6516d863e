"""Capture: standstills of an axis become readings, hands-free."""

from waywright.capture.events import Accepted, Event, StandstillSettings, Station, WatchedSource
from waywright.capture.live import Live, Watcher
from waywright.capture.made_of_windows import standstill_settings
from waywright.capture.recut import recut
from waywright.capture.screening import Beside, PassScreen, TakenBefore, error_of
from waywright.capture.session import PassCapture
from waywright.capture.standstill import Standstill
from waywright.capture.watching import watched_sources

__all__ = [
    "Accepted",
    "Beside",
    "Event",
    "Live",
    "PassCapture",
    "PassScreen",
    "Standstill",
    "StandstillSettings",
    "Station",
    "TakenBefore",
    "WatchedSource",
    "Watcher",
    "error_of",
    "recut",
    "standstill_settings",
    "watched_sources",
]
