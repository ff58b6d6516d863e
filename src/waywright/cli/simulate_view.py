"""``waywright simulate`` in the terminal."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from waywright.cli.show import console
from waywright.wording import text


def run(folder: Path, scenario: Path | None, factor: float, *, optional_links: bool) -> None:
    """Serve the workshop until ctrl-c; Enter lets the operator drive."""
    from waywright.jobs.practise import write_practice_files
    from waywright.simulation import FURTHER, PLAIN, check_further, run_simulate

    further = FURTHER if optional_links else PLAIN
    check_further(further)

    page = console()
    machine, setup = write_practice_files(scenario or "calm-hall", folder)
    names = [folder / f"{name}.toml" for name in ("beam", "distance", "level")]
    facts = {"machine": machine, "setup": setup, "instruments": " ".join(map(str, names)), "factor": factor}
    page.print(text("cli.practise", **facts), soft_wrap=True)
    tell = partial(page.print, soft_wrap=True)
    run_simulate(scenario or "calm-hall", factor, folder, further=further, tell=tell)
