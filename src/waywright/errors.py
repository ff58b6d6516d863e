"""What can go wrong, as a key and its facts.

An error never holds a sentence. ``wording`` turns the key and the facts into the technician's language
and, once imported, lends its voice to ``str(error)`` through :func:`speak_with`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

Speaker = Callable[[str, Mapping[str, object]], str]


def _bare(key: str, facts: Mapping[str, object]) -> str:
    return f"{key} " + ", ".join(f"{name}={value!r}" for name, value in facts.items())


_speaker: Speaker = _bare


def speak_with(speaker: Speaker) -> None:
    """Let ``speaker(key, facts)`` make the text of every error from now on."""
    global _speaker  # noqa: PLW0603 - the one voice of the process
    _speaker = speaker


class WaywrightError(Exception):
    """Base of all errors: ``key`` names the sentence (``area.name``), ``facts`` fill it."""

    def __init__(self, key: str, /, **facts: object) -> None:
        super().__init__(key, facts)
        self.key = key
        self.facts = facts

    def __str__(self) -> str:
        return _speaker(self.key, self.facts)

    def __reduce__(self) -> tuple[Callable[..., WaywrightError], tuple[object, ...]]:
        # Errors cross process borders; the facts are keywords, which exceptions do not carry along by themselves.
        return _again, (type(self), self.key, self.facts)


def _again(kind: type[WaywrightError], key: str, facts: Mapping[str, object]) -> WaywrightError:
    return kind(key, **facts)


class BadInput(WaywrightError, ValueError):
    """A value, table, file or description that cannot be used as it is."""


class InstrumentError(WaywrightError):
    """A link or an instrument that does not do what its description says."""


class CaptureError(WaywrightError):
    """A pass that cannot start or go on."""


class ArchiveError(WaywrightError):
    """The archive cannot be opened, read or written; nothing already announced is lost."""


class ReportError(WaywrightError):
    """A report that cannot be written."""


class MissingPart(WaywrightError, ImportError):
    """An optional part is not installed; the sentence names the command that brings it."""
