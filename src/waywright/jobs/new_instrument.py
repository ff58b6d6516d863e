"""A first description of an instrument that nobody has described: listen, propose, write the file."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable, Sequence
from contextlib import aclosing
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any, cast
from urllib.parse import parse_qsl, unquote, urlsplit

from waywright.clocks import Clock
from waywright.errors import BadInput, InstrumentError
from waywright.instruments import Happening, Instrument, InstrumentSource
from waywright.instruments.proposing import Proposal, propose
from waywright.instruments.reading_file import described

_MOST_LINES = 2000
_NUMBERS = ("port", "baud", "data_bits", "stop_bits", "quality")
_POSITIVE = {"displacement": "up", "angle": "right-side-up"}


@dataclass(frozen=True, slots=True)
class Heard:
    """The newest lines of a link, how many came in ``duration_s``, and what they seem to be."""

    lines: tuple[str, ...]
    count: int
    duration_s: float
    proposal: Proposal

    @property
    def rate_hz(self) -> float:
        """Lines of the proposed shape per second, rounded to two figures."""
        return float(f"{self.proposal.matched / self.duration_s:.2g}")


def link_of(address: str) -> dict[str, Any]:
    """The link in an address: ``tcp://host:port``, ``tcp-server://:port``, ``udp://:port``, ``serial:COM3?baud=9600``,
    ``file:PATH``, ``visa:RESOURCE``, ``mqtt://host/topic``.

    Raises BadInput for any other.
    """
    kind, found, rest = address.partition(":")
    if not found:
        raise BadInput("instruments.bad_address", address=address)
    if kind in ("serial", "file", "visa"):
        place, _, options = rest.partition("?")
        key = {"serial": "port", "file": "path", "visa": "resource"}[kind]
        return {"kind": kind, key: unquote(place) if kind == "file" else place, **_options(options)}
    parts = urlsplit(address)
    if kind not in ("tcp", "tcp-server", "udp", "mqtt"):
        raise BadInput("instruments.bad_address", address=address)
    made: dict[str, Any] = {"kind": kind, **_options(parts.query)}
    made |= {"host": parts.hostname} if parts.hostname else {}
    made |= {"port": parts.port} if parts.port else {}
    made |= {"topic": parts.path.strip("/")} if kind == "mqtt" else {}
    return made


def _options(query: str) -> dict[str, Any]:
    return {name: int(said) if name in _NUMBERS and said.isdigit() else said for name, said in parse_qsl(query)}


async def hear(
    link: dict[str, Any],
    send: str | None,
    rate_hz: float,
    seconds: float,
    clock: Clock,
    on_lines: Callable[[Sequence[str]], object] | None = None,
) -> Heard:
    """Listen to a link; ``on_lines`` is shown what comes as it comes.

    Raises InstrumentError if nothing is heard, or nothing that holds a number.
    """
    anything: dict[str, Any] = {
        "format": 1,
        "name": "new",
        "title": "not described yet",
        "link": link,
        "stream": {"pattern": "(?P<all>.*)", "rate_hz": rate_hz},
        "channel": [{"name": "all", "group": "all", "kind": "position", "unit": "mm"}],
    }
    if send is not None:
        anything["ask"] = {"send": send}
    instrument = Instrument(described(anything, "--link"), "--link", "")
    lines: list[str] = []

    def came(news: Sequence[str]) -> None:
        lines.extend(news[: _MOST_LINES - len(lines)])
        if on_lines is not None:
            on_lines(news)

    duration_s = await listen(InstrumentSource(instrument, clock, listener=came), lines, seconds, clock)
    proposal = propose(lines)
    if proposal is None:
        raise InstrumentError("instruments.no_numbers", line=lines[-1][:80])
    return Heard(tuple(lines[-10:]), len(lines), duration_s, proposal)


async def listen(source: InstrumentSource, lines: Sequence[str], seconds: float, clock: Clock) -> float:
    """Listen for so long; how long it was. Raises InstrumentError with the last reason if no line came."""
    said, began_s = "", clock.monotonic_s()
    try:
        async with asyncio.timeout(seconds), aclosing(cast(Any, aiter(source))) as items:
            async for item in items:
                if isinstance(item, Happening) and "reason" in item.facts:
                    said = str(item.facts["reason"])
                if len(lines) >= _MOST_LINES:
                    break
    except TimeoutError:
        pass
    duration_s = clock.monotonic_s() - began_s
    if not lines:
        raise InstrumentError("instruments.nothing_heard", duration_s=duration_s, said=said or "-")
    return duration_s


def write_description(path: Path, link: dict[str, Any], send: str | None, heard: Heard) -> None:
    """Write what was proposed; a person completes it. Raises BadInput if the file exists."""
    _write(path, description_text(path.stem, link, send, heard))


EXAMPLES = ("stream", "asked", "scpi")
"""Instruments to start from: one that sends by itself, one that is asked, one that is queried in SCPI."""


def write_example(name: str, path: Path) -> None:
    """Write one of the commented ``EXAMPLES``. Raises BadInput if there is none of that name, or the file exists."""
    if name not in EXAMPLES:
        raise BadInput("instruments.no_example", name=name, known=", ".join(EXAMPLES))
    _write(path, (resources.files("waywright.instruments") / "examples" / f"{name}.toml").read_text(encoding="utf-8"))


def _write(path: Path, text: str) -> None:
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise BadInput("instruments.file_exists", file=str(path)) from None


def description_text(name: str, link: dict[str, Any], send: str | None, heard: Heard) -> str:
    """A description file (TOML) with what must still be looked at as comments."""
    proposal = heard.proposal
    rows = [*head_of(name, link), f"pattern = {_literal(proposal.pattern)}", f"rate_hz = {heard.rate_hz:g}"]
    if proposal.decimal_comma:
        rows.append("decimal_comma = true")
    if proposal.counting:
        rows.append(f"# The group {proposal.counting!r} counts up: a counter, or a clock? If a clock, in which unit?")
        rows.append(f'# time_stamp = {{ group = "{proposal.counting}", unit = "ms" }}')
    if send is not None:
        rows += ["", "[ask]", f"send = {quoted(send)}"]
    for channel in proposal.channels:
        rows += ["", f"# from {channel.least:g} to {channel.most:g} while listening", "[[channel]]"]
        rows += [f'name = "{channel.group}"', f'group = "{channel.group}"', f'kind = "{channel.kind}"']
        rows.append(f"unit = {quoted(channel.unit)}" + ("" if channel.unit_seen else "  # ... a guess"))
        if channel.kind in _POSITIVE:
            rows.append(f'positive = "{_POSITIVE[channel.kind]}"  # ... a guess: turn, press or move it and look')
    return "\n".join(rows) + "\n"


def head_of(name: str, link: dict[str, Any]) -> list[str]:
    """The first lines of a description, as far as the stream."""
    return [
        "# A proposal from what the link said. Look at every line with three dots before you measure with it.",
        "format = 1",
        f"name = {quoted(plain_name(name))}",
        'title = "..."',
        '# serial = "..."',
        "",
        "[link]",
        *(f"{key} = {quoted(value)}" for key, value in link.items()),
        "",
        "[stream]",
    ]


def plain_name(stem: str) -> str:
    """A name that a description may have."""
    plain = "".join(letter if letter.isascii() and letter.isalnum() else "_" for letter in stem.lower())
    return plain if plain[:1].isalpha() else f"i{plain}"


def quoted(value: object) -> str:
    """A TOML value; texts of JSON are texts of TOML."""
    return json.dumps(value, ensure_ascii=False)


def _literal(pattern: str) -> str:
    return f"'{pattern}'" if "'" not in pattern else quoted(pattern)
