"""The description files of the further instruments: what a technician would write for real ones."""

from __future__ import annotations

import json
from pathlib import Path

from waywright.simulation.further_peers import NODE
from waywright.simulation.protocol import Endpoint
from waywright.simulation.scenario import Scenario

_HEAD = """\
# Invented instrument of the practice workshop Hollin Reach.
format = 1
name = "{name}"
title = "{title}"
serial = "{serial}"

"""
_LEVEL = """\
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
_AUTOCOLLIMATOR = """\
[ask]
send = "A?\\r"

[stream]
pattern = '^P(?P<p>[-+]?\\d+\\.\\d+) Y(?P<y>[-+]?\\d+\\.\\d+)$'
rate_hz = {rate_hz:g}

[[channel]]
name = "tilt"
group = "p"
kind = "angle"
unit = "arcsec"
positive = "right-side-up"
range = [-400.0, 400.0]

[[channel]]
name = "turn"
group = "y"
kind = "angle"
unit = "arcsec"
positive = "anticlockwise-from-above"
range = [-400.0, 400.0]
"""
_INDICATOR = """\
[ask]
send = "READ?\\n"

[stream]
pattern = '^(?P<d>[-+.\\dE]+)$'
rate_hz = {rate_hz:g}

# the plunger is pressed in as the carriage sinks
[[channel]]
name = "height"
group = "d"
kind = "displacement"
unit = "um"
positive = "down"
range = [-500.0, 500.0]
over = ["9.9E37"]
"""
_CLIMATE = """\
[stream]
pattern = '^AL(?P<al>-?\\d+\\.\\d+) AH(?P<ah>-?\\d+\\.\\d+) BT(?P<bt>-?\\d+\\.\\d+) BF(?P<bf>-?\\d+\\.\\d+)$'
rate_hz = {rate_hz:g}
""" + "".join(
    f"""
[[channel]]
name = "{name}"
group = "{group}"
kind = "temperature"
unit = "degC"
"""
    for name, group in (("air_low", "al"), ("air_high", "ah"), ("bed_top", "bt"), ("bed_foot", "bf"))
)
_CONTROLLER = """\
[stream]
rate_hz = {rate_hz:g}

[[channel]]
name = "position"
group = "{node}"
kind = "position"
unit = "mm"
"""

_PARTS = {
    "reference": ("second level of the pair, on the bed", "HR-EL-02", _LEVEL),
    "autocollimator": ("autocollimator", "HR-AC-01", _AUTOCOLLIMATOR),
    "indicator": ("dial indicator on the carriage", "HR-DI-01", _INDICATOR),
    "thermometers": ("four thermometers", "HR-TH-01", _CLIMATE),
    "climate": ("four thermometers, by way of the hall's broker", "HR-TH-01", _CLIMATE),
    "controller": ("position from the machine's controller", "HR-6", _CONTROLLER),
}


def write_further(folder: Path, scenario: Scenario, endpoints: dict[str, Endpoint]) -> dict[str, Path]:
    """Write ``NAME.toml`` for each further instrument that runs, and ``indicator-visa.toml`` beside the indicator's."""
    rates_hz = _rates_hz(scenario)
    written: dict[str, Path] = {}
    for name in (name for name in _PARTS if name in endpoints):
        title, serial, body = _PARTS[name]
        head = _HEAD.format(name=name, title=title, serial=serial)
        rest = body.format(rate_hz=rates_hz[name], node=NODE)
        written[name] = _write(folder / f"{name}.toml", head + link_table(endpoints[name]) + "\n" + rest)
        if name == "indicator":
            written["indicator-visa"] = _write(folder / "indicator-visa.toml", head + _visa(endpoints[name]) + rest)
    return written


def link_table(endpoint: Endpoint) -> str:
    """The ``[link]`` table of a place."""
    facts = {
        "kind": endpoint.kind,
        "host": endpoint.host,
        "port": endpoint.port or None,
        "baud": endpoint.baud,
        "topic": endpoint.topic,
        "url": endpoint.url,
    }
    # a JSON string is a TOML string, a JSON number a TOML number
    lines = [f"{key} = {json.dumps(value)}" for key, value in facts.items() if value is not None]
    if endpoint.kind == "serial":
        lines += ["data_bits = 8", 'parity = "none"', "stop_bits = 1"]
    return "\n".join(["[link]", *lines, ""])


def _visa(endpoint: Endpoint) -> str:
    resource = json.dumps(f"TCPIP::{endpoint.host}::{endpoint.port}::SOCKET")
    return f'[link]\nkind = "visa"\nresource = {resource}\nread_ends_with = "\\r\\n"\n\n'


def _rates_hz(scenario: Scenario) -> dict[str, float]:
    return {
        "reference": scenario.reference_level.rate_hz,
        "autocollimator": scenario.autocollimator.rate_hz,
        "indicator": scenario.indicator.rate_hz,
        "thermometers": scenario.climate.rate_hz,
        "climate": scenario.climate.rate_hz,
        "controller": scenario.controller.rate_hz,
    }


def _write(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8", newline="\n")
    return path
