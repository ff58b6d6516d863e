"""Which way of computing results this program has."""

from __future__ import annotations

ALGORITHM_VERSION = "1"
"""Goes up whenever the same readings would give another figure; the changelog says by how much it moves."""
