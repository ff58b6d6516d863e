"""Judge joints of a bed: where they lie comes from a person, from the machine file, or from the line itself."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import Joint, joint
from waywright.files import ReadingsTable, read_table
from waywright.files.machine_file import read_machine
from waywright.jobs.bed_seen import stated_zero
from waywright.jobs.judge_lines import profile_of
from waywright.jobs.judge_parts import present_in
from waywright.jobs.line_table import joints_on_line
from waywright.jobs.ties import Profile
from waywright.quantities import code
from waywright.readings import Floats


@dataclass(frozen=True, slots=True, eq=False)
class JointResult:
    """Step and kink at a joint in heights (m,), from stations ``within_mm`` if not from all."""

    code: str
    passes: int
    position_mm: Floats
    height_um: Floats
    result: Joint
    within_mm: float | None = None


def joints_of_table(
    file: Path,
    quantity: str | None = None,
    *,
    at_mm: float | None = None,
    machine: Path | None = None,
    within_mm: float | None = None,
    noise_um: float | None = None,
    bow: bool = True,
) -> tuple[JointResult, ...]:
    """Step and kink at every joint, in the mean of the passes, for one or every straightness of a readings table.

    A joint is at ``at_mm``; without it at the joints of the ``machine`` file, brought to positions of the line by the
    table's remarks (``zero mark`` and so on; without these, positions are bed coordinates); without that where the
    table's remark ``joints`` says. Raises BadInput where none of these tells.
    """
    table = read_table(file)
    places = (at_mm,) if at_mm is not None else _places(table, file, machine)
    straight = [name for name in table.columns if code(name).is_straightness]
    wanted = [present_in(file, quantity)] if quantity is not None else straight
    if not wanted:
        raise BadInput("jobs.no_straightness", file=str(file), columns=", ".join(table.columns))
    return tuple(
        joint_in(profile_of(table, name), at, within_mm=within_mm, noise_um=noise_um, bow=bow)
        for name in wanted
        for at in places
    )


def joint_in(
    seen: Profile, at_mm: float, *, within_mm: float | None = None, noise_um: float | None = None, bow: bool = True
) -> JointResult:
    """One joint in one profile; without a given noise, that of its readings where it is known."""
    known = noise_um if noise_um is not None or seen.variance is None else float(np.sqrt(seen.variance))
    found = joint(seen.position_mm, seen.value, at_mm, within_mm=within_mm, noise_um=known, bow=bow)
    return JointResult(code(seen.code).text, seen.passes, seen.position_mm, seen.value, found, within_mm)


def _places(table: ReadingsTable, file: Path, machine: Path | None) -> tuple[float, ...]:
    low, high = float(table.position_mm.min()), float(table.position_mm.max())
    if machine is None:
        said = table.metadata.get("joints", "")
        found = tuple(float(one) for one in said.split(",") if one.strip())
        key, where = "jobs.no_joint", file
    else:
        known, zero = read_machine(machine), stated_zero(table)
        beds = () if known.bed is None else known.bed.joints
        found = tuple(one.bed_mm for one in beds) if zero is None else joints_on_line(known, zero)
        key, where = "jobs.no_joint_of_machine", machine
    inside = tuple(at for at in found if low < at < high)
    if not inside:
        raise BadInput(key, file=str(where))
    return inside
