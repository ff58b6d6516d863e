"""The tables of a scenario file for the instruments beside beam, distance meter and level."""

from __future__ import annotations

from waywright.simulation.sections import NotNegative, Positive, Section


class ReferenceLevel(Section, frozen=True):
    """The second level of a pair: it stands on the bed at ``position_mm`` of the line and is left there."""

    position_mm: NotNegative = 0.0
    noise_um_per_m: NotNegative = 1.5
    zero_um_per_m: float = -8.0
    resolution_um_per_m: Positive = 0.5
    rate_hz: Positive = 10.0


class Autocollimator(Section, frozen=True):
    """An autocollimator at the source's end of the bed, its reflector on the carriage.

    ``noise_um_per_m`` is its own; air adds ``air_um_per_m`` at 5 m, growing with the root of the distance.
    ``zero_um_per_m`` is how far (tilt, turn) it is off at the start.
    """

    noise_um_per_m: NotNegative = 0.2
    air_um_per_m: NotNegative = 0.5
    zero_um_per_m: tuple[float, float] = (38.0, -21.0)
    resolution_arcsec: Positive = 0.01
    rate_hz: Positive = 10.0


class Indicator(Section, frozen=True):
    """A dial indicator on the carriage; its plunger rides on a straightedge that lies beside the way.

    The straightedge reaches from ``from_mm`` to ``to_mm`` of the line, its middle ``bow_um`` too high, its far end
    ``tilt_um`` higher than its near one. ``friction_um`` is by how much the pointer lags, either way. Pressed in counts
    positive: it grows as the carriage sinks.
    """

    from_mm: NotNegative = 1800.0
    to_mm: Positive = 3300.0
    bow_um: float = 1.5
    tilt_um: float = 6.0
    set_um: float = 250.0
    friction_um: NotNegative = 0.8
    noise_um: NotNegative = 0.2
    resolution_um: Positive = 1.0
    rate_hz: Positive = 5.0


class Climate(Section, frozen=True):
    """Four thermometers: air ``low_m`` and ``high_m`` above the floor, the bed's top and its foot.

    The difference in the air is the scenario's gradient; that in the bed follows from how far it has crowned.
    """

    air_degc: float = 19.6
    bed_degc: float = 19.2
    low_m: NotNegative = 0.4
    high_m: Positive = 2.4
    expansion_um_per_m_k: Positive = 11.5
    noise_k: NotNegative = 0.01
    resolution_k: Positive = 0.01
    rate_hz: Positive = 1.0


class Controller(Section, frozen=True):
    """The machine's own position of the axis, as its controller tells it.

    ``scale_um_per_m`` is how much too long its scale is, so that it counts too little; ``backlash_mm`` is the play that
    it does not see.
    """

    scale_um_per_m: float = 14.0
    backlash_mm: NotNegative = 0.01
    resolution_mm: Positive = 0.001
    rate_hz: Positive = 20.0
