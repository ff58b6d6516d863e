"""The stages of levelling for a machine file."""

from __future__ import annotations

from pathlib import Path

from waywright.correct import Found, Stage, stages
from waywright.errors import BadInput
from waywright.files.machine_file import read_machine


def stages_of(machine_file: Path, found: Found) -> tuple[Stage, ...]:
    """All stages that concern a machine's bed. Raises BadInput for a machine without supports."""
    machine = read_machine(machine_file)
    if machine.bed is None or not machine.bed.supports:
        raise BadInput("jobs.no_supports", machine=machine.name)
    return stages(machine.bed, found)
