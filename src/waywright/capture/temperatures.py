"""Temperatures of a pass: logged by a channel, at its first reading and its last, or typed while it is taken."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from waywright.quantities import Kind
from waywright.readings import Reading
from waywright.visit import Conditions, Temperature

_ENDING = f"_{Kind.TEMPERATURE.value}"


def with_logged(conditions: Conditions, readings: Sequence[Reading]) -> Conditions:
    """The conditions with what channels of temperature said; a place has the name of its channel ("bed top")."""
    known = {(item.place, item.taken_utc) for item in conditions.temperatures}
    logged = [item for item in _logged(readings) if (item.place, item.taken_utc) not in known]
    return replace(conditions, temperatures=(*conditions.temperatures, *logged)) if logged else conditions


def _logged(readings: Sequence[Reading]) -> Iterator[Temperature]:
    channels = dict.fromkeys(value.channel for reading in readings for value in reading.values)
    for channel in channels:
        if channel.endswith(_ENDING):
            place = channel.removesuffix(_ENDING).split(".", 1)[-1].replace("_", " ")
            held = [(one.ended_utc, value.mean) for one in readings if (value := one.value(channel)) is not None]
            good = [pair for pair in held if np.isfinite(pair[1])]
            for moment, degrees in dict.fromkeys([good[0], good[-1]]) if good else ():
                yield Temperature(place, degrees, moment)
