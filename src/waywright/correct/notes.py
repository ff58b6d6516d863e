"""A sentence to be said, as a key and its facts."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Note:
    """``key`` names the sentence in the wording, ``facts`` fill it."""

    key: str
    facts: dict[str, object] = field(default_factory=dict)


def note(key: str, **facts: object) -> Note:
    """A note from keywords."""
    return Note(key, facts)
