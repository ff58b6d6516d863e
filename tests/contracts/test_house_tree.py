"""What may stand in the tree: sizes, addresses, lock files."""

from __future__ import annotations

import ast
import re
import statistics
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

LONGEST_FILE, LONGEST_BODY, USUAL_BODY = 300, 60, 8

# Written with brackets so that this file does not find itself.
REGISTRIES = re.compile(r"p[y]pi|pythonh[o]sted|n[p]mjs|registry\.n[p]m|deb\.d[e]bian|d[e]bian\.org", re.IGNORECASE)
REGISTRY_LINKS = re.compile(r"https?://[^ ]*(p[y]pi|pythonh[o]sted|n[p]mjs|d[e]bian)", re.IGNORECASE)
MACHINE_PATHS = re.compile(r"/[w]ork/|/[r]oot/|/[t]mp/[a-z]|/[h]ome/[a-z]|[C]:\\\\?Users")
ADDRESSED_LOCKS = {"uv.lock", "pylock.toml", "package-lock.json", "poetry.lock", "Pipfile.lock", "yarn.lock"}


def tracked(project: Path) -> list[Path]:
    """The files under version control (all files of an unpacked archive)."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=project, capture_output=True, text=True, check=False)
    if listed.returncode:
        return [path for path in project.rglob("*") if path.is_file() and ".venv" not in path.parts]
    return [project / name for name in listed.stdout.split("\0") if name and (project / name).is_file()]


def texts(project: Path) -> Iterator[tuple[str, str]]:
    """Name and text of every tracked text file."""
    for path in tracked(project):
        content = path.read_bytes()
        if b"\0" not in content:
            yield path.relative_to(project).as_posix(), content.decode("utf-8", errors="replace")


def lines_with(project: Path, pattern: re.Pattern[str], markdown: bool) -> list[str]:
    """file:line of every match, in Markdown files or in all others."""
    return [
        f"{name}:{number}: {line.strip()[:120]}"
        for name, text in texts(project)
        if name.endswith(".md") == markdown
        for number, line in enumerate(text.splitlines(), start=1)
        if pattern.search(line)
    ]


def test_no_registry_is_named(project: Path) -> None:
    assert lines_with(project, REGISTRIES, markdown=False) == []
    assert lines_with(project, REGISTRY_LINKS, markdown=True) == []


def test_no_path_of_one_machine(project: Path) -> None:
    assert lines_with(project, MACHINE_PATHS, markdown=False) + lines_with(project, MACHINE_PATHS, markdown=True) == []


@pytest.mark.parametrize("line", ["see https://p" + "ypi.org/simple", "PYTHONH" + "OSTED.org"])
def test_the_search_finds_a_registry(line: str) -> None:
    assert REGISTRIES.search(line)


def test_no_lock_file_that_carries_addresses(project: Path) -> None:
    assert [path.name for path in tracked(project) if path.name in ADDRESSED_LOCKS] == []


def test_lock_files_hold_names_and_hashes_only(project: Path) -> None:
    locks = sorted(project.glob("requirements*.lock"))
    assert {path.name for path in locks} >= {
        "requirements.lock",
        "requirements-dev.lock",
        "requirements-opcua.lock",
        "requirements-uv.lock",
    }
    fine = re.compile(r"[a-z0-9-]+==[^ ]+( ; [^\\]+)? \\|    --hash=sha256:[0-9a-f]{64}( \\)?|    # .*")
    for path in locks:
        for line in path.read_text().splitlines():
            assert fine.fullmatch(line), f"{path.name}: {line}"
            assert "://" not in line


def test_the_lists_agree_with_each_other(project: Path) -> None:
    # Versions only: a library may be wanted on more platforms with the development tools than without.
    pins = {
        path.name: {pin.partition(" ;")[0] for pin in pins_of(path.read_text())}
        for path in project.glob("requirements*.lock")
    }
    everything = pins["requirements-dev.lock"]
    assert pins["requirements.lock"] <= pins["requirements-opcua.lock"] <= everything
    assert {pin for pin in everything if pin.startswith("uv==")} <= pins["requirements-uv.lock"]


def pins_of(lock: str) -> list[str]:
    """name==version ; marker of every entry."""
    return re.findall(r"^[a-z0-9][^\\\n]*==[^\\\n]*(?= \\$)", lock, re.MULTILINE)


def test_every_declared_library_is_locked(project: Path) -> None:
    import tomllib

    declared = tomllib.loads((project / "pyproject.toml").read_text())
    lists = {
        "requirements.lock": declared["project"]["dependencies"],
        "requirements-dev.lock": declared["dependency-groups"]["dev"],
    }
    for extra, names in declared["project"]["optional-dependencies"].items():
        lists[f"requirements-{extra}.lock"] = names
    for lock, names in lists.items():
        locked = {pin.partition("==")[0] for pin in pins_of((project / lock).read_text())}
        wanted = {re.split(r"[<>=!~;\[ ]", name)[0].lower().replace("_", "-") for name in names}
        assert wanted <= locked, f"{lock} lacks {sorted(wanted - locked)}: run x.py lock"


def test_files_stay_small(project: Path) -> None:
    long = {}
    for path in (project / "src").rglob("*.py"):
        lines = len(path.read_text(encoding="utf-8").splitlines())
        if lines > LONGEST_FILE:
            long[path.relative_to(project).as_posix()] = lines
    assert long == {}


def test_functions_stay_small(project: Path) -> None:
    bodies = {}
    for path in (project / "src").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                bodies[f"{path.relative_to(project).as_posix()}:{node.name}"] = body_lines(node)
    assert {name: lines for name, lines in bodies.items() if lines > LONGEST_BODY} == {}
    assert statistics.median(bodies.values()) <= USUAL_BODY


def body_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function without its heading and docstring."""
    body = node.body[1:] if ast.get_docstring(node) is not None else node.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0
