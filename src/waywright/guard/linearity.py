"""A detector's nonlinearity over a stretch of its range, from the table of its certificate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.straightness import straightness


@dataclass(frozen=True, slots=True)
class Linearity:
    """Error over reading, both in um, straight between the entries; ``reading_um`` increasing."""

    reading_um: tuple[float, ...]
    error_um: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.reading_um) != len(self.error_um) or len(self.reading_um) < 2:
            raise BadInput("guard.bad_linearity", readings=len(self.reading_um), errors=len(self.error_um))
        if not bool((np.diff(self.reading_um) > 0.0).all()):
            raise BadInput("guard.linearity_not_increasing", first_um=self.reading_um[0])

    def straightness_um(self, lowest_um: float, highest_um: float) -> float:
        """How much straightness the detector adds to a straight way read from one value to the other.

        A straight misalignment reads evenly along the axis, so what a straight line leaves of the table (minimum zone)
        is what the result gets. Raises BadInput where the table does not reach.
        """
        if lowest_um < self.reading_um[0] or highest_um > self.reading_um[-1]:
            raise BadInput("guard.beyond_linearity", lowest_um=lowest_um, highest_um=highest_um,
                           first_um=self.reading_um[0], last_um=self.reading_um[-1])  # fmt: skip
        inner = [value for value in self.reading_um if lowest_um < value < highest_um]
        place = np.array([lowest_um, *(inner or [(lowest_um + highest_um) / 2.0]), highest_um])
        if not place[-1] > place[0]:
            return 0.0
        error = np.interp(place, self.reading_um, self.error_um)
        return float(straightness(place, error, "minimum-zone").value_um)
