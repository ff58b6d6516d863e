"""How a test is done: steps, what goes wrong, cautions, and a drawing of the set-up."""

from __future__ import annotations

from dataclasses import dataclass

from waywright.errors import BadInput
from waywright.wording import catalogue, text

_AREAS = ("procedures", "procedures_parts")


@dataclass(frozen=True, slots=True)
class Procedure:
    """A procedure in words. ``key`` is what plans call it, ``picture`` the name of its drawing."""

    key: str
    title: str
    steps: tuple[str, ...]
    wrong: tuple[str, ...]
    cautions: tuple[str, ...]
    picture: str


def procedure_keys() -> tuple[str, ...]:
    """All procedures there are."""
    titles = [key for area in _AREAS for key in catalogue(area, "en") if key.endswith(".title")]
    return tuple(key.removesuffix(".title") for key in titles)


def procedure(key: str, language: str = "en") -> Procedure:
    """A procedure by its key, with or without its area. Raises BadInput where there is none."""
    found = [known for known in procedure_keys() if key in (known, known.partition(".")[2])]
    if len(found) != 1:
        known = ", ".join(each.partition(".")[2] for each in procedure_keys())
        raise BadInput("plan.no_procedure", name=key, known=known)
    area, _, name = found[0].partition(".")
    steps, wrong, cautions = (_part(area, name, part, language).split("\n") for part in ("steps", "wrong", "cautions"))
    title = _part(area, name, "title", language)
    return Procedure(found[0], title, tuple(steps), tuple(wrong), tuple(cautions), picture=name)


def _part(area: str, name: str, part: str, language: str) -> str:
    return text(f"procedures.{name}.{part}" if area == "procedures" else f"procedures_parts.{name}.{part}", language)
