"""The worked example of a correction in the library reference prints what the page says."""

import contextlib
import io
import re
from pathlib import Path

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "library.md"


def test_the_example_prints_what_the_page_says() -> None:
    section = PAGE.read_text(encoding="utf-8").partition("## Example of a correction")[2]
    found = re.search(r"```python\n(.*?)```\s+```text\n(.*?)```", section, re.DOTALL)
    assert found is not None
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(compile(found[1], str(PAGE), "exec"), {})
    assert printed.getvalue() == found[2]
