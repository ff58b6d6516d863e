"""``waywright guard``: can this set-up be trusted today?"""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from cyclopts import App

from waywright.cli.guard_more import COMMANDS, ArchiveFile, By, Json, KeepAt, Pair

commands = App(name="guard", help="Can this set-up be trusted today?")
for name, command in COMMANDS.items():
    commands.command(command, name=name)

Way = Literal["up", "down", "towards-operator", "away-from-operator"]


@commands.command
def direction(
    *,
    shim_um: float,
    up_before: Pair,
    up_after: Pair,
    shim_tolerance_um: float = 5.0,
    side_um: float | None = None,
    side_before: Pair | None = None,
    side_after: Pair | None = None,
    side_tolerance_um: float = 5.0,
    error_um: float = 0.5,
    feet_mm: float | None = None,
    centre_mm: float | None = None,
    first: Way = "up",
    second: Way = "towards-operator",
    keep: KeepAt = None,
    archive: ArchiveFile = None,
    by: By = None,
    json: Json = False,
) -> None:
    """Direction test: a known shim under the detector, and a known move towards the operator.

    Parameters
    ----------
    shim_um
        Thickness of the shim under all feet of the detector.
    up_before
        Both channels before, first and second, in um.
    up_after
        Both channels with the shim.
    shim_tolerance_um
        How far off the shim may be, either way.
    side_um
        How far the detector was moved towards the operator, against a stop.
    side_before
        Both channels before that move.
    side_after
        Both channels after it.
    side_tolerance_um
        How far off that move may be, either way.
    error_um
        Standard error of an averaged reading.
    feet_mm
        Distance of the detector's feet across the beam.
    centre_mm
        Height of the detector's centre above its feet.
    first
        Where the first channel counts, as described.
    second
        Where the second channel counts, as described.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.guard import KnownMove, Seen
    from waywright.jobs import guard as verbs
    from waywright.quantities import Direction

    def seen(pair: Pair) -> Seen:
        return Seen(*pair, error_um)

    moves = [
        KnownMove(Direction.UP, shim_um, shim_tolerance_um, seen(up_before), seen(up_after), feet_mm=feet_mm,
                  centre_mm=centre_mm)
    ]  # fmt: skip
    if side_um is not None and side_before is not None and side_after is not None:
        moves.append(KnownMove(Direction.TOWARDS, side_um, side_tolerance_um, seen(side_before), seen(side_after)))
    where = guard_view.where(keep, archive, by)
    found = verbs.direction(moves, (Direction(first), Direction(second)), where)
    guard_view.show_direction(found, json)


@commands.command
def align(
    file: Path,
    *,
    tolerance_um: float,
    range_um: Pair = (-2500.0, 2500.0),
    smallest_um: float | None = None,
    error_um: float = 0.5,
    linearity: Path | None = None,
    shift_um_per_turn: float | None = None,
    tilt_um_per_m_per_turn: float | None = None,
    slack_turns: float = 0.0,
    keep: KeepAt = None,
    archive: ArchiveFile = None,
    by: By = None,
    json: Json = False,
) -> None:
    """Alignment of the beam: how far to shift and tilt the source, and what remains.

    Parameters
    ----------
    file
        Table `distance_m,height_um,side_um`: readings near the source and far from it.
    tolerance_um
        The tolerance of the line.
    range_um
        Range of the detector, lowest and highest reading.
    smallest_um
        The smallest deviation sought; without it a tenth of the tolerance.
    error_um
        Standard error of an averaged reading.
    linearity
        Table `reading_um,error_um` from the detector's certificate.
    shift_um_per_turn
        What a turn of the source's shift screw moves it, clockwise.
    tilt_um_per_m_per_turn
        What a turn of its tilt screw tilts it, clockwise.
    slack_turns
        Slack of the screws in turns.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.guard import Adjuster
    from waywright.jobs import guard as verbs

    found = verbs.align(
        file,
        range_um,
        tolerance_um,
        smallest_um=smallest_um,
        error_um=error_um,
        linearity=linearity,
        adjuster=Adjuster(shift_um_per_turn, tilt_um_per_m_per_turn, slack_turns),
        where=guard_view.where(keep, archive, by),
    )
    guard_view.show_alignment(found, json)


@commands.command
def steadiness(
    near: Path,
    far: Path,
    *,
    near_m: float,
    far_m: float,
    tolerance_um: float,
    wished_um: float,
    pass_min: float,
    keep: KeepAt = None,
    archive: ArchiveFile = None,
    by: By = None,
    json: Json = False,
) -> None:
    """Steadiness from two recordings at standstill: use, repeat, or not today.

    Parameters
    ----------
    near
        Table `time_s,height_um,...`, recorded near the source; empty cells where the beam was lost.
    far
        The same, recorded far from the source.
    near_m
        Distance of the near place from the source.
    far_m
        Distance of the far place.
    tolerance_um
        The tolerance of the line.
    wished_um
        The scatter (standard deviation) that an averaged reading may have.
    pass_min
        How long a pass is meant to take.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard as verbs

    found = verbs.steady(
        (near, near_m),
        (far, far_m),
        tolerance_um=tolerance_um,
        wished_um=wished_um,
        pass_s=60.0 * pass_min,
        where=guard_view.where(keep, archive, by),
    )
    guard_view.show_steadiness(found, json)
