"""The mark of this computer: which computer wrote a record, without saying whose it is."""

from __future__ import annotations

import secrets
from functools import cache
from pathlib import Path

_FILE = "computer"


@cache
def computer_mark() -> str:
    """Twelve letters and digits, chosen at random on the first day and kept in the user's own data.

    Where nothing can be kept the mark holds until the program ends.
    """
    import platformdirs

    return _kept(platformdirs.user_data_path("waywright", appauthor=False) / _FILE)


def _kept(path: Path) -> str:
    try:
        return path.read_text(encoding="ascii").strip() or _made(path)
    except (OSError, UnicodeDecodeError):
        return _made(path)


def _made(path: Path) -> str:
    mark = secrets.token_hex(6)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(mark + "\n", encoding="ascii")
    except OSError:
        return mark
    return mark
