"""A report says its budgets and drawings in its own language, in two languages every drawing twice."""

from __future__ import annotations

from dataclasses import replace
from importlib import resources

import msgspec
import pytest
from hr6_example import report_content

from waywright.report.pages import pages_of
from waywright.report.saying import Saying
from waywright.uncertainty.stated import SAMPLING
from waywright.wording import speaking

BUDGETS = [
    msgspec.toml.decode(each.read_bytes())
    for each in resources.files("waywright.files").joinpath("budgets").iterdir()
    if each.name.endswith(".toml")
]
NAMES = sorted({one["name"] for budget in BUDGETS for one in budget["contribution"]} | {SAMPLING})


@pytest.mark.parametrize("name", NAMES)
def test_every_contribution_of_a_ready_budget_has_a_german_name(name: str) -> None:
    say = Saying(report_content())
    assert say.contribution(name) == name
    with speaking("de"):
        assert say.contribution(name) != name or name == "drift"


def test_titles_are_german_and_what_somebody_wrote_himself_stays() -> None:
    say = Saying(report_content())
    assert len(BUDGETS) >= 6
    with speaking("de"):
        for budget in BUDGETS:
            assert say.budget(budget["title"]) != budget["title"]
        assert say.contribution("the cat on the level") == "the cat on the level"
        assert say.distribution("rectangular") == "rechteckig"
        assert say.budget_source("assumed") == "angenommen"
        assert say.budget(None) == "nicht festgehalten"


def test_in_two_languages_every_drawing_has_both() -> None:
    pages = pages_of(replace(report_content(), language="en+de"))
    way = pages["way"]["svg"]
    assert ">height" in way["a"]
    assert ">Höhe" in way["b"]
    for line in pages["lines"]:
        for curve in line["curves"]:
            assert set(curve["svg"]) == {"a", "b"}
            assert "Durchgang" in curve["svg"]["b"]
            assert "Durchgang" not in curve["svg"]["a"]
