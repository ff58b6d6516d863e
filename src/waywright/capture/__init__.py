"""Capture: standstills of an axis become readings, hands-free."""

from waywright.capture.events import Accepted, Event, StandstillSettings, Station, WatchedSource
from waywright.capture.listening import BeamLostError, Listening
from waywright.capture.live import Live, Watcher
from waywright.capture.made_of_windows import standstill_settings
from waywright.capture.recut import recut
from waywright.capture.screening import Beside, PassScreen, TakenBefore, error_of
from waywright.capture.session import PassCapture
from waywright.capture.standstill import Standstill
from waywright.capture.steering import BeamSteering, Ended, Steered, SteeringWish, Step, Tilt
from waywright.capture.watching import watched_sources

__all__ = [
    "Accepted",
    "BeamLostError",
    "BeamSteering",
    "Beside",
    "Ended",
    "Event",
    "Listening",
    "Live",
    "PassCapture",
    "PassScreen",
    "Standstill",
    "StandstillSettings",
    "Station",
    "Steered",
    "SteeringWish",
    "Step",
    "TakenBefore",
    "Tilt",
    "WatchedSource",
    "Watcher",
    "error_of",
    "recut",
    "standstill_settings",
    "watched_sources",
]
