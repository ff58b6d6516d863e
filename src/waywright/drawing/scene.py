"""What drawings show. Values are as screens show them: positive in the physical direction that the drawing names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waywright.quantities import Code, Kind
from waywright.visit import PositionZero, SourceStand


@dataclass(frozen=True, slots=True)
class Shown:
    """A unit as written beside a value: ``per`` of it make one µm, µm/m or mm, ``decimals`` tell a tenth of it."""

    word: str
    per: float = 1.0
    decimals: int = 1


@dataclass(frozen=True, slots=True)
class Units:
    """How a reader wants deviations, angles and positions."""

    length: Shown = Shown("µm")
    angle: Shown = Shown("µm/m")
    place: Shown = Shown("mm", 1.0, 0)

    def of(self, quantity: Code) -> Shown:
        """The unit of a quantity's values."""
        return self.length if quantity.kind is Kind.DISPLACEMENT else self.angle


@dataclass(frozen=True, slots=True)
class WayScene:
    """What stands on a bed and what was found there.

    ``position_mm`` are stations as positions of the line, ``deviation`` their values (um, for rotations um/m) about
    the reference line, None where nothing is taken yet; ``reference`` names the line. ``tolerance`` draws the band
    and judges: leave it away during a pass. ``moves_um`` maps the names of supports to moves, up positive.
    ``turns`` says beside a move how far and which way round, in words. ``again_mm`` are stations to be taken again.
    ``live`` marks the carriage as what happens now. Without ``zero`` positions are taken as bed coordinates. ``units``
    are those of the words on the drawing; everything here stays in um and mm.
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
    turns: Mapping[str, str] = field(default_factory=dict)
    again_mm: tuple[float, ...] = ()
    units: Units = Units()


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

    ``quantity_word`` and ``direction_word`` are in the reader's language, ``unit`` as it is written beside a value of
    the series, a tenth of µm or µm/m with ``decimals``. Positions are in mm, written as ``place`` says.
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
    decimals: int = 1
    place: Shown = Shown("mm", 1.0, 0)
