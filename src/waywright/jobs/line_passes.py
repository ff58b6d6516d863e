"""The passes of a kept line compared with each other."""

from __future__ import annotations

from dataclasses import replace

from waywright.jobs.measured import MeasuredLine, positive_on_screen, traverses
from waywright.jobs.passes_compared import PassesResult, compared


def passes_of_line(measured: MeasuredLine, quantity: str) -> PassesResult:
    """The passes of the newest segment of a line, positive as the screen says."""
    newest = max(single.setup.segment for single in measured.passes)
    taken = [traverse for segment, traverse in traverses(measured, quantity) if segment == newest]
    return replace(compared(quantity, taken), positive=positive_on_screen(measured, quantity).value)
