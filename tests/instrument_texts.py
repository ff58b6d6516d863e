"""Description files of invented instruments, for the tests of instruments and capture."""

from __future__ import annotations

from waywright.instruments import Instrument, parse_instrument

BEAM = """\
format = 1
name = "beam"
title = "two-axis beam position detector"
serial = "HR-BD-01"
{link}
[stream]
pattern = '^(?P<t>\\d+) V(?P<v>[-+]?\\d+\\.\\d+) S(?P<s>[-+]?\\d+\\.\\d+)$'
rate_hz = 50
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
unit = "mm"
positive = "towards-operator"
factor = -2.0
offset = 0.5
"""

DISTANCE = """\
format = 1
name = "distance"
title = "distance meter"
{link}
[stream]
pattern = '(?P<p>[-+]?\\d+\\.\\d+) mm'
rate_hz = 10
[[channel]]
name = "position"
group = "p"
kind = "position"
unit = "mm"
"""


def tcp(port: int) -> str:
    return f'[link]\nkind = "tcp"\nhost = "127.0.0.1"\nport = {port}'


def serial(port: str) -> str:
    return f'[link]\nkind = "serial"\nport = "{port}"\nbaud = 9600'


def beam_text(port: int = 50001) -> str:
    return BEAM.format(link=tcp(port))


def beam(port: int = 50001) -> Instrument:
    return parse_instrument(beam_text(port).encode(), "beam.toml")


def distance(link: str) -> Instrument:
    return parse_instrument(DISTANCE.format(link=link).encode(), "distance.toml")
