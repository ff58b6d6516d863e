"""An invented roll lathe and invented readings of it, for tests of files, drawings and the report."""

from __future__ import annotations

import math
from uuid import UUID

from waywright.drawing import WayScene
from waywright.machine import Bed, Carriage, Joint, Machine, Mark, Support, Travel
from waywright.quantities import Axes, code
from waywright.visit import PositionZero, SourceStand

FRONT = tuple(Support(str(n), 200.0 + (n - 1) * 1000.0, "front", "wedge-shoe") for n in range(1, 8))
REAR = tuple(Support(str(n + 7), 200.0 + (n - 1) * 1000.0, "rear", "wedge-shoe") for n in range(1, 8))
HR6 = Machine(
    id=UUID(int=6),
    name="HR-6",
    kind="roll lathe",
    axes=Axes(up="-Y", operator="+X"),
    bed=Bed(
        6400.0,
        FRONT + REAR,
        headstock_mm=(0.0, 900.0),
        gauge_mm=640.0,
        joints=(Joint(3200.0, 150.0),),
        carriage=Carriage(520.0),
    ),
    marks=(Mark("tailstock mark", 6250.0),),
    travels=(Travel("Z", 1050.0, 6250.0),),
    serial="HR-1987-06",
    owner="Hollin Reach",
    invented=True,
)
ZERO = PositionZero("tailstock mark", 0.0, -1)
SOURCE = SourceStand("bed", 6360.0)
STATIONS = tuple(round(i * 240.0 + 7.3 * math.sin(2.1 * i), 1) if i else 0.0 for i in range(22))


def height_um(position_mm: float) -> float:
    """Invented height about a line, up positive."""
    return 22 * math.sin(position_mm / 5200 * math.pi * 1.6 - 0.5) + 6 * math.sin(position_mm / 410)


def scene(**changes: object) -> WayScene:
    """The way drawing's scene with all 22 stations taken."""
    given: dict[str, object] = {
        "position_mm": STATIONS,
        "deviation": tuple(height_um(p) for p in STATIONS),
        "quantity": code("EYZ"),
        "reference": "least-squares",
        "zero": ZERO,
        "source": SOURCE,
    }
    return WayScene(**{**given, **changes})  # type: ignore[arg-type]
