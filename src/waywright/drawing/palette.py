"""Ink on warm paper, and paper on ink for dark halls. One colour means one thing."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of a drawing.

    ``now`` is what happens now or is to be done next, ``inside`` and ``outside`` a tolerance, ``undecided`` neither.
    None of them stands alone: a word or a shape says the same. Words have a contrast of 4.5 or more on paper and panel.
    """

    ink: str
    mute: str
    hairline: str
    paper: str
    panel: str
    now: str
    inside: str
    outside: str
    undecided: str


LIGHT = Palette(
    ink="#1d2a33",
    mute="#5f686e",
    hairline="#c9c2b0",
    paper="#f6f3ea",
    panel="#fffdf7",
    now="#a9560a",
    inside="#0b6b62",
    outside="#a3243b",
    undecided="#5b4a9e",
)

DARK = Palette(
    ink="#efe9db",
    mute="#a5aba8",
    hairline="#4a555c",
    paper="#141d23",
    panel="#1b262d",
    now="#f0a24a",
    inside="#5cc4b4",
    outside="#ff8a97",
    undecided="#b9a9f5",
)

PRINT = replace(LIGHT, paper="#ffffff", panel="#ffffff")
"""On the white of a printed page."""

VARIABLES = Palette(**{item.name: f"var(--{item.name}, {getattr(LIGHT, item.name)})" for item in fields(Palette)})
"""For web pages: the style sheet names the colours, so that one drawing serves light and dark."""
