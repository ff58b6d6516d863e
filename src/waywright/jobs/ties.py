"""What ties two lines measured from two set-ups: one beam, a level set on both, a bridge with an indicator."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.links import Link, link_by_beam, link_by_bridge, link_by_level
from waywright.files.named_table import Wanted, read_named
from waywright.quantities import Kind
from waywright.readings import Floats

BRIDGE = (Wanted("position", Kind.POSITION), Wanted("difference", Kind.DISPLACEMENT), Wanted("sd", Kind.DISPLACEMENT))
LEVELS = (
    Wanted("position", Kind.POSITION), Wanted("first", Kind.ANGLE), Wanted("second", Kind.ANGLE),
    Wanted("sd", Kind.ANGLE),
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """One quantity of a table: the mean of its passes (m,), and the variance of one value of it if known."""

    code: str
    passes: int
    position_mm: Floats
    value: Floats
    variance: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """The link that was measured, one of three.

    ``bridge`` is a table of what a bridge reads, second minus first: ``position_mm,difference_um,sd_um``. ``level`` is
    a table of one level set on both lines, its zero unchanged: ``position_mm,first_um_per_m,second_um_per_m`` and
    ``sd_um_per_m``, the near foot's position, with ``level_base_mm`` between the feet. ``beam_um_per_m`` is the
    standard uncertainty of the angle between two set-ups that one beam serves.
    """

    bridge: Path | None = None
    level: Path | None = None
    level_base_mm: float | None = None
    beam_um_per_m: float | None = None


NO_TIE = Tie()


def link_of(tie: Tie, one: Profile, two: Profile) -> Link | None:
    """The link between two lines; None without one. Raises BadInput for several, and for a level without its base."""
    given = [each for each in (tie.bridge, tie.level, tie.beam_um_per_m) if each is not None]
    if len(given) > 1:
        raise BadInput("jobs.one_link")
    if tie.bridge is not None:
        return _bridge(tie.bridge, one, two)
    if tie.level is not None:
        return _level(tie.level, tie.level_base_mm, one, two)
    return None if tie.beam_um_per_m is None else link_by_beam(tie.beam_um_per_m)


def _bridge(file: Path, one: Profile, two: Profile) -> Link:
    numbers = read_named(file, BRIDGE).numbers
    x = numbers["position"]
    spread = float(np.sqrt(np.mean(numbers["sd"] ** 2)))
    return link_by_bridge(x, numbers["difference"], _at(one, x), _at(two, x), spread)


def _level(file: Path, base_mm: float | None, one: Profile, two: Profile) -> Link:
    """What the level reads less the slope that each line's own frame shows between the level's feet."""
    if base_mm is None or not base_mm > 0.0:
        raise BadInput("jobs.level_base", file=str(file))
    numbers = read_named(file, LEVELS).numbers
    x = numbers["position"]
    own = [(_at(each, x + base_mm) - _at(each, x)) / base_mm * 1000.0 for each in (one, two)]
    spread = float(np.sqrt(np.mean(numbers["sd"] ** 2)))
    return link_by_level(numbers["first"] - own[0], numbers["second"] - own[1], spread)


def _at(line: Profile, x: Floats) -> Floats:
    order = np.argsort(line.position_mm)
    return np.interp(x, line.position_mm[order], line.value[order])
