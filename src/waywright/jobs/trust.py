"""Trust: alignment and steadiness of the beam of a connected line from what was just heard, judged and kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

import numpy as np

from waywright.archive import Archive
from waywright.clocks import Clock
from waywright.errors import BadInput
from waywright.guard import (
    Adjuster,
    Advice,
    Alignment,
    Detector,
    DirectionTest,
    KnownMove,
    Outcome,
    Ready,
    Standstill,
    Steadiness,
    alignment,
    direction_test,
    steadiness,
)
from waywright.instruments import Instrument
from waywright.jobs.evidence import Judged, keep_at
from waywright.jobs.mend import Mending, mend
from waywright.machine import Machine
from waywright.quantities import Direction, code
from waywright.visit import ChannelMeaning, Evidence, Interpretation, SetUp

_WIDE_UM = 1e6


@dataclass(frozen=True, slots=True)
class Stand:
    """Averages at one place: ``distance_m`` from the source, the screen's values of each channel, standard errors."""

    distance_m: float
    value_um: Mapping[str, float]
    error_um: Mapping[str, float]


def beam_channels(meaning: Interpretation) -> tuple[ChannelMeaning, ...]:
    """The two channels that see height and side, height first; fewer where there are not both."""
    seen = [item for item in meaning.meanings if code(item.code).is_straightness]
    return tuple(sorted(seen, key=lambda item: item.positive not in (Direction.UP, Direction.DOWN)))[:2]


def source_distance_m(machine: Machine, setup: SetUp, position_mm: float) -> float | None:
    """How far the detector stands from the source; None where the place of either is not recorded."""
    zero, source = setup.zero, setup.source
    mark = next((item for item in machine.marks if zero and item.name == zero.mark), None)
    if zero is None or mark is None or source is None or source.bed_mm is None:
        return None
    along_mm = setup.detector_offset_mm[0] if setup.detector_offset_mm else 0.0
    bed_mm = mark.bed_mm + zero.offset_mm + zero.sense * position_mm + along_mm
    return abs(bed_mm - source.bed_mm) / 1000.0


def range_um(instruments: Sequence[Instrument], channel: str) -> tuple[float, float]:
    """The usable range of a channel as its description states it; a wide one where it states none."""
    for instrument in instruments:
        for name, each in zip(instrument.channels, instrument.description.channel, strict=True):
            if name == channel and each.range is not None:
                low, high = (each.inside.inside(value) for value in each.range)
                return float(min(low, high)), float(max(low, high))
    return -_WIDE_UM, _WIDE_UM


def judge_direction(
    archive: Archive, setup: UUID, moves: Sequence[KnownMove], channels: tuple[Direction, Direction], clock: Clock
) -> tuple[DirectionTest, Evidence]:
    """The direction test of the set-up, kept."""
    found = direction_test(moves, channels)
    inputs = {"moves": list(moves), "channels": list(channels)}
    judged = Judged("direction", found.outcome.value, found.outcome is Outcome.PASSED, found.why, inputs, found)
    return found, keep_at(archive, judged, setup, clock=clock)


def count_as_proved(
    archive: Path, line: str, names: tuple[str, str], found: DirectionTest, reason: str
) -> None:  # fmt: skip
    """Let the channels count as a direction test says. Raises BadInput where it says nothing."""
    if found.channels is None:
        raise BadInput("jobs.nothing_proved")
    for name, positive in zip(names, found.channels, strict=True):
        mend(line, Mending(channel=name, positive=positive.value, reason=reason), archive)


def judge_alignment(
    archive: Archive,
    setup: UUID,
    stands: Sequence[Stand],
    ranges_um: Mapping[str, tuple[float, float]],
    tolerance_um: float,
    clock: Clock,
    adjuster: Adjuster | None = None,
) -> tuple[dict[str, Alignment], Evidence]:
    """Every quantity near and far; kept. Raises BadInput unless there are two distances."""
    found = {
        name: alignment(
            [stand.distance_m for stand in stands],
            [stand.value_um[name] for stand in stands],
            detector=Detector(ranges_um[name]),
            tolerance_um=tolerance_um,
            error_um=float(np.mean([stand.error_um[name] for stand in stands])),
            adjuster=adjuster,
        )
        for name in ranges_um
    }
    good = all(one.ready is Ready.GOOD_ENOUGH for one in found.values())
    outcome = Ready.GOOD_ENOUGH if good else Ready.ALIGN
    inputs = {"stands": list(stands), "ranges_um": dict(ranges_um), "tolerance_um": tolerance_um}
    judged = Judged("alignment", outcome.value, good, tuple(one.why for one in found.values()), inputs, found)
    return found, keep_at(archive, judged, setup, clock=clock)


def judge_steadiness(
    archive: Archive,
    setup: UUID,
    near: Mapping[str, Standstill],
    far: Mapping[str, Standstill],
    wish: tuple[float, float, float],
    clock: Clock,
) -> tuple[dict[str, Steadiness], Evidence]:
    """Both recordings of every quantity; ``wish`` is tolerance and scatter in um, length of a pass in s. Kept."""
    tolerance_um, wished_um, pass_s = wish
    facts = {"tolerance_um": tolerance_um, "wished_um": wished_um, "pass_s": pass_s}
    found = {name: steadiness(near[name], far[name], **facts) for name in near if name in far}
    worst = max((one.advice for one in found.values()), key=list(Advice).index)
    places = {"near_m": next(iter(near.values())).distance_m, "far_m": next(iter(far.values())).distance_m}
    why = tuple(one.why for one in found.values())
    judged = Judged("steadiness", worst.value, worst is Advice.USE, why, places | facts, found)
    return found, keep_at(archive, judged, setup, clock=clock)
