"""From a TOML file to a checked description. Whatever is wrong is named by file, key and what is allowed."""

from __future__ import annotations

import hashlib
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec

from waywright.errors import BadInput
from waywright.instruments.allowed import allowed_at
from waywright.instruments.description import Description
from waywright.instruments.problems import problems
from waywright.visit import InstrumentUse

LARGEST_BYTES = 2_000_000


@dataclass(frozen=True, slots=True)
class Instrument:
    """A description with the file it came from and the SHA-256 of that file's bytes (hexadecimal)."""

    description: Description
    file: str
    sha256: str

    @property
    def name(self) -> str:
        """Short name, first part of the channel names."""
        return self.description.name

    @property
    def channels(self) -> tuple[str, ...]:
        """Full names of the channels, unit included."""
        return self.description.channels

    def use(self) -> InstrumentUse:
        """What a set-up records about this instrument."""
        stated = self.description
        paper = stated.certificate
        due = paper.due.isoformat() if paper and paper.due else None
        return InstrumentUse(
            stated.name, stated.title, stated.serial, paper.number if paper else None, due, self.sha256
        )


def read_instrument(path: str | Path) -> Instrument:
    """Read and check a description file.

    Raises BadInput naming the file, the key and what is allowed there.
    """
    file = Path(path)
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as failure:
        raise BadInput("instruments.no_file", file=str(file), reason=failure.strerror or str(failure)) from failure
    return parse_instrument(data, str(file))


def parse_instrument(data: bytes, file: str) -> Instrument:
    """The checked description in the bytes of a file; ``file`` names it in errors. Raises BadInput."""
    if len(data) > LARGEST_BYTES:
        raise BadInput("toml.too_large", file=file, limit_mb=LARGEST_BYTES / 1e6)
    try:
        raw = tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as failure:
        raise BadInput("instruments.not_utf8", file=file, byte=failure.start) from failure
    except ValueError as failure:  # no TOML, or a number of thousands of digits
        raise BadInput("instruments.not_toml", file=file, reason=str(failure)) from failure
    except RecursionError as failure:
        raise BadInput("toml.too_deep", file=file) from failure
    return Instrument(described(raw, file), file, hashlib.sha256(data).hexdigest())


def description_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a description file, for editors."""
    schema = msgspec.json.schema(Description)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Waywright instrument description, format 1",
        **schema,
    }


def described(stated: dict[str, Any], file: str) -> Description:
    """The checked description of the content of a file. Raises BadInput naming file, key and what is allowed."""
    found = _converted(stated, file)
    for key, problem, facts in problems(found):
        raise BadInput(problem, file=file, key=key, **facts)
    return found


def _converted(raw: dict[str, Any], file: str) -> Description:
    try:
        return msgspec.convert(raw, Description)
    except msgspec.ValidationError as failure:
        raise _explained(str(failure), file) from failure


def _explained(message: str, file: str) -> BadInput:
    """The error for a message of msgspec: its path becomes the key, its words become facts."""
    said, _, path = message.partition(" - at `$")
    key = path.rstrip("`").lstrip(".")
    if unknown := re.fullmatch(r"Object contains unknown field `(.*)`", said):
        known = allowed_at(Description, key)
        return BadInput("instruments.unknown_key", file=file, key=_joined(key, unknown[1]), allowed=known)
    if missing := re.fullmatch(r"Object missing required field `(.*)`", said):
        wanted = _joined(key, missing[1])
        return BadInput("instruments.missing_key", file=file, key=wanted, allowed=allowed_at(Description, wanted))
    return BadInput("instruments.bad_value", file=file, key=key, allowed=allowed_at(Description, key))


def _joined(key: str, last: str) -> str:
    return f"{key}.{last}" if key else last
