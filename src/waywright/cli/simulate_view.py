"""``waywright simulate`` in the terminal."""

from __future__ import annotations

from pathlib import Path

from waywright.cli.show import console


def run(folder: Path, scenario: Path | None, factor: float) -> None:
    """Serve the workshop until ctrl-c; Enter lets the operator drive."""
    from waywright.simulation import run_simulate

    page = console()
    run_simulate(scenario or "calm-hall", factor, folder, tell=lambda line: page.print(line, soft_wrap=True))
