"""What drawings show. Values are as screens show them: positive in the physical direction that the drawing names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waywright.quantities import Code
from waywright.visit import PositionZero, SourceStand


@dataclass(frozen=True, slots=True)
class WayScene:
    """What stands on a bed and what was found there.

    ``position_mm`` are stations as positions of the line, ``deviation`` their values (um, for rotations um/m) about
    the reference line, None where nothing is taken yet; ``reference`` names the line. ``tolerance`` draws the band
    and judges: leave it away during a pass. ``moves_um`` maps the names of supports to moves, up positive.
    ``live`` marks the carriage as what happens now. Without ``zero`` positions are taken as bed coordinates.
    """

    position_mm: tuple[float, ...] = ()
    deviation: tuple[float | None, ...] = ()
    quantity: Code | None = None
    reference: str | None = None
    zero: PositionZero | None = None
    source: SourceStand | None = None
    carriage_mm: float | None = None
    live: bool = False
    tolerance: float | None = None
    moves_um: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Series:
    """One curve: ``name`` stands in the legend; ``mean`` draws it as the main one.

    ``spread`` (as many as positions, or none) is the expanded uncertainty at each station, drawn as a ribbon of plus
    and minus around the curve. ``pale`` draws a curve that stands behind another: as found behind as left.
    """

    name: str
    position_mm: tuple[float, ...]
    deviation: tuple[float, ...]
    mean: bool = False
    spread: tuple[float, ...] = ()
    pale: bool = False


@dataclass(frozen=True, slots=True)
class CurveScene:
    """Deviations over position.

    ``quantity_word`` and ``direction_word`` are in the reader's language, ``unit`` as it is written beside a value.
    ``grows_left`` turns the positions so that the curve lies over the way drawing. The largest and smallest marked
    are those of the mean, or of the only series.
    """

    series: tuple[Series, ...]
    quantity_word: str
    code: str
    direction_word: str
    unit: str
    reference_word: str
    grows_left: bool = False
    tolerance: float | None = None
