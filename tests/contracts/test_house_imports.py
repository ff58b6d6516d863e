"""``import waywright`` and ``waywright --help`` load nothing heavy; the layers point down only."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = ("alembic", "asyncua", "fastapi", "llvmlite", "nicegui", "numba", "numpy", "scipy", "serialx")
HEAVY += ("sqlalchemy", "typst", "xlsxwriter")

IMPORT = "import waywright"
HELP = """
import runpy, sys
sys.argv = ["waywright", *{arguments!r}]
try:
    runpy.run_module("waywright", run_name="__main__", alter_sys=True)
except SystemExit as stop:
    assert not stop.code, stop.code
"""
LOADED = "\nimport json, sys\nprint(json.dumps(sorted({name.partition('.')[0] for name in sys.modules})))"


def loaded_by(program: str) -> tuple[str, set[str]]:
    """What a fresh interpreter prints and has loaded after the program."""
    done = subprocess.run([sys.executable, "-c", program + LOADED], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    printed, _, names = done.stdout.rstrip().rpartition("\n")
    return printed, set(json.loads(names))


def test_importing_the_library_loads_nothing_heavy() -> None:
    _, names = loaded_by(IMPORT)
    assert "waywright" in names
    assert not names & set(HEAVY)


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["evaluate", "--help"], ["archive", "--help"]])
def test_asking_for_help_loads_nothing_heavy(arguments: list[str]) -> None:
    printed, names = loaded_by(HELP.format(arguments=arguments))
    assert printed.strip()
    assert not names & set(HEAVY)


def test_the_watch_sees_a_heavy_library() -> None:
    _, names = loaded_by("import waywright; waywright.straightness")
    assert "numpy" in names


def test_every_name_of_the_library_resolves() -> None:
    done = loaded_by("import waywright\nfor name in waywright.__all__: assert callable(getattr(waywright, name)), name")
    assert "waywright" in done[1]


def test_layers_point_down_only(project: Path) -> None:
    tool = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([tool, "--no-cache"], cwd=project, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "0 broken" in done.stdout
