"""Options that the commands of ``waywright guard`` share."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

Pair = tuple[float, float]
Flag = Annotated[bool, Parameter(negative="")]
Line = Annotated[str | None, Parameter(help="Name or id of the line; without it the newest.")]
Known = Annotated[str | None, Parameter(name="--line", help="Take what is not said from this kept line.")]
Tolerance = Annotated[float | None, Parameter(help="The tolerance of the line.")]
ReadingError = Annotated[float, Parameter(help="Standard error of an averaged reading.")]
Archive = Annotated[
    Path | None, Parameter(name=["--archive", "-a"], help="The archive; without it the one in your user data folder.")
]
By = Annotated[str | None, Parameter(help="Who tested.")]
Json = Annotated[bool, Parameter(negative="", help="Print JSON.")]


@Parameter(name="*")
@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Where a test is kept, by whom, and how it answers."""

    keep: Annotated[str | None, Parameter(help="Keep the test at the newest set-up of this line.")] = None
    archive: Archive = None
    by: By = None
    json: Json = False


@Parameter(name="*")
@dataclass(frozen=True, slots=True, kw_only=True)
class AtLine:
    """Which archive is asked, and how it answers."""

    archive: Archive = None
    json: Json = False


@Parameter(name="*")
@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """Whether a gate is kept at the line, by whom, and how it answers."""

    keep: Annotated[bool, Parameter(negative="", help="Keep the answer as evidence.")] = False
    archive: Archive = None
    by: By = None
    json: Json = False


@Parameter(name="*")
@dataclass(frozen=True, slots=True, kw_only=True)
class Steer:
    """What is steered, and how far."""

    steer: Annotated[
        Path | None,
        Parameter(help="Description file of a source that can tilt its beam: steer it in a closed loop, no table."),
    ] = None
    detector: Annotated[Path | None, Parameter(help="The detector's description file, with --steer.")] = None
    near_m: Annotated[float | None, Parameter(help="Distance of the near place from the source, with --steer.")] = None
    far_m: Annotated[float | None, Parameter(help="Distance of the far place, with --steer.")] = None
    goal_um: Annotated[float, Parameter(help="How near far and near shall come, with --steer.")] = 10.0
    step_um_per_m: Annotated[float | None, Parameter(help="Largest step; else that of the description.")] = None
    timeout_s: Annotated[float, Parameter(help="The steering stops after this time.")] = 180.0
    factor: Annotated[float, Parameter(help="Pace of the clock; 1 except with a simulated workshop.")] = 1.0


SHOWN = Kept()
ASKED = AtLine()
JUDGED = Gate()
BY_TABLE = Steer()
