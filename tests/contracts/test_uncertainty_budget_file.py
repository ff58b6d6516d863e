import dataclasses
import json
from pathlib import Path

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.files.budget_file import (
    METHODS,
    budget_schema,
    read_budget,
    ready_budget,
    ready_budget_text,
    write_budget,
)
from waywright.uncertainty import Acts, BedShapes, Budget, Contribution, Correlated, state_straightness

X = np.linspace(0.0, 3000.0, 13)


@pytest.mark.parametrize("method", METHODS)
def test_every_method_has_a_ready_budget_that_can_be_edited_and_used(method: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(ready_budget_text(method), encoding="utf-8")
    budget = read_budget(path)
    assert budget == ready_budget(method)
    assert budget.method == method
    stated = state_straightness(X, 10.0 * np.sin(X / 1000.0), budget, draws=400)
    assert [row.name for row in stated.rows[:-1]] == [one.name for one in budget.contribution]
    assert stated.expanded > 0.1
    low, high = stated.interval
    assert low < stated.best < high


def test_a_budget_written_reads_back_equal(tmp_path: Path) -> None:
    budget = Budget(
        "beam",
        (
            Contribution("a", Acts.READING, 0.7, "um", degrees_of_freedom=9.0, source="measured", note='said "so"'),
            Contribution("b", Acts.AIR_GRADIENT, 0.3, "K/m", "rectangular"),
            Contribution("c", Acts.TILT, 2.0, "um/m"),
        ),
        (Correlated("b", "c", -0.5),),
        BedShapes(step=0.0, scale=(1.0, 50.0)),
        "mine",
    )
    path = tmp_path / "budget.toml"
    write_budget(path, budget)
    assert read_budget(path) == budget


@pytest.mark.parametrize(
    ("line", "instead", "said"),
    [
        ('acts = "turbulence"', 'acts = "turbulances"', "turbulances"),
        ('unit = "K/m"', 'unit = "K"', "needs 'K/m'"),
        ("value = 1.5", "value = -1.5", "not negative"),
        ("value = 1.5", 'value = "much"', "float"),
        ("value = 1.5", "values = 1.5", "no such key"),
        ('name = "fixture"', 'name = "turbulence"', "name of its own"),
        ("format = 1", "format = 2", "format 2"),
        ('distribution = "rectangular"', 'distribution = "square"', "rectangular, triangular"),
    ],
)
def test_a_mistake_in_the_file_is_named(line: str, instead: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "wrong.toml"
    path.write_text(ready_budget_text("beam").replace(line, instead, 1), encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_budget(path)
    assert said in str(caught.value)
    assert "wrong.toml" in str(caught.value)


def test_an_unknown_method_names_those_there_are() -> None:
    with pytest.raises(BadInput, match="beam, level, autocollimator, straightedge"):
        ready_budget("guess")


def test_the_schema_knows_every_field() -> None:
    text = json.dumps(budget_schema())
    for record in (Budget, Contribution, Correlated, BedShapes):
        for field in dataclasses.fields(record):
            assert f'"{field.name}"' in text


def test_the_published_schema_is_the_one_files_are_read_with() -> None:
    published = Path(__file__).resolve().parents[2] / "docs" / "reference" / "budget-file.schema.json"
    assert json.loads(published.read_text(encoding="utf-8")) == json.loads(json.dumps(budget_schema()))


@pytest.mark.parametrize("method", METHODS)
def test_ready_budgets_keep_the_published_schema(method: str) -> None:
    import tomllib

    import jsonschema

    jsonschema.validate(tomllib.loads(ready_budget_text(method)), budget_schema())


def test_the_page_names_every_way_to_act() -> None:
    page = Path(__file__).resolve().parents[2] / "docs" / "reference" / "budget-file.md"
    text = page.read_text(encoding="utf-8")
    assert [acts for acts in Acts if f"| `{acts}` |" not in text] == []


def test_a_ready_budget_is_printed_to_copy(capsys: pytest.CaptureFixture[str]) -> None:
    from waywright.cli import main

    assert main(["budget", "level"]) == 0
    assert capsys.readouterr().out == ready_budget_text("level")
    assert main(["budget", "--schema"]) == 0
    assert json.loads(capsys.readouterr().out) == json.loads(json.dumps(budget_schema()))
