"""``python -m bench [name ...]``: all benchmarks, or those named. Each is a file with ``rows()``."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from importlib import import_module

from rich.console import Console
from rich.table import Table

from bench.measure import Row

BENCHES = ("minimum_zone", "noise_profiles", "profile_trials", "surfaces", "commit", "stream", "report")
"""The files that have ``rows()``. Rounds to level a bed take hours and have their own command (levelling.py)."""


def rows(chosen: list[str]) -> Iterator[Row]:
    for name in chosen:
        yield from import_module(f"bench.{name}").rows()


def figure(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    if unit == "s" and value < 0.1:
        return f"{value * 1e3:.3g} ms" if value >= 1e-3 else f"{value * 1e6:.3g} us"
    return f"{value:.4g} {unit}"


def ratio(row: Row) -> str:
    if row.ratio is None:
        return ""
    return f"1/{1.0 / row.ratio:.0f}" if row.ratio < 0.1 else f"{row.ratio:.2f}"


def aim(row: Row) -> str:
    if row.aim is None:
        return ""
    limit = f"1/{1.0 / row.aim:.0f}" if row.aim < 0.1 and row.yardstick is not None else f"{row.aim:.2f}"
    reached = (row.ours if row.ratio is None else row.ratio) <= row.aim
    return f"≤ {limit} {'reached' if reached else 'missed'}"


def main(arguments: list[str]) -> int:
    unknown = set(arguments) - set(BENCHES)
    if unknown:
        print(f"no benchmark {', '.join(sorted(unknown))}; there are: {', '.join(BENCHES)}", file=sys.stderr)
        return 2
    table = Table("what", "here", "against", "there", "ratio", "aim")
    for row in rows(arguments or list(BENCHES)):
        table.add_row(
            row.what, figure(row.ours, row.unit), row.against, figure(row.yardstick, row.unit), ratio(row), aim(row)
        )
    Console(width=None if sys.stdout.isatty() else 150).print(table)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
