"""Where everything of a way drawing stands on the sheet: one scale along the bed, levels from top to bottom."""

from __future__ import annotations

from dataclasses import dataclass

from waywright.drawing.band import Band, fitted_band
from waywright.drawing.lettering import width_of
from waywright.drawing.palette import Palette
from waywright.drawing.scale import round_down
from waywright.drawing.scene import WayScene
from waywright.errors import BadInput
from waywright.machine import Bed, Machine
from waywright.quantities import Direction, screen_direction

SMALL, NORMAL = 11.0, 13.0
CAPTION, STRIP, CARRIAGE, BED_SIDE, BED_ABOVE = 26.0, 96.0, 66.0, 32.0, 92.0
SUPPORT, NAMES, LANE, FOOT = 21.0, 19.0, 48.0, 22.0
MARGIN = 30.0


@dataclass(frozen=True, slots=True)
class Strip:
    """The deviations: ``middle`` is the value at level ``y``, ``px`` the pixels a unit, ``factor`` the exaggeration."""

    y: float
    middle: float
    px: float
    factor: float
    band: Band | None

    def at(self, value: float) -> float:
        """The level of a value."""
        return self.y - (value - self.middle) * self.px


@dataclass(frozen=True, slots=True)
class WayFrame:
    """A machine and a scene laid out on a sheet; ``y_bed`` is the guideway (side) or the bed's rear edge (above)."""

    machine: Machine
    bed: Bed
    scene: WayScene
    palette: Palette
    language: str
    width: float
    x0: float
    px_per_mm: float
    strip: Strip | None
    y_bed: float
    bed_depth: float
    y_names: float
    height: float

    def x(self, bed_mm: float) -> float:
        """Where a bed coordinate stands; the left end of the bed is on the left, as the operator sees it."""
        return self.x0 + bed_mm * self.px_per_mm

    def bed_mm(self, position_mm: float) -> float:
        """The bed coordinate of a position of the line."""
        return to_bed(self.machine, self.scene, position_mm)

    def x_at(self, position_mm: float) -> float:
        """Where a position of the line stands."""
        return self.x(self.bed_mm(position_mm))

    @property
    def right(self) -> float:
        """The right end of the bed."""
        return self.x(self.bed.length_mm)

    @property
    def y_under(self) -> float:
        """The lower edge of the bed."""
        return self.y_bed + self.bed_depth

    def row_of(self, name: str) -> str:
        """The row of a support."""
        return next((support.row for support in self.bed.supports if support.name == name), "front")


def laid_out(machine: Machine, scene: WayScene, palette: Palette, language: str, width: float, view: str) -> WayFrame:
    """Everything in its place. Raises BadInput for lists of different length, an unknown mark or support."""
    _checked(machine, scene)
    bed = machine.bed or _bed_of(machine, scene)
    px_per_mm = (width - 2 * MARGIN) / bed.length_mm
    strip = _strip(machine, scene, px_per_mm)
    y_bed = CAPTION + (STRIP + 14 if strip else 0) + (CARRIAGE if view == "side" else _above_bed(bed, scene))
    depth = BED_SIDE if view == "side" else BED_ABOVE
    y_names = y_bed + depth + (SUPPORT if view == "side" else 12.0) + 15
    below = NAMES + len(lanes(bed, scene, view)) * LANE + FOOT
    return WayFrame(
        machine, bed, scene, palette, language, width, MARGIN, px_per_mm, strip, y_bed, depth, y_names, y_names + below
    )


def lanes(bed: Bed, scene: WayScene, view: str) -> tuple[str, ...]:
    """The rows of supports that have a lane of arrows below the bed."""
    rows = {support.row for support in bed.supports if scene.moves_um.get(support.name)}
    wanted = ("front", "middle", "rear") if view == "side" else ("front", "middle")
    return tuple(row for row in wanted if row in rows)


def to_bed(machine: Machine, scene: WayScene, position_mm: float) -> float:
    """Bed coordinate of a position, by the zero of the line."""
    if scene.zero is None:
        return position_mm
    mark = next((mark for mark in machine.marks if mark.name == scene.zero.mark), None)
    if mark is None:
        raise BadInput("drawing.unknown_mark", mark=scene.zero.mark, machine=machine.name)
    return mark.bed_mm + scene.zero.offset_mm + scene.zero.sense * position_mm


def label_room(text: str, space: float, size: float = SMALL) -> bool:
    """Whether a text fits with some air."""
    return width_of(text, size) + 12 <= space


def _above_bed(bed: Bed, scene: WayScene) -> float:
    moved = any(support.row == "rear" and scene.moves_um.get(support.name) for support in bed.supports)
    return 40.0 + (LANE if moved else 0.0)


def _checked(machine: Machine, scene: WayScene) -> None:
    if len(scene.position_mm) != len(scene.deviation):
        raise BadInput("drawing.lengths", positions=len(scene.position_mm), values=len(scene.deviation))
    names = {support.name for support in machine.bed.supports} if machine.bed else set()
    unknown = sorted(set(scene.moves_um) - names)
    if unknown:
        raise BadInput("drawing.unknown_support", support=unknown[0], machine=machine.name)


def _bed_of(machine: Machine, scene: WayScene) -> Bed:
    """A machine whose bed is not described: long enough for what was measured, where it was measured."""
    places = [abs(to_bed(machine, scene, position)) for position in scene.position_mm]
    return Bed(max(places, default=1000.0) * 1.05 or 1000.0)


def _strip(machine: Machine, scene: WayScene, px_per_mm: float) -> Strip | None:
    values = [value for value in scene.deviation if value is not None]
    if not values:
        return None
    band = fitted_band(values, scene.tolerance) if scene.tolerance else None
    edges = [*values, 0.0, *((band.low, band.high) if band else ())]
    low, high = min(edges), max(edges)
    factor = round_down(STRIP / max(high - low, 1e-3) / px_per_mm * 1e3)
    px = factor * px_per_mm / 1e3
    upwards = -1 if _points_down_the_sheet(machine, scene) else 1
    return Strip(CAPTION + 8 + STRIP / 2, (low + high) / 2, upwards * px, factor, band)


def _points_down_the_sheet(machine: Machine, scene: WayScene) -> bool:
    """Seen from above the operator stands at the lower edge, so what moves towards him moves down the sheet."""
    return scene.quantity is not None and screen_direction(scene.quantity, machine.axes) is Direction.TOWARDS
