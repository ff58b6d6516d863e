"""Optional libraries: asking for a link whose part is not installed names the command that brings it."""

from __future__ import annotations

import os
from importlib.util import find_spec

from waywright.errors import InstrumentError, MissingPart

PARTS = {
    "visa": ("pyvisa", "pyvisa_py"),
    "mqtt": ("aiomqtt",),
    "opcua": ("asyncua",),
    "mtconnect": ("httpx", "lxml"),
    "ble": ("bleak",),
    "practice": ("amqtt", "asyncua"),
}
"""Kind of link, which is also the name of the part, and the libraries that it needs; and what practice needs."""


def need(kind: str) -> None:
    """Raises MissingPart if the libraries of this kind of link are not installed."""
    if any(find_spec(name) is None for name in PARTS.get(kind, ())):
        raise MissingPart("instruments.missing_part", kind=kind, command=f"python3 x.py add {kind}")


def password(variable: str | None) -> str | None:
    """The password in an environment variable. Raises InstrumentError if that is not set."""
    if variable is None:
        return None
    found = os.environ.get(variable)
    if found is None:
        raise InstrumentError("instruments.no_password", variable=variable)
    return found
