"""An invented roll lathe and invented readings of it, for tests of files, drawings and the report."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from uuid import UUID

import numpy as np

from waywright.drawing import WayScene
from waywright.machine import Bed, Carriage, Joint, Machine, Mark, Support, Travel
from waywright.quantities import Axes, Direction, code, iso_sign
from waywright.report import LineContent, LineValue, PassContent, PassCurve, QuantityContent, ReportContent
from waywright.visit import (
    Column,
    Conditions,
    InstrumentUse,
    Line,
    MachineState,
    PassEvent,
    PassSettings,
    PositionZero,
    Profile,
    SetUp,
    SourceStand,
    Temperature,
)

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


BEGAN = datetime(2026, 3, 4, 7, 30, tzinfo=UTC)
QUANTITIES = (("EYZ", Direction.UP, 1.0), ("EXZ", Direction.TOWARDS, 0.6), ("ECZ", Direction.OPERATOR_SIDE_UP, 1.4))
SETUP = SetUp(
    id=UUID(int=3),
    line_id=UUID(int=2),
    detector_side="tool",
    source=SOURCE,
    zero=ZERO,
    detector_offset_mm=(0.0, 180.0, -40.0),
    instruments=(
        InstrumentUse("beam", "two-axis beam position detector", "HR-BD-01", "HR-C-118", "2026-11-30", "ab12" * 16),
        InstrumentUse("distance", "distance meter", "HR-DM-02"),
        InstrumentUse("level", "electronic level", "HR-EL-01", "HR-C-121", "2026-09-15", "cd34" * 16),
    ),
    method="detector carried along a laser beam, standing still at each station",
)


def profile(number: int) -> Profile:
    """The readings of one pass: a curve on a slope, some noise that is the same every time, screen signs turned."""
    position = np.array(STATIONS if number % 2 else tuple(reversed(STATIONS))) + 0.4 * (number - 1)
    noise = np.random.default_rng(number)
    columns = []
    for text, direction, size in QUANTITIES:
        shape = (
            size * np.array([height_um(p) for p in position]) + 0.003 * position + noise.normal(0, 0.5, position.size)
        )
        sign = iso_sign(code(text), direction, HR6.axes)
        count = 20.0 if text == "ECZ" else 100.0
        spread = np.round(noise.uniform(0.3, 0.7, position.size), 3)
        columns.append(Column(code(text), sign * shape, spread, np.full(position.size, count), direction, sign))
    return Profile(position, tuple(columns), (("forward", "backward")[(number - 1) % 2],) * position.size)


def a_pass(number: int, events: tuple[PassEvent, ...] = ()) -> PassContent:
    """A pass of 22 stations that took twelve minutes."""
    began, direction = BEGAN + timedelta(minutes=20 * (number - 1)), ("forward", "backward")[(number - 1) % 2]
    return PassContent(
        number, direction, began, profile(number), began + timedelta(minutes=12), "finished",
        PassSettings(2.0, 1.0, 50.0),
        Conditions(
            MachineState(other_axes="X at 300 mm", anchor_bolts="snug", compensation="off"),
            (Temperature("air at the beam", 19.4), Temperature("bed top", 18.9)),
        ),
        events, last_hash=f"{number:x}" * 64,
    )  # fmt: skip


def _deviation(column: Column, position: np.ndarray) -> np.ndarray:
    slope, offset = np.polyfit(position, column.screen, 1)
    return np.asarray(column.screen - slope * position - offset)


def quantity(index: int, profiles: tuple[Profile, ...]) -> QuantityContent:
    """Least squares by numpy alone; the other two lines carry invented smaller and larger values."""
    curves = []
    for number, item in enumerate(profiles, start=1):
        deviation = _deviation(item.columns[index], item.position_mm)
        order = np.argsort(item.position_mm)
        curves.append(
            (tuple(item.position_mm[order].tolist()), tuple(deviation[order].tolist()), item.direction[0], number)
        )
    position = tuple(np.mean([c[0] for c in curves], axis=0).tolist())
    mean = np.mean([c[1] for c in curves], axis=0)
    high, low = int(mean.argmax()), int(mean.argmin())
    chosen = LineValue(
        "least-squares",
        float(mean[high] - mean[low]),
        float(mean[high]),
        position[high],
        float(mean[low]),
        position[low],
    )
    others = tuple(
        LineValue(
            name, chosen.value * share, chosen.largest * share, position[high], chosen.smallest * share, position[low]
        )
        for name, share in (("end-points", 1.12), ("minimum-zone", 0.93))
    )
    text, direction, _ = QUANTITIES[index]
    return QuantityContent(
        code(text), direction, (chosen, *others) if text != "ECZ" else (chosen,), position, tuple(mean.tolist()),
        tuple(PassCurve(n, str(d), p, v) for p, v, d, n in curves), mean=tuple(mean.tolist()),
    )  # fmt: skip


def report_content(passes: int = 2) -> ReportContent:
    """A whole report of height, side and roll."""
    event = PassEvent(UUID(int=9), UUID(int=1), BEGAN, "report.repeated", 1682.0, {"repeated": 1})
    taken = tuple(a_pass(number, (event,) if number == 1 else ()) for number in range(1, passes + 1))
    profiles = tuple(item.profile for item in taken)
    line = LineContent(
        line=Line(UUID(int=2), UUID(int=1), "carriage Z", "Z", from_mm=0.0, to_mm=5040.0),
        setup=SETUP,
        quantities=tuple(quantity(index, profiles) for index in range(3)),
        passes=taken,
    )
    return ReportContent(
        made_utc=BEGAN + timedelta(hours=1),
        machine=HR6,
        lines=(line,),
        software_version="0.1.0",
        algorithm_version="1",
        technician="A. Example",
        purpose="yearly inspection",
    )
