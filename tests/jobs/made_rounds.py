"""The invented lathe measured by hand: readings of its true bed, typed into an archive, round by round."""

from __future__ import annotations

from dataclasses import dataclass, field
from uuid import UUID

import numpy as np

from waywright.archive import Archive
from waywright.clocks import Clock, SystemClock
from waywright.files.setup_file import LineEntry
from waywright.jobs.correct import Correction, CorrectionOrder, correction_of_line
from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.jobs.rounds import Answered, belief_for, confirm, keep_plan, turned
from waywright.jobs.typed import append_typed, begin_typed_line, begin_typed_pass, end_typed_pass
from waywright.simulation import load_scenario
from waywright.simulation.bed import BedOnSupports
from waywright.visit.adjustment import Adjustment

CALM = load_scenario("calm-hall")
BED_MM = np.linspace(750.0, 5950.0, 23)
ZERO_MM = 5950.0
ANSWERS = {
    "correct.confirm_axis_locked": "main switch off, padlock 14",
    "correct.confirm_vertical_supported": "no such axis here",
    "correct.confirm_cribbed": "oak under both ends",
    "correct.confirm_makers_limit": "0.2 mm",
}


@dataclass
class Shop:
    """The lathe, its true bed, and the archive it is measured into."""

    archive: Archive
    bed: BedOnSupports
    clock: Clock = field(default_factory=SystemClock)
    seed: int = 1

    def measure(self, state: str) -> MeasuredLine:
        """Height and roll at 23 stations with a noise of 1 um, settled."""
        self.seed += 1
        rng = np.random.default_rng(self.seed)
        height, _, roll = self.bed.at(ZERO_MM - BED_MM, 1e9)
        entry = LineEntry(name=f"carriage, {state} {self.seed}", axis="Z", from_mm=750.0, to_mm=5950.0)
        line = begin_typed_line(self.archive, CALM.machine, entry, None, self.clock)
        channels = ("typed.height_um", "typed.roll_um_per_m")
        taken = begin_typed_pass(self.archive, CALM.machine, line, "forward", channels, self.clock)
        for place, up, tilt in zip(BED_MM, height, roll, strict=True):
            values = {channels[0]: float(up + rng.normal()), channels[1]: float(tilt + rng.normal())}
            append_typed(self.archive, taken.id, float(place), values, self.clock)
        end_typed_pass(self.archive, taken.id, self.clock)
        return measured_line(self.archive, line)

    def plan(self, measured: MeasuredLine, goal_um: float = 12.0) -> tuple[Correction, Adjustment]:
        """The plan for a line, kept as a round."""
        belief, _ = belief_for(self.archive, measured, self.clock.utc())
        found = correction_of_line(measured, CorrectionOrder(goal_um=goal_um), belief)
        return found, keep_plan(self.archive, measured, found, self.clock)

    def confirm_all(self, made: Adjustment) -> Adjustment:
        """Every confirmation answered on its own."""
        for each in made.to_confirm:
            made = confirm(self.archive, made, each.key, ANSWERS[each.key], self.clock)
        return made

    def turn_all(self, made: Adjustment) -> Adjustment:
        """The fitter turns as well as he can and says that he did as asked."""
        for move in made.moves:
            self.bed.turn(move.support, move.asked_um, 0.0)
            made = turned(self.archive, made, move.support, None, self.clock)
        return made

    def turn_watched(self, found: Correction, made: Adjustment) -> Adjustment:
        """The same with the detector parked at each station of the sheet; most of each turn is there at once."""
        rng = np.random.default_rng([self.seed, 5])
        for number, each in enumerate(found.sheet.instructions):
            time_s = 2e9 + 1e4 * number
            before, _, _ = self.bed.at(np.array([ZERO_MM - each.clear_mm]), time_s - 1.0)
            self.bed.turn(each.support, each.move_um, time_s)
            after, _, _ = self.bed.at(np.array([ZERO_MM - each.clear_mm]), time_s + 5.0)
            read_um = float(after[0] - before[0] + 0.5 * rng.normal())
            answer = Answered(each.clear_mm, each.clear_um, read_um, each.doubt_um)
            made = turned(self.archive, made, each.support, None, self.clock, answer=answer)
        return made

    def loaded(self, identity: UUID) -> Adjustment:
        """The round as it is kept now."""
        return self.archive.load(Adjustment, identity)


def shop(archive: Archive, **bed: object) -> Shop:
    """The workshop of the calm hall; ``bed`` changes what is true of its bed."""
    import msgspec

    truth = CALM.truth.bed
    assert truth is not None
    return Shop(archive, BedOnSupports(CALM, msgspec.structs.replace(truth, **bed)))
