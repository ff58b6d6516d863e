"""Lengths to write, in the reader's unit."""

from __future__ import annotations

from waywright.web.display import length_as_shown
from waywright.web.elements import number
from waywright.wording import text


class LengthField:
    """A line for a length; ``label`` is a key of the wording that takes the unit."""

    def __init__(self, label: str, value_um: float | None, *, least_um: float | None = None) -> None:
        unit = length_as_shown()
        self._per = unit.per
        written = None if value_um is None else round(value_um * unit.per, unit.decimals)
        least = None if least_um is None else least_um * unit.per
        self._field = number(text(label, unit=unit.word), written, least=least)

    @property
    def um(self) -> float | None:
        """What is written, in um; None where nothing is."""
        value = self._field.value
        return None if value is None or value == "" else float(value) / self._per

    @property
    def um_or_zero(self) -> float:
        """The same with nothing as zero, which the verbs refuse in words."""
        return self.um or 0.0
