"""What a skin asks the verbs to do."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class CaptureOrder:
    """Passes to be taken; see the options of ``waywright capture``."""

    instruments: tuple[Path, ...]
    archive: Path | None = None
    set_up: Path | None = None
    machine: Path | None = None
    visit: str | None = None
    line: str | None = None
    axis: str = "X"
    up: str = "+Z"
    operator: str = "-Y"
    from_mm: float | None = None
    to_mm: float | None = None
    passes: tuple[str, ...] = ("forward",)
    averaging_s: float | None = None
    dwell_s: float = 1.5
    smallest_step_mm: float = 20.0
    technician: str | None = None
    continue_pass: bool = False
    factor: float = 1.0
