"""The description files of the workshop's instruments: what a technician would write for real ones."""

from __future__ import annotations

from pathlib import Path

from waywright.simulation.further_descriptions import link_table, write_further
from waywright.simulation.protocol import Endpoint
from waywright.simulation.scenario import Scenario

_BEAM = """\
# Invented instrument of the practice workshop Hollin Reach.
format = 1
name = "beam"
title = "two-axis beam position detector"
serial = "HR-BD-01"

{link}
[stream]
pattern = '^(?P<t>\\d+) V(?P<v>[-+]?\\d+\\.\\d+) S(?P<s>[-+]?\\d+\\.\\d+)$'
rate_hz = {rate_hz:g}
time_stamp = {{ group = "t", unit = "ms" }}

[[channel]]
name = "vertical"
group = "v"
kind = "displacement"
unit = "um"
positive = "up"
range = [-2500.0, 2500.0]
lost = ["9999.9"]

[[channel]]
name = "side"
group = "s"
kind = "displacement"
unit = "um"
positive = "towards-operator"
range = [-2500.0, 2500.0]
lost = ["9999.9"]
"""

_DISTANCE = """\
# Invented instrument of the practice workshop Hollin Reach.
format = 1
name = "distance"
title = "distance meter"
serial = "HR-DM-01"

{link}
[stream]
pattern = '^(?P<p>[-+]?\\d+\\.\\d+) mm$'
rate_hz = {rate_hz:g}

[[channel]]
name = "position"
group = "p"
kind = "position"
unit = "mm"
"""

_LEVEL = """\
# Invented instrument of the practice workshop Hollin Reach.
format = 1
name = "level"
title = "electronic level"
serial = "HR-EL-01"

{link}
[stream]
pattern = '^X(?P<x>[-+]?\\d+\\.\\d+)$'
rate_hz = {rate_hz:g}

[[channel]]
name = "cross"
group = "x"
kind = "angle"
unit = "um/m"
positive = "operator-side-up"
range = [-2000.0, 2000.0]
"""


def write_descriptions(folder: Path, scenario: Scenario, endpoints: dict[str, Endpoint]) -> dict[str, Path]:
    """Write ``beam.toml``, ``distance.toml``, ``level.toml`` and those of the further instruments that run."""
    folder.mkdir(parents=True, exist_ok=True)
    rates_hz = {"beam": scenario.beam.rate_hz, "distance": scenario.distance.rate_hz, "level": scenario.level.rate_hz}
    templates = {"beam": _BEAM, "distance": _DISTANCE, "level": _LEVEL}
    paths = {name: folder / f"{name}.toml" for name in templates}
    for name, path in paths.items():
        text = templates[name].format(link=link_table(endpoints[name]), rate_hz=rates_hz[name])
        path.write_text(text, encoding="utf-8", newline="\n")
    return paths | write_further(folder, scenario, endpoints)
