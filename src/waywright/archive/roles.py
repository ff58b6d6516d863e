"""The set-up script for accounts in a department's archive."""

from __future__ import annotations

from pathlib import Path


def script() -> str:
    """SQL for ``psql``, run once by the owner of the database after the archive was made, and again at any time."""
    return Path(__file__).with_name("roles.sql").read_text(encoding="utf-8")
