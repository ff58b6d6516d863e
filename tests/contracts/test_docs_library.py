"""Every public name of the library stands on its reference page with all its parameters and plain defaults."""

import inspect
import re
from pathlib import Path

import pytest

import waywright

PAGE = Path(__file__).resolve().parents[2] / "docs" / "reference" / "library.md"
SECTIONS = dict(re.findall(r"^### (\w+)\n((?:(?!^##).*\n?)*)", PAGE.read_text(encoding="utf-8"), re.MULTILINE))


def test_page_has_the_public_names_and_no_others() -> None:
    assert sorted(SECTIONS) == sorted(waywright.__all__)


@pytest.mark.parametrize("name", waywright.__all__)
def test_signature_on_the_page_is_the_real_one(name: str) -> None:
    written = re.search(rf"`{name}\((.*?)\)`", SECTIONS[name], re.DOTALL)
    assert written is not None
    shown = " ".join(written[1].split())
    real = inspect.signature(getattr(waywright, name)).parameters.values()
    assert re.findall(r"(?:^|, )([a-z_]\w*)", re.sub(r"\(.*?\)", "", shown)) == [parameter.name for parameter in real]
    for parameter in real:
        if type(parameter.default) in (int, float, bool, type(None)):
            assert f"{parameter.name}={parameter.default}" in shown
