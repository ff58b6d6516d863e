"""What is wrong with a description beyond the type of each key: key, wording key and facts, the first one first."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Sequence
from string import Formatter

from waywright.errors import BadInput
from waywright.instruments.description import DIRECTED, DISPLACEMENTS, Channel, Description
from waywright.instruments.line_records import Command, Steering
from waywright.instruments.link_records import WRITABLE_LINKS, OpcUaLink, VisaLink
from waywright.quantities import Kind, unit

Problem = tuple[str, str, dict[str, object]]


def problems(stated: Description) -> Iterator[Problem]:
    """Everything that keeps a description from being used."""
    yield from _stream_problems(stated)
    names = [item.name for item in stated.channel]
    for at, item in enumerate(stated.channel):
        if item.name in names[:at]:
            yield f"channel[{at}].name", "instruments.same_channel", {"name": item.name}
        yield from _channel_problems(f"channel[{at}]", item)
    yield from _link_problems(stated)
    for at, command in enumerate(stated.command):
        yield from _command_problems(f"command[{at}]", command)
    for at, steering in enumerate(stated.steering):
        yield from _steering_problems(f"steering[{at}]", steering, stated)
    yield from _mounting_problems(stated)


def _stream_problems(stated: Description) -> Iterator[Problem]:
    """The pattern and the groups that are asked of it."""
    stream = stated.stream
    if stated.brings_values:
        for name in ("pattern", "time_stamp", "checksum", "counter"):
            if getattr(stream, name) is not None:
                yield f"stream.{name}", "instruments.no_lines", {}
        return
    if stream.pattern is None:
        yield "stream.pattern", "instruments.missing_key", {"allowed": "text"}
        return
    try:
        groups = set(re.compile(stream.pattern, re.ASCII).groupindex)
    except re.error as failure:
        yield "stream.pattern", "instruments.bad_pattern", {"reason": str(failure)}
        return
    known = ", ".join(sorted(groups)) or "-"
    for key, group in _groups_wanted(stated):
        if group not in groups:
            yield key, "instruments.unknown_group", {"group": group, "allowed": known}


def _groups_wanted(stated: Description) -> Iterator[tuple[str, str]]:
    for at, item in enumerate(stated.channel):
        yield f"channel[{at}].group", item.group
    stream = stated.stream
    if stream.time_stamp is not None:
        yield "stream.time_stamp.group", stream.time_stamp.group
    if stream.checksum is not None:
        yield "stream.checksum.group", stream.checksum.group
        yield "stream.checksum.span", stream.checksum.span
    if stream.counter is not None:
        yield "stream.counter.group", stream.counter.group


def _link_problems(stated: Description) -> Iterator[Problem]:
    """How readings arrive must fit the link."""
    if isinstance(stated.link, VisaLink) and stated.ask is None:
        yield "ask", "instruments.missing_key", {"allowed": "send, timeout_s"}
    if stated.ask is not None and not isinstance(stated.link, WRITABLE_LINKS):
        yield "ask", "instruments.read_only", {}
    if stated.command and not isinstance(stated.link, WRITABLE_LINKS):
        yield "command", "instruments.read_only", {}
    if isinstance(stated.link, OpcUaLink) and stated.link.security != "none":
        for name in ("certificate", "key", "server_certificate"):
            if getattr(stated.link, name) is None:
                yield f"link.{name}", "instruments.missing_key", {"allowed": "text"}


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
    yield from _limit_problems(f"{key}.range", item.range)
    if item.linearity is not None and not _rising(item.linearity):
        yield f"{key}.linearity", "instruments.bad_linearity", {}


def _limit_problems(key: str, limits: tuple[float, float] | None) -> Iterator[Problem]:
    if limits is not None and not limits[0] < limits[1]:
        yield key, "instruments.bad_range", {"lower": limits[0], "upper": limits[1]}


def _rising(table: Sequence[tuple[float, float]]) -> bool:
    """Whether the indicated values rise and everything is a number."""
    finite = all(math.isfinite(number) for row in table for number in row)
    return finite and all(one[0] < other[0] for one, other in itertools.pairwise(table))


def _command_problems(key: str, command: Command) -> Iterator[Problem]:
    known = {value.name: 0.0 for value in command.value}
    for at, value in enumerate(command.value):
        yield from _limit_problems(f"{key}.value[{at}].range", value.range)
    try:
        asked = {name for _, name, _, _ in Formatter().parse(command.send) if name is not None}
        if asked == set(known):
            command.send.format(**known)
    except (ValueError, KeyError, IndexError, AttributeError) as failure:
        yield f"{key}.send", "instruments.bad_send", {"reason": str(failure), "allowed": ", ".join(known) or "-"}
        return
    if asked != set(known):
        reason = ", ".join(sorted(asked ^ set(known)))
        yield f"{key}.send", "instruments.bad_send", {"reason": reason, "allowed": ", ".join(known) or "-"}
    if command.answer is not None:
        try:
            re.compile(command.answer, re.ASCII)
        except re.error as failure:
            yield f"{key}.answer", "instruments.bad_answer", {"reason": str(failure)}


def _steering_problems(key: str, steering: Steering, stated: Description) -> Iterator[Problem]:
    """A steering command changes one angle and nothing else."""
    command = next((item for item in stated.command if item.name == steering.command), None)
    names = ", ".join(item.name for item in stated.command) or "-"
    if command is None:
        yield f"{key}.command", "instruments.steering_command", {"name": steering.command, "allowed": names}
        return
    if [item.name for item in command.value] != [steering.value]:
        yield f"{key}.value", "instruments.steering_value", {"name": steering.command, "value": steering.value}
        return
    try:
        unit(Kind.ANGLE, command.value[0].unit)
    except BadInput as failure:
        facts = {"unit": command.value[0].unit, "allowed": failure.facts["allowed"]}
        yield f"{key}.value", "instruments.bad_unit", facts
    if steering.positive not in DISPLACEMENTS:
        facts = {"kind": "steering", "allowed": ", ".join(sorted(DISPLACEMENTS))}
        yield f"{key}.positive", "instruments.bad_direction", facts


def _mounting_problems(stated: Description) -> Iterator[Problem]:
    mounting = stated.mounting
    if mounting is None:
        return
    if mounting.pair is None:
        if mounting.roll_deg != 0:
            yield "mounting.pair", "instruments.missing_key", {"allowed": "2 values"}
        return
    kinds = {item.name: item.kind for item in stated.channel if item.positive is not None}
    first, second = mounting.pair
    if first == second or kinds.get(first) is None or kinds.get(first) != kinds.get(second):
        allowed = ", ".join(kinds) or "-"
        yield "mounting.pair", "instruments.bad_pair", {"allowed": allowed}
