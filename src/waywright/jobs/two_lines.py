"""Two lines at common stations, and tied to each other by a bridge."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.links import link_by_bridge
from waywright.files.named_table import read_named
from waywright.jobs.ties import BRIDGE, Profile
from waywright.readings import Floats


def at_common(one: Profile, two: Profile) -> tuple[Floats, Floats, Floats]:
    """Both at the first's stations that the second covers, the second by linear interpolation between its own.

    Raises BadInput for fewer than three such stations.
    """
    order = np.argsort(two.position_mm)
    far, value = two.position_mm[order], two.value[order]
    inside = (one.position_mm >= far[0]) & (one.position_mm <= far[-1])
    if inside.sum() < 3:
        first_end, second_start = float(one.position_mm.max()), float(far[0])
        raise BadInput("evaluate.nothing_in_common", first_end_mm=first_end, second_start_mm=second_start)
    x = one.position_mm[inside]
    return x, one.value[inside], np.interp(x, far, value)


def tie_of_bridge(bridge: Path, x: Floats, low: Floats, high: Floats) -> tuple[Floats, float]:
    """What the bridge adds to the second line: its height and its direction."""
    table = read_named(bridge, BRIDGE)
    at, seen = table.numbers["position"], table.numbers["difference"]
    order = np.argsort(x)
    both = [np.interp(at, x[order], each[order]) for each in (low, high)]
    link = link_by_bridge(at, seen, both[0], both[1], float(np.sqrt(np.mean(table.numbers["sd"] ** 2))))
    turn = float(link.angle_um_per_m)
    return turn * x / 1000.0 + float(link.offset_um or 0.0), turn
