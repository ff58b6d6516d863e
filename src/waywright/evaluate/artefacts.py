"""Small figures of artefacts: a level's vial, gauge faces under an interferometer, a surface plate's grade."""

from __future__ import annotations

import math

from waywright.errors import BadInput

_ARCSEC_PER_RAD = 180.0 * 3600.0 / math.pi


def vial_radius_m(division_mm: float, division_arcsec: float) -> float:
    """Radius of a level's vial: length of a division over its angle. Raises BadInput for anything not above zero."""
    for value in (division_mm, division_arcsec):
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput("geometry.not_above_zero", value=value)
    return division_mm / 1000.0 / (division_arcsec / _ARCSEC_PER_RAD)


def parallelism_by_fringes_um(fringes_at_0: float, fringes_at_180: float, wavelength_um: float) -> float:
    """Parallelism of two gauge faces in um from fringes over a gauge before and after it is turned by 180 degrees.

    Turning changes the sign of the faces' own angle and keeps that of base and flat: half the difference is the
    gauge's, and each fringe is half a wavelength of height.
    """
    return (fringes_at_180 - fringes_at_0) / 2.0 * wavelength_um / 2.0


def plate_limit_um(length_mm: float, width_mm: float, base_um: float, per_diagonal_um_per_m2: float) -> float:
    """Flatness limit of a plate that grows with the square of its diagonal: base + coefficient D^2, D in m.

    The two numbers come from the rule that was agreed on. Raises BadInput for a side that is not above zero.
    """
    for value in (length_mm, width_mm):
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput("geometry.not_above_zero", value=value)
    return base_um + per_diagonal_um_per_m2 * (length_mm**2 + width_mm**2) / 1e6
