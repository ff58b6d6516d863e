"""Plan templates: the usual tests of a kind of machine, to start a test plan from.

A template names the standard to look a test up in. It holds no limits of any standard: ``example`` shows the shape that
a tolerance rule may have, and is to be replaced by what was agreed.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from waywright.errors import BadInput
from waywright.files.toml_record import read_record
from waywright.quantities import Axes
from waywright.visit import PlanItem, PlanTolerance
from waywright.wording import text

_FOLDER = Path(__file__).with_name("plans")


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateTest:
    """One test of a template; ``text``, ``datum`` and ``point`` are keys of ``wording`` (area plan_tests).

    ``error`` is "height", "side", "roll", "pitch" or "yaw" of a level axis, "first" or "second" for the two sideways
    directions of an upright one.
    """

    key: str
    text: str
    test: str
    standard: str
    example: str
    procedure: str
    datum: str
    point: str
    axis: str | None = None
    other: str | None = None
    error: str | None = None
    reference: str = "least-squares"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTemplate:
    """The tests of a kind of machine; ``kinds`` are words by which its kind is recognised."""

    name: str
    kinds: tuple[str, ...]
    standards: tuple[str, ...]
    test: tuple[TemplateTest, ...]


def template_names() -> tuple[str, ...]:
    """The templates there are."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def template(name: str) -> PlanTemplate:
    """A template. Raises BadInput for a name that none has."""
    if name not in template_names():
        raise BadInput("plan.no_template", name=name, known=", ".join(template_names()))
    return read_record(_FOLDER / f"{name}.toml", PlanTemplate)


def template_for(kind: str) -> str | None:
    """The template whose words fit a kind of machine best, or None."""
    said = kind.lower().replace("-", " ")
    fits = {name: _fit(template(name).kinds, said) for name in template_names()}
    best = max(fits, key=lambda name: fits[name])
    return best if fits[best] else None


def _fit(words: tuple[str, ...], said: str) -> int:
    """How much of what was said the words cover."""
    return sum(len(word) for word in words if word.replace("-", " ") in said)


def items_of(name: str, axes: Axes, language: str = "en") -> tuple[PlanItem, ...]:
    """The tests of a template for a machine, in words; every tolerance is marked as an example."""
    return tuple(_item(test, axes, language) for test in template(name).test)


def _item(test: TemplateTest, axes: Axes, language: str) -> PlanItem:
    facts = {"axis": test.axis or "", "other": test.other or "", "to": _towards(test, axes)}
    return PlanItem(
        key=test.key,
        what=text(f"plan_tests.{test.text}", language, **facts),
        test=test.test,
        code=_code(test, axes),
        axis=test.axis,
        datum=text(f"plan_tests.datum_{test.datum}", language),
        functional_point=text(f"plan_tests.point_{test.point}", language),
        tolerance=PlanTolerance(test.example, example=True),
        reference=test.reference,
        standard=test.standard,
        procedure=test.procedure,
    )


def _code(test: TemplateTest, axes: Axes) -> str | None:
    """The ISO 230-1 code of the error motion that a test looks at."""
    if test.axis is None or test.error is None:
        return None
    letter = _letter(test.axis, test.error, axes)
    rotation = test.error in {"roll", "pitch", "yaw"}
    return "E" + ("ABC"["XYZ".index(letter)] if rotation else letter) + test.axis


def _letter(axis: str, error: str, axes: Axes) -> str:
    sideways = [letter for letter in "XYZ" if letter != axis]
    if error in {"first", "second"}:
        return sideways[error == "second"]
    if error == "roll":
        return axis
    if axis == axes.vertical:
        return sideways[error in {"side", "yaw"}]
    level = next(letter for letter in sideways if letter != axes.vertical)
    return axes.vertical if error in {"height", "yaw"} else level


def _towards(test: TemplateTest, axes: Axes) -> str:
    return "" if test.axis is None or test.error is None else _letter(test.axis, test.error, axes)
