"""``waywright guard``, continued: steadiness, air, bow, effort."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from waywright.cli.guard_options import SHOWN, Kept, Known, Pair, Tolerance


def steadiness(
    near: Path | None = None,
    far: Path | None = None,
    *,
    line: Known = None,
    near_m: float | None = None,
    far_m: float | None = None,
    tolerance_um: Tolerance = None,
    wished_um: float,
    pass_min: float,
    kept: Kept = SHOWN,
) -> None:
    """Steadiness from two recordings at standstill: use, repeat, or not today.

    Parameters
    ----------
    near
        Table `time_s,height_um,...`, recorded near the source; empty cells where the beam was lost. Without tables the
        longest readings of a kept line, nearest and farthest.
    far
        The same, recorded far from the source.
    near_m
        Distance of the near place from the source.
    far_m
        Distance of the far place.
    wished_um
        The scatter (standard deviation) that an averaged reading may have.
    pass_min
        How long a pass is meant to take.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_asked

    found = guard_asked.steadiness(
        (near, near_m),
        (far, far_m),
        guard_asked.Source(line, kept.archive),
        tolerance_um=tolerance_um,
        wished_um=wished_um,
        pass_s=60.0 * pass_min,
        where=guard_view.where(kept),
    )
    guard_view.show_steadiness(found, kept.json)


def air(
    *,
    length_m: float,
    gradient_k_per_m: float = 0.0,
    temperature_degc: float = 20.0,
    pressure_hpa: float = 1013.25,
    humidity_percent: float = 50.0,
    height_m: float | None = None,
    top_minus_foot_k: float = 0.0,
    kept: Kept = SHOWN,
) -> None:
    """Air and heat: refractivity, bend of the beam, bow of a warm bed, curvature of the earth.

    Parameters
    ----------
    length_m
        Length of the line, from the source.
    gradient_k_per_m
        How much warmer the air is a metre higher.
    temperature_degc
        Temperature of the air at the beam.
    pressure_hpa
        Pressure of the air.
    humidity_percent
        Relative humidity.
    height_m
        Height of the bed between its top and its foot.
    top_minus_foot_k
        How much warmer the top of the bed is than its foot.
    """
    from waywright.cli import guard_view
    from waywright.guard import Air
    from waywright.jobs import guard as verbs

    found = verbs.air_figures(
        Air(temperature_degc, pressure_hpa, humidity_percent),
        length_m,
        gradient_k_per_m,
        height_m=height_m,
        top_minus_foot_k=top_minus_foot_k,
        where=guard_view.where(kept),
    )
    guard_view.show_air(found, kept.json)


def bow(
    *,
    line: Known = None,
    quantity: str | None = None,
    bow_um: float | None = None,
    length_m: float | None = None,
    tolerance_um: Tolerance = None,
    error_um: float | None = None,
    method: Literal["beam", "level"] | None = None,
    side: Annotated[bool, Parameter(negative="")] = False,
    height_m: float | None = None,
    top_minus_foot_k: Pair | None = None,
    gradient_k_per_m: Pair | None = None,
    drift_um_per_m: Pair | None = None,
    nonlinearity_um: Pair | None = None,
    kept: Kept = SHOWN,
) -> None:
    """Bow challenge: what else could make this bow, before anyone turns a support?

    Figures in pairs are a value and its standard uncertainty; without them, and without a kept line that has them, a
    usual doubt is assumed.

    Parameters
    ----------
    quantity
        ISO 230-1 code of the bow in the kept line; without it its first straightness.
    bow_um
        The middle of the line against its ends; a hump is positive.
    length_m
        Length of the line.
    error_um
        Standard uncertainty of the bow; 1 um where nothing tells it.
    method
        beam (without this option) or level.
    side
        The line's side, not its height.
    height_m
        Height of the bed between top and foot.
    top_minus_foot_k
        Temperature of the bed's top less that of its foot.
    gradient_k_per_m
        How much warmer the air is a metre higher.
    drift_um_per_m
        Change of the beam's angle in the readings during one pass away from the source.
    nonlinearity_um
        Largest error of the detector over the excursion.
    """
    from waywright.cli import guard_view
    from waywright.guard import Figure
    from waywright.jobs import guard_asked

    pairs = {"top_minus_foot_k": top_minus_foot_k, "gradient_k_per_m": gradient_k_per_m,
             "drift_um_per_m": drift_um_per_m, "nonlinearity_um": nonlinearity_um}  # fmt: skip
    told: dict[str, object] = {name: None if pair is None else Figure(*pair) for name, pair in pairs.items()}
    told |= {"height_m": height_m, "method": method, "vertical": False if side else None}
    figures = {"bow_um": bow_um, "length_m": length_m, "tolerance_um": tolerance_um, "error_um": error_um}
    source = guard_asked.Source(line, kept.archive, quantity)
    guard_view.show_bow(guard_asked.bow(figures, told, source, guard_view.where(kept)), kept.json)


def plan(
    *,
    line: Known = None,
    from_mm: float | None = None,
    to_mm: float | None = None,
    tolerance_um: Tolerance = None,
    scatter_um: float | None = None,
    correlation_s: float | None = None,
    supports_mm: tuple[float, ...] = (),
    window_mm: float | None = None,
    uncertainty_um: float | None = None,
    longest_pass_min: float | None = None,
    feed_mm_per_min: float = 1000.0,
    axis: str | None = None,
    motion: Path | None = None,
    kept: Kept = SHOWN,
) -> None:
    """How many points, how long, and the step-and-dwell text for the operator.

    Kept at a line, the stations are what later passes of it are watched against.

    Parameters
    ----------
    from_mm
        First position of the axis.
    to_mm
        Last position, the larger one.
    scatter_um
        Scatter of one sample, from the steadiness record.
    correlation_s
        Correlation time of the air, from the steadiness record.
    supports_mm
        Positions of the axis over the supports.
    window_mm
        Window of a local tolerance.
    uncertainty_um
        Standard uncertainty wished for a station's mean.
    longest_pass_min
        Longest pass that the drift allows.
    feed_mm_per_min
        Feed between stations.
    axis
        Letter of the axis in the text; without it that of the kept line, or Z.
    motion
        Write the step-and-dwell text to this file.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_asked

    told = {
        "from_mm": from_mm, "to_mm": to_mm, "tolerance_um": tolerance_um, "scatter_um": scatter_um,
        "correlation_s": correlation_s, "supports_mm": supports_mm, "window_mm": window_mm,
        "uncertainty_um": uncertainty_um, "feed_mm_per_min": feed_mm_per_min,
        "longest_pass_s": None if longest_pass_min is None else 60.0 * longest_pass_min,
    }  # fmt: skip
    found = guard_asked.plan(told, axis, guard_asked.Source(line, kept.archive), guard_view.where(kept))
    if motion is not None:
        motion.write_text(found.motion, encoding="ascii", newline="\n")
    guard_view.show_effort(found, kept.json)


COMMANDS: dict[str, Callable[..., None]] = {"steadiness": steadiness, "air": air, "bow": bow, "plan": plan}
