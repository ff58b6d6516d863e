"""``waywright evaluate`` as a test asks it: what is stated, out of its JSON."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from waywright.cli import main


def stated(capsys: pytest.CaptureFixture[str], kind: str, *arguments: str) -> list[dict[str, Any]]:
    """The stated values of an evaluation that succeeds."""
    status = main(["evaluate", kind, *arguments, "--json"])
    said = capsys.readouterr()
    assert status == 0, said.err
    found: list[dict[str, Any]] = msgspec.json.decode(said.out)["stated"]
    return found
