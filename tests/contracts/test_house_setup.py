"""``x.py`` on a fresh machine: every obstacle is one sentence, nothing half done survives, the second run is quick.

A small invented project with hand-made wheels stands in for the real one; no network is used.
"""

from __future__ import annotations

import ast
import hashlib
import importlib.util
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import zipfile
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]
UV = Path(sys.executable).with_name("uv")

PROJECT = """
[build-system]
requires = ["uv_build>=0.9,<1"]
build-backend = "uv_build"
[project]
name = "waywright"
version = "0"
[project.scripts]
waywright = "waywright:main"
"""
MAIN = """
def main():
    import importlib.util, sys
    parts = [name for name in ("plumb", "spirit") if importlib.util.find_spec(name)]
    print("ran", *sys.argv[1:], "with", *parts)
"""

pytestmark = pytest.mark.skipif(os.name == "nt", reason="the stand-in for uv is a shell script")


@pytest.fixture(scope="module")
def x() -> ModuleType:
    """x.py as a module."""
    spec = importlib.util.spec_from_file_location("x_py", ROOT / "x.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def wheel(folder: Path, name: str, files: dict[str, str], executable: str = "") -> str:
    """A wheel made by hand; its line in a lock file."""
    path = folder / f"{name}-1-py3-none-any.whl"
    info = f"{name}-1.dist-info"
    files = files | {
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: 1\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nGenerator: hand\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    files[f"{info}/RECORD"] = "".join(f"{file},,\n" for file in [*files, f"{info}/RECORD"])
    with zipfile.ZipFile(path, "w") as archive:
        for file, text in files.items():
            entry = zipfile.ZipInfo(file)
            entry.external_attr = (0o100755 if file == executable else 0o100644) << 16
            archive.writestr(entry, text)
    return f"{name}==1 \\\n    --hash=sha256:{hashlib.sha256(path.read_bytes()).hexdigest()}\n"


class Bench:
    """A folder as ``x.py bundle`` leaves it, holding the invented project."""

    def __init__(self, folder: Path, x: ModuleType) -> None:
        self.folder = folder
        self.stamp = Path(str(folder) + x.STAMP.removeprefix(x.HERE))
        self.unfinished = Path(str(folder) + x.UNFINISHED.removeprefix(x.HERE))
        (folder / "wheels").mkdir(parents=True)
        (folder / "src" / "waywright").mkdir(parents=True)
        (folder / "src" / "waywright" / "__init__.py").write_text(MAIN)
        (folder / "pyproject.toml").write_text(PROJECT)
        (folder / "bundle.json").write_text(json.dumps(x.this_computer()))
        shutil.copy(ROOT / "x.py", folder)
        script = f'#!/bin/sh\nif [ -e "{folder}/slow" ]; then sleep 30; fi\nexec "{UV}" "$@"\n'
        self.lock("uv", "uv", {"uv-1.data/scripts/uv": script}, "uv-1.data/scripts/uv")
        self.lock("", "plumb", {"plumb.py": "true = 1\n"})
        self.lock("level", "spirit", {"spirit.py": "bubble = 1\n"})

    def lock(self, part: str, name: str, files: dict[str, str], executable: str = "") -> None:
        """A wheel and the lock file that lists it."""
        line = wheel(self.folder / "wheels", name, files, executable)
        (self.folder / f"requirements{'-' * bool(part)}{part}.lock").write_text(line)

    def environment(self, **settings: str) -> dict[str, str]:
        """uv on PATH, an empty home, a proxy behind which nobody answers."""
        with socket.socket() as closed:
            closed.bind(("127.0.0.1", 0))
            proxy = f"http://127.0.0.1:{closed.getsockname()[1]}"
        own = {"HTTPS_PROXY": proxy, "HTTP_PROXY": proxy, "ALL_PROXY": proxy, "HOME": str(self.folder.parent)}
        own |= {"PATH": f"{UV.parent}{os.pathsep}/usr/bin{os.pathsep}/bin", "NO_PROXY": "", "UV_HTTP_RETRIES": "0"}
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("PIP_", "UV_", "PYTHON"))}
        return kept | own | settings

    def start(self, *words: str, **settings: str) -> subprocess.Popen[str]:
        """x.py in a process of its own."""
        command = [sys.executable, str(self.folder / "x.py"), *words]
        return subprocess.Popen(
            command, env=self.environment(**settings), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )

    def run(self, *words: str, **settings: str) -> tuple[int, str, str]:
        """Exit code, output, and what was said on stderr."""
        process = self.start(*words, **settings)
        out, said = process.communicate(timeout=120)
        return process.returncode, out, said

    def refused(self, *words: str, **settings: str) -> str:
        """The one sentence of a run that fails."""
        code, out, said = self.run(*words, **settings)
        assert (code, out) == (1, ""), said
        assert "Traceback" not in said
        *progress, sentence = said.splitlines()
        assert all(line.endswith("...") for line in progress), said
        assert sentence.endswith(".")
        return sentence


@pytest.fixture
def bench(tmp_path: Path, x: ModuleType) -> Bench:
    """An invented project, not set up yet."""
    return Bench(tmp_path / "bench", x)


# ---------------------------------------------------------------------------------------- one sentence each


def test_old_pythons_can_read_the_file() -> None:
    program = (ROOT / "x.py").read_text(encoding="utf-8")
    tree = ast.parse(program, feature_version=(3, 6))
    at_import = {alias.name for node in tree.body if isinstance(node, ast.Import) for alias in node.names}
    assert at_import == {"os", "sys"}
    assert not any(isinstance(node, ast.ImportFrom) for node in tree.body)


def test_annotations_wait_for_nobody() -> None:
    """``list[str]`` and ``str | None`` fail in Python 3.8 when a function is defined, unless quoted."""
    for node in ast.walk(ast.parse((ROOT / "x.py").read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            for annotation in [node.returns, *(argument.annotation for argument in node.args.args)]:
                assert annotation is None or isinstance(annotation, ast.Name | ast.Constant), node.name


@pytest.mark.parametrize("version", [(3, 6), (3, 10)])
def test_too_old_a_python(x: ModuleType, version: tuple[int, int]) -> None:
    with pytest.raises(x.Stop, match=r"Waywright needs Python 3\.11 .* this is Python 3\.(6|10): install a newer one"):
        x.check_python(version)


@pytest.mark.parametrize("version", [(3, 99), (4, 0)])
def test_too_new_a_python(x: ModuleType, version: tuple[int, int]) -> None:
    with pytest.raises(x.Stop, match=r"newer than the libraries locked here know \(Python 3\.11 to 3\.\d+\): install"):
        x.check_python(version)


def test_the_oldest_and_the_newest_are_welcome(x: ModuleType) -> None:
    x.check_python(x.OLDEST)
    x.check_python(x.NEWEST)
    pyproject = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    assert 'requires-python = ">={}.{}"'.format(*x.OLDEST) in pyproject


@pytest.mark.parametrize(
    ("version", "words"), [((3, 9), "install a newer one"), ((3, 99), "newer than the libraries locked here know")]
)
def test_the_wrong_python_ends_the_program(
    x: ModuleType,
    version: tuple[int, int],
    words: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(x.sys, "version_info", (*version, 0))
    assert x.main(["demo"]) == 1
    said = capsys.readouterr()
    assert words in said.err
    assert said.err.count("\n") == 1
    assert said.out == ""


@pytest.mark.parametrize("part", ["ensurepip", "venv"])
def test_a_python_without_its_venv_part(bench: Bench, tmp_path: Path, part: str) -> None:
    shadow = tmp_path / "shadow"
    (shadow / part).mkdir(parents=True)
    (shadow / part / "__init__.py").write_text(f"raise ModuleNotFoundError({part!r})")
    sentence = bench.refused("run", PYTHONPATH=str(shadow), PATH="/usr/bin:/bin")
    assert f"`sudo apt install python3.{sys.version_info[1]}-venv`" in sentence
    assert not bench.stamp.exists()


@pytest.mark.parametrize("path", ["/usr/bin:/bin", None], ids=["pip", "uv"])
def test_no_network_at_the_first_set_up(bench: Bench, path: str | None) -> None:
    shutil.rmtree(bench.folder / "wheels")
    sentence = bench.refused("run", **({"PATH": path, "PIP_RETRIES": "0"} if path else {}))
    assert sentence.startswith("No network:")
    assert "`python3 x.py bundle`" in sentence
    assert not bench.stamp.exists()


@pytest.mark.parametrize(("file", "path"), [("uv", "/usr/bin:/bin"), ("uv", None), ("plumb", None)])
def test_a_falsified_wheel(bench: Bench, file: str, path: str | None) -> None:
    target = bench.folder / "wheels" / f"{file}-1-py3-none-any.whl"
    honest = target.read_bytes()
    with zipfile.ZipFile(target, "a") as archive:
        archive.writestr("plumb_evil.py", "steal()")
    sentence = bench.refused("run", **({"PATH": path} if path else {}))
    assert "does not match its fingerprint" in sentence
    assert not list(bench.folder.rglob("plumb_evil.py"))
    target.write_bytes(honest)
    assert bench.run("run", "on")[:2] == (0, "ran on with plumb\n")


def test_a_bundle_for_another_computer(bench: Bench) -> None:
    (bench.folder / "bundle.json").write_text('{"python": "3.7", "platform": "abacus"}')
    assert "Python 3.7 on abacus, and this is Python 3." in bench.refused("run")


def test_an_unfinished_bundle(bench: Bench) -> None:
    (bench.folder / "bundle.json").unlink()
    assert "make it again with `x.py bundle`" in bench.refused("run")


def test_a_bundle_has_no_test_tools(bench: Bench) -> None:
    assert "holds no tools for testing" in bench.refused("test")


def test_bad_use_is_told(bench: Bench) -> None:
    assert bench.run("dance")[0] == 2
    assert bench.run("add", "wings")[0] == 2
    assert "level" in bench.run("add", "wings")[2]
    code, out, _ = bench.run()
    assert code == 0
    assert "x.py demo" in out


def test_a_folder_that_cannot_be_written(bench: Bench) -> None:
    (bench.folder / ".venv").write_text("in the way")
    assert "could not be read or written" in bench.refused("run")


# ---------------------------------------------------------------------------- set up once, and for good


def test_pip_alone_is_enough_and_the_second_run_starts_at_once(bench: Bench) -> None:
    code, out, said = bench.run("run", "a", "b", PATH="/usr/bin:/bin", PYTHONDONTWRITEBYTECODE="1")
    assert (code, out) == (0, "ran a b with plumb\n"), said
    assert "Setting Waywright up" in said
    assert list(bench.folder.glob(".venv/lib/*/site-packages/__pycache__/plumb.*.pyc"))
    assert list(bench.folder.glob("src/waywright/__pycache__/*.pyc"))
    made = bench.stamp.stat().st_mtime_ns
    shutil.rmtree(bench.folder / "wheels")
    assert bench.run("demo", "c", PATH="/usr/bin:/bin") == (0, "ran demo c with plumb\n", "")
    assert bench.stamp.stat().st_mtime_ns == made


def test_an_added_part_stays_when_the_lists_change(bench: Bench) -> None:
    assert bench.run("add", "level")[0] == 0
    assert bench.run("run") == (0, "ran with plumb spirit\n", "")
    with (bench.folder / "pyproject.toml").open("a") as file:
        file.write("# changed\n")
    code, out, said = bench.run("run")
    assert (code, out) == (0, "ran with plumb spirit\n")
    assert "Setting Waywright up" in said
    assert bench.run("run") == (0, "ran with plumb spirit\n", "")


def test_a_changed_list_without_network_leaves_the_former_set_up_usable(bench: Bench) -> None:
    assert bench.run("run")[0] == 0
    wanted = bench.folder / "requirements.lock"
    former = wanted.read_text()
    wanted.write_text(former + "plinth==2 \\\n    --hash=sha256:" + "0" * 64 + "\n")
    shutil.move(bench.folder / "wheels", bench.folder / "away")
    assert bench.refused("run").startswith("No network:")
    wanted.write_text(former)
    assert bench.run("run", "still") == (0, "ran still with plumb\n", "")


def test_a_killed_set_up_is_begun_anew(bench: Bench) -> None:
    assert bench.run("add", "level")[0] == 0
    with (bench.folder / "pyproject.toml").open("a") as file:
        file.write("# changed\n")
    (bench.folder / "slow").touch()
    process = bench.start("run")
    deadline = time.monotonic() + 60
    while not bench.unfinished.exists():
        assert time.monotonic() < deadline
        time.sleep(0.01)
    children = children_of(process.pid)
    process.kill()
    process.communicate()
    for child in children:
        os.kill(child, signal.SIGKILL)
    assert not bench.stamp.exists()
    (bench.folder / "slow").unlink()
    for plumb in bench.folder.glob(".venv/lib/*/site-packages/plumb.py"):
        plumb.unlink()
    code, out, said = bench.run("run")
    assert (code, out) == (0, "ran with plumb spirit\n"), said
    assert bench.stamp.exists()
    assert not bench.unfinished.exists()


def children_of(pid: int) -> list[int]:
    """The processes that a process has started and that still run."""
    listed = Path(f"/proc/{pid}/task/{pid}/children")
    return [int(child) for child in listed.read_text().split()] if listed.exists() else []


def test_two_at_once_set_up_once(bench: Bench) -> None:
    runs = [bench.start("run", "first"), bench.start("run", "second")]
    told = [process.communicate(timeout=120) for process in runs]
    assert [process.returncode for process in runs] == [0, 0], told
    assert [out for out, _ in told] == ["ran first with plumb\n", "ran second with plumb\n"]
    assert sum("Setting Waywright up" in said for _, said in told) == 1


def test_a_moved_folder_is_set_up_again(bench: Bench, tmp_path: Path, x: ModuleType) -> None:
    assert bench.run("run")[0] == 0
    elsewhere = tmp_path / "elsewhere"
    shutil.move(bench.folder, elsewhere)
    bench.folder = elsewhere
    code, out, said = bench.run("run", "here")
    assert (code, out) == (0, "ran here with plumb\n"), said
    assert "Setting Waywright up" in said


def test_bundle_refuses_a_folder_with_other_files(bench: Bench, tmp_path: Path) -> None:
    keep = tmp_path / "photos"
    keep.mkdir()
    (keep / "holiday.jpg").write_text("sun")
    assert "holds other files" in bench.refused("bundle", str(keep))
    assert (keep / "holiday.jpg").exists()
