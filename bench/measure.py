"""Rows of the table and how a time is taken."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: our figure, the yardstick's, and the ratio or value aimed at.

    ``ours`` and ``yardstick`` in the same ``unit``; ``yardstick`` is None where there is nothing to compare with.
    ``aim`` is the largest ratio (or, without a yardstick, value) that is good enough; None where none is set.
    """

    what: str
    ours: float
    yardstick: float | None = None
    against: str = ""
    aim: float | None = None
    unit: str = "s"

    @property
    def ratio(self) -> float | None:
        return None if self.yardstick is None else self.ours / self.yardstick


def interleaved_s(*calls: Callable[[], object], rounds: int = 7, repeat: int = 1) -> list[float]:
    """Seconds a call, the best of several rounds; the calls take turns, so that a busy computer meets them alike."""
    best = [float("inf")] * len(calls)
    for _ in range(rounds):
        for k, call in enumerate(calls):
            begin = time.perf_counter()
            for _ in range(repeat):
                call()
            best[k] = min(best[k], (time.perf_counter() - begin) / repeat)
    return best
