"""A lathe that turns taper: how much of it each measured deviation of the machine explains.

The diameter changes by twice what the tool moves towards or away from the axis of the work, and by z^2 / r for a height
z off centre. Signs: the taper is the diameter at the free end (tailstock, or away from the chuck) minus that at the
headstock; sideways towards the tool (the operator's side on a common lathe) is positive, up is positive.

A mandrel read from the carriage sees all of it: the spindle's direction, and what a twisted bed does to the tool above
it. Where the twist was measured too, it takes its part out of that reading; nothing counts twice. Between centres the
tailstock stands on the same bed as the tool, so that only where the centres lie against the carriage matters.
"""

from __future__ import annotations

from dataclasses import dataclass

from waywright.errors import BadInput

CHUCK, CENTRES = "chuck", "centres"


@dataclass(frozen=True, slots=True)
class TaperSeen:
    """What was measured; None is not measured.

    ``taper_um`` over ``cut_mm``, work of ``radius_mm`` held in the "chuck" or between "centres". Slopes and offsets
    of the axis of the work against the carriage, from headstock to tailstock: ``spindle_side_um_per_m`` and
    ``spindle_height_um_per_m``, ``tailstock_side_um`` and ``tailstock_height_um`` over ``between_mm``.
    ``twist_um_per_m`` is the roll of the bed at the end of the cut minus that at the headstock, operator's side up
    positive, for a tool ``tool_height_mm`` above the ways.
    """

    taper_um: float
    cut_mm: float
    held: str
    radius_mm: float = 25.0
    spindle_side_um_per_m: float | None = None
    spindle_height_um_per_m: float | None = None
    tailstock_side_um: float | None = None
    tailstock_height_um: float | None = None
    between_mm: float | None = None
    twist_um_per_m: float | None = None
    tool_height_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause and the taper it makes by itself, um on the diameter; ``share`` of the taper seen, 1 is all of it."""

    name: str
    taper_um: float
    share: float


@dataclass(frozen=True, slots=True)
class TaperCauses:
    """Causes, the one that explains most first; ``left_um`` is what all of them together leave unexplained.

    ``not_measured`` names what could be a cause and was not measured.
    """

    taper_um: float
    causes: tuple[Cause, ...]
    left_um: float
    not_measured: tuple[str, ...]

    @property
    def likely(self) -> Cause | None:
        """The cause that explains at least half of the taper and leaves it no larger; None where none does."""
        return next((cause for cause in self.causes if 0.5 <= cause.share <= 2.0), None)


def taper_causes(seen: TaperSeen) -> TaperCauses:
    """What each measured deviation does to the diameter over the cut. Raises BadInput for an impossible set-up."""
    if seen.held not in (CHUCK, CENTRES):
        raise BadInput("sheet.taper_held", held=seen.held)
    if not (seen.cut_mm > 0.0 and seen.radius_mm > 0.0):
        raise BadInput("geometry.not_above_zero", value=min(seen.cut_mm, seen.radius_mm))
    made = _in_chuck(seen) if seen.held == CHUCK else _between_centres(seen)
    whole = seen.taper_um or 1.0
    causes = [Cause(name, taper, taper / whole) for name, taper in made.items() if taper is not None]
    causes.sort(key=lambda cause: abs(1.0 - cause.share))
    left = seen.taper_um - sum(cause.taper_um for cause in causes)
    return TaperCauses(seen.taper_um, tuple(causes), left, tuple(name for name in made if made[name] is None))


def _in_chuck(seen: TaperSeen) -> dict[str, float | None]:
    """Work in a chuck turns about the spindle's axis: where that goes towards the tool the tool takes more off."""
    cut_m = seen.cut_mm / 1000.0
    side, height, twist = seen.spindle_side_um_per_m, seen.spindle_height_um_per_m, _twist(seen)
    return {
        "spindle-side": None if side is None else -2.0 * side * cut_m - (twist or 0.0),
        "twist": twist,
        "spindle-height": None if height is None else _off_centre(height * cut_m, seen.radius_mm),
    }


def _between_centres(seen: TaperSeen) -> dict[str, float | None]:
    """Between centres the work lies on the line of both centres; the spindle's own direction does not matter."""
    over = seen.cut_mm / seen.between_mm if seen.between_mm else 1.0
    side, height = seen.tailstock_side_um, seen.tailstock_height_um
    return {
        "tailstock-side": None if side is None else -2.0 * side * over,
        "tailstock-height": None if height is None else _off_centre(height * over, seen.radius_mm),
    }


def _off_centre(height_um: float, radius_mm: float) -> float:
    """A tool off centre by z at the end of the cut leaves 2 sqrt(r^2 + z^2) instead of 2 r: z^2 / r more."""
    return height_um**2 / (radius_mm * 1000.0)


def _twist(seen: TaperSeen) -> float | None:
    """Operator's side up tips the tool above the ways away from the operator, towards the work: less diameter."""
    if seen.twist_um_per_m is None or seen.tool_height_mm is None:
        return None
    return -2.0 * seen.twist_um_per_m * seen.tool_height_mm / 1000.0
