"""A first description of a controller that offers named values: listen to some of them, write the file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from waywright.clocks import Clock
from waywright.instruments import Instrument, InstrumentSource
from waywright.instruments.description import UNAVAILABLE
from waywright.instruments.reading_file import described
from waywright.jobs.new_instrument import head_of, listen, plain_name, quoted


@dataclass(frozen=True, slots=True)
class HeardValues:
    """How many times the values of ``items`` were written in ``duration_s``; least and most of each, or None."""

    items: tuple[str, ...]
    count: int
    duration_s: float
    spans: tuple[tuple[float, float] | None, ...]


async def hear_values(
    link: dict[str, Any],
    items: Sequence[str],
    rate_hz: float,
    seconds: float,
    clock: Clock,
    on_lines: Callable[[Sequence[str]], object],
) -> HeardValues:
    """Listen to named values; ``on_lines`` is shown them as they come. Raises InstrumentError if nothing is heard."""
    lines: list[str] = []

    def came(news: Sequence[str]) -> None:
        lines.extend(news)
        on_lines(news)

    channels = [{"name": f"c{at}", "group": item, "kind": "position", "unit": "mm"} for at, item in enumerate(items)]
    stated = {"format": 1, "name": "new", "title": "not described yet", "link": link,
              "stream": {"rate_hz": rate_hz}, "channel": channels}  # fmt: skip
    instrument = Instrument(described(stated, "--link"), "--link", "")
    duration_s = await listen(InstrumentSource(instrument, clock, listener=came), lines, seconds, clock)
    columns = zip(*(line.split() for line in lines), strict=True)
    return HeardValues(tuple(items), len(lines), duration_s, tuple(map(_span, columns)))


def values_text(name: str, link: dict[str, Any], rate_hz: float, heard: HeardValues) -> str:
    """A description file (TOML) with what must still be looked at as comments."""
    rows = [*head_of(name, link), f"rate_hz = {rate_hz:g}"]
    for item, span, called in zip(heard.items, heard.spans, _names(heard.items), strict=True):
        said = f"from {span[0]:g} to {span[1]:g} while listening" if span else "no number while listening"
        rows += ["", f"# {said}", "[[channel]]", f"name = {quoted(called)}", f"group = {quoted(item)}"]
        rows += ['kind = "position"  # ... a guess', 'unit = "mm"  # ... a guess']
    return "\n".join(rows) + "\n"


def _span(column: Sequence[str]) -> tuple[float, float] | None:
    numbers = [float(word) for word in column if word != UNAVAILABLE]
    return (min(numbers), max(numbers)) if numbers else None


def _names(items: Sequence[str]) -> list[str]:
    """A short name for each: the last word of the node or data item, told apart by a figure where two are alike."""
    made: list[str] = []
    for item in items:
        short = plain_name(item.replace("=", ".").rpartition(".")[2] or item)
        made.append(short if short not in made else f"{short}_{len(made) + 1}")
    return made
