"""A line as measured: from kept readings to profiles and results."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from uuid import UUID

import numpy as np

from waywright.archive import Archive
from waywright.errors import BadInput
from waywright.evaluate.passes import JoinedPasses, Traverse
from waywright.jobs.basis import Basis
from waywright.jobs.judge import StraightnessResult, Wish, result_of
from waywright.jobs.segmented import joined_parts, parts_of
from waywright.machine import Machine
from waywright.quantities import Direction
from waywright.readings import Floats, Reading, standing
from waywright.visit import Interpretation, Line, Pass, PassEvent, Profile, SetUp, Visit, interpreted
from waywright.wording import text


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredPass:
    """One pass with its set-up, its standing readings and what they mean; excluded readings are left out."""

    taken: Pass
    setup: SetUp
    interpretation: Interpretation | None
    readings: tuple[Reading, ...]
    excluded: int
    superseded: int
    profile: Profile
    events: tuple[PassEvent, ...]
    excluded_why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredLine:
    """A line with everything its results rest on."""

    machine: Machine
    visit: Visit
    line: Line
    passes: tuple[MeasuredPass, ...]

    def codes(self) -> tuple[str, ...]:
        """Codes that every pass has, in the order of the first pass."""
        if not self.passes:
            return ()
        first, *others = ({column.code.text: None for column in single.profile.columns} for single in self.passes)
        return tuple(name for name in first if all(name in other for other in others))


def measured_line(archive: Archive, line: Line) -> MeasuredLine:
    """Everything of a line, interpreted as the archive says today."""
    visit = archive.load(Visit, line.visit_id)
    machine = archive.load(Machine, visit.machine_id)
    setups = {setup.id: setup for setup in archive.setups(line.id)}
    passes = tuple(_measured(archive, taken, setups, machine) for taken in archive.passes(line.id))
    return MeasuredLine(machine, visit, line, tuple(item for item in passes if item.readings))


def find_line(archive: Archive, wanted: str | None) -> Line:
    """The line of a name or id (or the end of an id); without one the newest. Raises BadInput if there is none.

    A line that was begun and has no pass is taken only if no other fits.
    """
    lines = [line for visit in archive.visits() for line in archive.lines(visit.id)]
    if wanted is not None:
        lines = [line for line in lines if line.name == wanted or str(line.id).endswith(wanted)]
    if not lines:
        raise BadInput("jobs.no_line", wanted=wanted or "any", archive=str(archive.path))
    return max(lines, key=lambda line: (bool(archive.passes(line.id)), line.id))


def joined(measured: MeasuredLine, quantity: str) -> JoinedPasses:
    """The passes of a line at common stations, in the direction that the screen calls positive; segments joined."""
    return joined_parts(parts_of(traverses(measured, quantity)))


def traverses(measured: MeasuredLine, quantity: str) -> list[tuple[int, Traverse]]:
    """Every pass with the number of its segment; times and standard deviations of the means come along."""
    return [(single.setup.segment, _traverse(single, quantity, measured)) for single in measured.passes]


def _traverse(single: MeasuredPass, quantity: str, measured: MeasuredLine) -> Traverse:
    began = measured.passes[0].taken.began_utc
    time_s = np.array([(reading.began_utc - began).total_seconds() for reading in single.readings])
    column = single.profile.column(quantity)
    spread = None if column is None else column.standard_deviation / np.sqrt(np.maximum(column.samples, 1))
    value = on_screen(single, quantity)
    return Traverse(single.profile.position_mm, value, single.taken.direction, time_s, spread)


def results_of_line(measured: MeasuredLine, reference: str, window_mm: float | None) -> tuple[StraightnessResult, ...]:
    """Each pass, then the mean of passes, for every straightness quantity; positive as the screen says.

    Raises BadInput where there is nothing to evaluate.
    """
    if not measured.passes:
        raise BadInput("jobs.no_readings", line=measured.line.name)
    wanted = [column.code.text for column in measured.passes[0].profile.columns if column.code.is_straightness]
    return tuple(
        result
        for quantity in wanted
        if quantity in measured.codes()
        for result in _of_quantity(measured, quantity, Wish(reference=reference, window_mm=window_mm))
    )


def positive_on_screen(measured: MeasuredLine, quantity: str) -> Direction:
    """The physical direction that figures of a quantity are positive in."""
    column = measured.passes[0].profile.column(quantity)
    if column is None:
        raise BadInput("jobs.quantity_not_measured", quantity=quantity, line=measured.line.name)
    return column.on_screen


def _measured(archive: Archive, taken: Pass, setups: dict[UUID, SetUp], machine: Machine) -> MeasuredPass:
    setup = setups[taken.setup_id]
    interpretation = archive.interpretation(setup.id)
    everything = archive.readings(taken.id)
    left_out = {exclusion.reading_id: exclusion.reason for exclusion in archive.exclusions(taken.id)}
    holding = standing(everything)
    kept = tuple(reading for reading in holding if reading.id not in left_out)
    meaning = interpretation or Interpretation(setup.id, setup.id, ())
    return MeasuredPass(
        taken=taken,
        setup=setup,
        interpretation=interpretation,
        readings=kept,
        excluded=len(holding) - len(kept),
        superseded=len(everything) - len(holding),
        profile=interpreted(kept, meaning, machine.axes, setup),
        events=archive.events(taken.id),
        excluded_why=tuple(
            text("jobs.left_out", number=taken.number, position_mm=reading.position_mm, why=left_out[reading.id])
            for reading in holding
            if reading.id in left_out
        ),
    )


def on_screen(single: MeasuredPass, quantity: str) -> Floats:
    """The values of a quantity in one pass, positive as the screen says."""
    column = single.profile.column(quantity)
    if column is None:
        raise BadInput("jobs.quantity_not_measured", quantity=quantity, line="")
    return column.screen


def _of_quantity(measured: MeasuredLine, quantity: str, wish: Wish) -> list[StraightnessResult]:
    positive = positive_on_screen(measured, quantity).value
    found = [
        result_of(
            quantity,
            single.profile.position_mm,
            on_screen(single, quantity),
            wish,
            pass_number=single.taken.number,
            direction=single.taken.direction,
        )
        for single in measured.passes
    ]
    if len(measured.passes) > 1:
        mean = joined(measured, quantity)
        found.append(result_of(quantity, mean.position_mm, mean.mean, wish, passes=mean.passes))
    return [
        replace(
            result, positive=positive,
            basis=basis_of_line(measured, [result.code], result.reference, pass_number=result.pass_number),
        )
        for result in found
    ]  # fmt: skip


def basis_of_line(
    measured: MeasuredLine,
    codes: Sequence[str],
    reference: str | None = None,
    *,
    pass_number: int | None = None,
    segment: int | None = None,
) -> Basis:
    """What a result of these quantities rests on: one pass, one segment, or all of them."""
    wanted = [
        one
        for one in measured.passes
        if pass_number in (None, one.taken.number) and segment in (None, one.setup.segment)
    ]
    points = list(dict.fromkeys(one.setup.functional_point_mm for one in wanted))
    return Basis(
        functional_point_mm=points[0] if len(points) == 1 else None,
        reference=reference,
        passes=tuple(one.taken.number for one in wanted),
        segments=tuple(sorted({one.setup.segment for one in wanted})),
        excluded=sum(one.excluded for one in wanted),
        excluded_why=tuple(why for one in wanted for why in one.excluded_why),
        positive={name: positive_on_screen(measured, name).value for name in codes},
    )
