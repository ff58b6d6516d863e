"""Words are executed too: every block of README, CONTRIBUTING and docs runs and prints what it says."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from house_blocks import blocks_of, compare, run_page

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").rglob("*.md"))]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_page_does_what_it_says(page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    run_page(page.read_text(encoding="utf-8"), tmp_path)


def test_readme_shows_the_two_commands_and_a_result() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 x.py demo" in readme
    assert "python3 x.py test" in readme
    languages = [block.language for block in blocks_of(readme)]
    assert "python" in languages


def test_documentation_builds_and_asks_no_other_computer(project: Path, tmp_path: Path) -> None:
    build = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", str(tmp_path)]
    done = subprocess.run(build, cwd=project, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    pages = list(tmp_path.rglob("*.html"))
    assert pages
    fetched = re.compile(
        r'<(?:script|img|iframe)[^>]* src="(https?:)?//|<link[^>]* rel="(?:stylesheet|preconnect)"[^>]*//'
    )
    assert [page.name for page in pages if fetched.search(page.read_text(encoding="utf-8"))] == []


PAGE = """
```csv title="a.csv"
x
```

```python
import pathlib
print(pathlib.Path("a.csv").read_text().strip(), 1)
print("middle")
print("end 0.125 um")
```

```text
x 1
...
end ... um
```
"""


def test_a_true_page_passes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run_page(PAGE, tmp_path) == 3


@pytest.mark.parametrize(
    ("true", "false"),
    [("x 1\n", "x 2\n"), ("end ... um", "end ... mm"), ('print("end', 'prnt("end'), ("```text", "```bash")],
)
def test_a_false_page_fails(true: str, false: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises((AssertionError, NameError)):
        run_page(PAGE.replace(true, false), tmp_path)


def test_a_command_is_run_and_compared(tmp_path: Path) -> None:
    run_page("```console\n$ waywright --version\n0.1...\n```\n", tmp_path)
    with pytest.raises(AssertionError, match="but it prints"):
        run_page("```console\n$ waywright --version\n7.7.7\n```\n", tmp_path)
    with pytest.raises(AssertionError, match="no-such-word"):
        run_page("```console\n$ waywright no-such-word\n```\n", tmp_path)


def test_only_set_up_may_be_left_out(tmp_path: Path) -> None:
    run_page("<!-- not run: it sets up -->\n```console\n$ python3 x.py demo\n```\n", tmp_path)
    with pytest.raises(AssertionError, match="can be run"):
        run_page("<!-- not run: lazy -->\n```console\n$ waywright --version\n```\n", tmp_path)


def test_comparison_takes_every_line_seriously() -> None:
    compare("a\n...\nz\n", "a\nb\nc\nz\n", "here")
    with pytest.raises(AssertionError):
        compare("a\nz\n", "a\nb\nz\n", "here")
