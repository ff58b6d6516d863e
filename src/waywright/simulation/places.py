"""Where things of a scenario are: positions of the line against bed coordinates."""

from __future__ import annotations

import numpy as np

from waywright.readings.records import Floats
from waywright.simulation.scenario import Scenario

_SPACING_WITHOUT_SUPPORTS_MM = 1000.0


class Places:
    """Bed coordinates, distances from the source and supports as positions, all in mm."""

    def __init__(self, scenario: Scenario) -> None:
        self._sense = scenario.zero.sense
        self._zero_mm = (scenario.mark_mm or 0.0) + scenario.zero.offset_mm
        self._along_mm = scenario.detector_offset_mm[0]
        self._bearing_mm = (scenario.bearing_centre_mm or (0.0, 0.0, 0.0))[0]
        self._source_mm = scenario.source.bed_mm or 0.0
        bed = scenario.machine.bed
        self._supports_mm = sorted({support.bed_mm for support in bed.supports}) if bed else []

    def from_source_m(self, position_mm: Floats) -> Floats:
        """Distance of the detector from the source in m, for positions (n,)."""
        detector_mm = self._zero_mm + self._sense * position_mm + self._along_mm
        return np.asarray(np.abs(detector_mm - self._source_mm) / 1000.0)

    def bearing_mm(self, position_mm: Floats) -> Floats:
        """Bed coordinates of the carriage's bearing centre, for positions (n,)."""
        return np.asarray(self._zero_mm + self._sense * position_mm + self._bearing_mm)

    @property
    def support_spacing_mm(self) -> float:
        """Mean distance of neighbouring supports; 1 m where the machine has none recorded."""
        if len(self._supports_mm) < 2:
            return _SPACING_WITHOUT_SUPPORTS_MM
        return (self._supports_mm[-1] - self._supports_mm[0]) / (len(self._supports_mm) - 1)

    @property
    def first_support_mm(self) -> float:
        """The leftmost support as a position of the line."""
        first = self._supports_mm[0] if self._supports_mm else 0.0
        return self._sense * (first - self._zero_mm)
