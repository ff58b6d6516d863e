"""Every key in the source has an English sentence, every sentence is used, every fact it asks for is given."""

from __future__ import annotations

import ast
import inspect
import re
import string
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import waywright
from waywright import errors

SOURCE = Path(waywright.__file__).parent
CATALOGUES = SOURCE / "wording" / "en"
AREAS = sorted(path.stem for path in CATALOGUES.glob("*.py") if path.stem != "__init__")
SENTENCES: dict[str, str] = {
    key: sentence for area in AREAS for key, sentence in import_module(f"waywright.wording.en.{area}").TEXT.items()
}
NAME = "[a-z0-9_-]+"
BEGINNING = re.compile(rf"({'|'.join(AREAS)})\.")
KEY = re.compile(rf"({'|'.join(AREAS)})(\.{NAME})+")
FILE_ENDINGS = (".csv", ".db", ".json", ".pdf", ".py", ".sqlite", ".svg", ".toml", ".txt", ".typ", ".xlsx")
ERRORS = {name for name, kind in inspect.getmembers(errors, inspect.isclass) if issubclass(kind, errors.WaywrightError)}


def trees() -> Iterator[tuple[str, ast.Module]]:
    """The source without the catalogues themselves."""
    for path in SOURCE.rglob("*.py"):
        if CATALOGUES not in path.parents:
            yield path.relative_to(SOURCE).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def keys_named() -> Iterator[tuple[str, str]]:
    """(place, key) for every literal of the form area.name; file names and beginnings (``area.name_``) are none."""
    for name, tree in trees():
        for node in ast.walk(tree):
            said = node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""
            if KEY.fullmatch(said) and not said.endswith(("_", *FILE_ENDINGS)):
                yield f"{name}:{node.lineno}", said


def keys_built() -> Iterator[re.Pattern[str]]:
    """A pattern for every key put together at run time: ``f"area.{name}"``, or ``"area.some_" + name``."""
    for _, tree in trees():
        for node in ast.walk(tree):
            parts = node.values if isinstance(node, ast.JoinedStr) else []
            if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
                parts = [node.left, node.right]
            if parts and isinstance(parts[0], ast.Constant) and BEGINNING.match(str(parts[0].value)):
                fixed = [re.escape(str(p.value)) if isinstance(p, ast.Constant) else NAME for p in parts]
                yield re.compile("".join(fixed))


def fields_of(sentence: str) -> set[str]:
    """The facts a sentence asks for; a bad format raises here."""
    names = [name for _, name, _, _ in string.Formatter().parse(sentence) if name is not None]
    assert all(names), f"a fact without a name: {sentence}"
    return {re.split(r"[.\[]", name)[0] for name in names}


def calls_with_facts() -> Iterator[tuple[str, str, set[str]]]:
    """(place, key, facts given) where an error is raised, or ``text`` is called, with plain keyword facts."""
    for name, tree in trees():
        for node in ast.walk(tree):
            if not (isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant)):
                continue
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            given = [word.arg for word in node.keywords]
            if called in {*ERRORS, "text"} and None not in given and KEY.fullmatch(str(node.args[0].value)):
                yield f"{name}:{node.lineno}", str(node.args[0].value), {word for word in given if word}


def test_every_key_has_a_sentence() -> None:
    named = list(keys_named())
    assert len(named) > 50
    silent = [f"{place} {key}" for place, key in named if key not in SENTENCES]
    assert not silent, "\n".join(silent)


def test_every_error_key_belongs_to_a_catalogue() -> None:
    """An area without a catalogue would slip through the test above."""
    strays = []
    for name, tree in trees():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
                called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                if called in ERRORS and node.args[0].value not in SENTENCES:
                    strays.append(f"{name}:{node.lineno} {node.args[0].value!r}")
    assert not strays, "\n".join(strays)


def test_every_sentence_is_used() -> None:
    named, built = {key for _, key in keys_named()}, list(keys_built())
    unused = [key for key in SENTENCES if key not in named and not any(p.fullmatch(key) for p in built)]
    assert not unused, "\n".join(unused)


def test_every_fact_of_a_sentence_is_given() -> None:
    calls = list(calls_with_facts())
    assert len(calls) > 50
    lacking = [
        f"{place} {key} lacks {sorted(fields_of(SENTENCES[key]) - given)}"
        for place, key, given in calls
        if key in SENTENCES and fields_of(SENTENCES[key]) - given
    ]
    assert not lacking, "\n".join(lacking)


@pytest.mark.parametrize("area", AREAS)
def test_a_catalogue_holds_its_own_area_only(area: str) -> None:
    for key, sentence in import_module(f"waywright.wording.en.{area}").TEXT.items():
        assert key.startswith(f"{area}."), key
        assert sentence.strip(), key
        fields_of(sentence)


def test_errors_speak_through_the_catalogue() -> None:
    error = errors.BadInput("evaluate.too_few_stations", needed=3, stations=2)
    assert "at least 3 stations; there are 2" in str(error)
