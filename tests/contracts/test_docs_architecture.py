"""The page about layers is the truth: the same layers in the same order as the contract that import-linter checks."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SETTINGS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
CONTRACT = SETTINGS["tool"]["importlinter"]["contracts"][0]["layers"]
LAYERS = [re.findall(r"\w+", layer) for layer in CONTRACT]


def test_table_of_layers_is_the_contract() -> None:
    page = (ROOT / "docs" / "explanation" / "architecture.md").read_text(encoding="utf-8")
    table = page.partition("| layer | what it holds |\n|---|---|\n")[2].partition("\n\n")[0]
    shown = [re.findall(r"`(\w+)`", row.split("|")[1]) for row in table.splitlines()]
    assert [["__main__"], *shown] == LAYERS


def test_every_layer_is_there() -> None:
    source = ROOT / "src" / "waywright"
    there = {part.stem for part in source.iterdir() if part.suffix == ".py" or (part / "__init__.py").is_file()}
    assert there - {"__init__"} == {name for layer in LAYERS for name in layer}
