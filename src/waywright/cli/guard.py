"""``waywright guard``: can this set-up be trusted today? Direction test, level, alignment."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from cyclopts import App

from waywright.cli import guard_line, guard_more
from waywright.cli.guard_options import BY_TABLE, SHOWN, Kept, Known, Pair, ReadingError, Steer, Tolerance

commands = App(name="guard", help="Can this set-up be trusted today?")
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
    error_um: ReadingError = 0.5,
    feet_mm: float | None = None,
    centre_mm: float | None = None,
    first: Way = "up",
    second: Way = "towards-operator",
    kept: Kept = SHOWN,
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
    feet_mm
        Distance of the detector's feet across the beam.
    centre_mm
        Height of the detector's centre above its feet.
    first
        Where the first channel counts, as described.
    second
        Where the second channel counts, as described.
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
    found = verbs.direction(moves, (Direction(first), Direction(second)), guard_view.where(kept))
    guard_view.show_direction(found, kept.json)


@commands.command
def level(
    *,
    lift_um: float,
    base_mm: float,
    before_um_per_m: float,
    after_um_per_m: float,
    lift_tolerance_um: float = 5.0,
    first_um_per_m: float | None = None,
    turned_um_per_m: float | None = None,
    error_um_per_m: float = 1.0,
    kept: Kept = SHOWN,
) -> None:
    """A level's own zero and sign: turned by 180 degrees on its spot, and tilted by a known shim; both are needed.

    Without the readings of the turn the outcome is not resolved.

    Parameters
    ----------
    lift_um
        Thickness of the shim under the end that is to count positive.
    base_mm
        Distance of the level's feet.
    before_um_per_m
        Reading before the shim.
    after_um_per_m
        Reading with the shim.
    lift_tolerance_um
        How far off the shim may be, either way.
    first_um_per_m
        Reading before the level was turned on its spot.
    turned_um_per_m
        Reading after it was turned by 180 degrees.
    error_um_per_m
        Standard error of a reading.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_level

    turn = None if first_um_per_m is None or turned_um_per_m is None else (first_um_per_m, turned_um_per_m)
    found = guard_level.level(
        (before_um_per_m, after_um_per_m),
        lift_um,
        base_mm,
        turn=turn,
        tolerance_um=lift_tolerance_um,
        error_um_per_m=error_um_per_m,
        where=guard_view.where(kept),
    )
    guard_view.show_level(found, kept.json)


@commands.command
def align(
    file: Path | None = None,
    *,
    line: Known = None,
    tolerance_um: Tolerance = None,
    range_um: Pair = (-2500.0, 2500.0),
    smallest_um: float | None = None,
    error_um: float | None = None,
    linearity: Path | None = None,
    shift_um_per_turn: float | None = None,
    tilt_um_per_m_per_turn: float | None = None,
    slack_turns: float = 0.0,
    steer: Steer = BY_TABLE,
    kept: Kept = SHOWN,
) -> None:
    """Alignment of the beam: how far to shift and tilt the source, and what remains.

    With --steer a source that can tilt its own beam is steered: read near, read far, small steps watched by the
    detector, read near again. It stops at a lost beam, at the time limit and at Enter, and moves nothing but the tilt.

    Parameters
    ----------
    file
        Table `distance_m,height_um,side_um`: readings near the source and far from it. Without it the newest pass of a
        kept line.
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
    """
    from waywright.cli import guard_view
    from waywright.guard import Adjuster
    from waywright.jobs import guard_asked

    if steer.steer is not None:
        from waywright.cli import guard_steer

        guard_steer.run(steer, tolerance_um, kept)
        return
    found = guard_asked.align(
        file,
        guard_asked.Source(line, kept.archive),
        {
            "range_um": range_um,
            "tolerance_um": tolerance_um,
            "smallest_um": smallest_um,
            "error_um": error_um,
            "adjuster": Adjuster(shift_um_per_turn, tilt_um_per_m_per_turn, slack_turns),
        },
        linearity,
        guard_view.where(kept),
    )
    guard_view.show_alignment(found, kept.json)


for _name, _command in (guard_more.COMMANDS | guard_line.COMMANDS).items():
    commands.command(_command, name=_name)
