"""From a TOML file to a checked description. Whatever is wrong is named by file, key and what is allowed."""

from __future__ import annotations

import hashlib
import math
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec

from waywright.errors import BadInput
from waywright.instruments.allowed import allowed_at
from waywright.instruments.description import DIRECTED, Channel, Description
from waywright.visit import InstrumentUse

Problem = tuple[str, str, dict[str, object]]


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
        data = file.read_bytes()
    except OSError as failure:
        raise BadInput("instruments.no_file", file=str(file), reason=failure.strerror or str(failure)) from failure
    return parse_instrument(data, str(file))


def parse_instrument(data: bytes, file: str) -> Instrument:
    """The checked description in the bytes of a file; ``file`` names it in errors. Raises BadInput."""
    try:
        raw = tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as failure:
        raise BadInput("instruments.not_utf8", file=file, byte=failure.start) from failure
    except tomllib.TOMLDecodeError as failure:
        raise BadInput("instruments.not_toml", file=file, reason=str(failure)) from failure
    stated = _converted(raw, file)
    for key, problem, facts in _problems(stated):
        raise BadInput(problem, file=file, key=key, **facts)
    return Instrument(stated, file, hashlib.sha256(data).hexdigest())


def description_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a description file, for editors."""
    return msgspec.json.schema(Description)


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


def _problems(stated: Description) -> Iterator[Problem]:
    """What msgspec cannot see: key, wording key and facts of each problem, the first one first."""
    try:
        groups = set(re.compile(stated.stream.pattern, re.ASCII).groupindex)
    except re.error as failure:
        yield "stream.pattern", "instruments.bad_pattern", {"reason": str(failure)}
        return
    wanted = {f"channel[{at}].group": item.group for at, item in enumerate(stated.channel)}
    if stated.stream.time_stamp is not None:
        wanted["stream.time_stamp.group"] = stated.stream.time_stamp.group
    known = ", ".join(sorted(groups)) or "-"
    for key, group in wanted.items():
        if group not in groups:
            yield key, "instruments.unknown_group", {"group": group, "allowed": known}
    names = [item.name for item in stated.channel]
    for at, item in enumerate(stated.channel):
        if item.name in names[:at]:
            yield f"channel[{at}].name", "instruments.same_channel", {"name": item.name}
        yield from _channel_problems(f"channel[{at}]", item)


def _channel_problems(key: str, item: Channel) -> Iterator[Problem]:
    try:
        item.inside  # noqa: B018 - asked for its error
    except BadInput as failure:
        yield f"{key}.unit", "instruments.bad_unit", {"unit": item.unit, "allowed": failure.facts["allowed"]}
    directions = DIRECTED.get(item.kind, frozenset())
    allowed = ", ".join(sorted(directions))
    if directions and item.positive not in directions:
        yield f"{key}.positive", "instruments.bad_direction", {"kind": item.kind, "allowed": allowed}
    if not directions and item.positive is not None:
        yield f"{key}.positive", "instruments.no_direction", {"kind": item.kind}
    if item.factor == 0 or not math.isfinite(item.factor):
        yield f"{key}.factor", "instruments.bad_factor", {"value": item.factor}
    if not math.isfinite(item.offset):
        yield f"{key}.offset", "instruments.bad_factor", {"value": item.offset}
    if item.range is not None and not item.range[0] < item.range[1]:
        yield f"{key}.range", "instruments.bad_range", {"lower": item.range[0], "upper": item.range[1]}
