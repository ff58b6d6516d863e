"""Serve a workshop for practice until Ctrl-C: what ``waywright simulate`` does."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TextIO

from waywright import wording
from waywright.simulation.workshop import Workshop


def run_simulate(
    scenario: str | Path,
    factor: float,
    folder: Path,
    *,
    further: Sequence[str] = (),
    drive: bool = False,
    tell: Callable[[str], None] = print,
    keys: TextIO | None = None,
) -> None:
    """Start the workshop, tell where its instruments are, and go on until Ctrl-C.

    Every line of ``keys`` (stdin unless given) lets the operator drive; ``drive`` lets him begin at once. Without
    keys (a service, a closed terminal) it serves all the same. Raises what :meth:`Workshop.start` raises, and
    InstrumentError when the workshop ends by itself.
    """
    with Workshop.start(scenario, factor, folder, further) as workshop:
        _introduce(workshop, folder, tell)
        try:
            if drive:
                _drive(workshop, tell)
            for _ in keys or sys.stdin:
                _drive(workshop, tell)
            workshop.wait()
        except KeyboardInterrupt:
            pass
    tell(wording.text("simulation.stopped"))


def _introduce(workshop: Workshop, folder: Path, tell: Callable[[str], None]) -> None:
    facts = {"title": workshop.scenario.title, "factor": workshop.factor, "folder": str(folder)}
    tell(wording.text("simulation.serving", **facts))
    for name, endpoint in workshop.endpoints.items():
        tell(wording.text("simulation.endpoint", name=name, place=endpoint.place))
    tell(wording.text("simulation.press_enter"))


def _drive(workshop: Workshop, tell: Callable[[str], None]) -> None:
    workshop.drive()
    tell(wording.text("simulation.driving", duration_s=workshop.duration_s))
