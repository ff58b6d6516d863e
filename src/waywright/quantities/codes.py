"""ISO 230-1 codes of error motions: E, then the direction, then the moving axis.

X, Y, Z as direction are displacements (EYX: straightness of X in the direction of Y; EXX: positioning),
A, B, C are rotations about X, Y, Z (EAX: roll of X). Source: ISO 230-1:2012, clause 3 (terms in public extracts).
"""

from __future__ import annotations

from dataclasses import dataclass

from waywright.errors import BadInput
from waywright.quantities.units import Kind

_ROTATION_ABOUT = {"A": "X", "B": "Y", "C": "Z"}


@dataclass(frozen=True, slots=True)
class Code:
    """One error motion of a linear axis.

    ``direction`` is X, Y or Z: along it (a displacement) or about it (a rotation). ``axis`` is the moving axis.
    """

    text: str
    direction: str
    axis: str
    is_rotation: bool

    @property
    def kind(self) -> Kind:
        """Angle for rotations, displacement otherwise."""
        return Kind.ANGLE if self.is_rotation else Kind.DISPLACEMENT

    @property
    def is_straightness(self) -> bool:
        """A displacement across the direction of motion."""
        return not self.is_rotation and self.direction != self.axis

    @property
    def column(self) -> str:
        """Name of the number in tables and records, unit included: ``EYZ_um``."""
        return f"{self.text}_{self.kind.value}"


def code(text: str) -> Code:
    """Read a code such as ``EYZ``. Raises BadInput for anything else."""
    letters = text.strip().upper()
    if len(letters) != 3 or letters[0] != "E" or letters[1] not in "XYZABC" or letters[2] not in "XYZ":
        raise BadInput("quantities.bad_code", code=text)
    rotation = letters[1] in _ROTATION_ABOUT
    return Code(letters, _ROTATION_ABOUT.get(letters[1], letters[1]), letters[2], rotation)
