"""``waywright guard``, continued: air, bow, effort, and the evidence that was kept."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

Json = Annotated[bool, Parameter(negative="")]
Pair = tuple[float, float]
KeepAt = Annotated[str | None, Parameter(name="--keep", help="Keep the evidence at the newest set-up of this line.")]
ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"], help="The archive file; else your own.")]
By = Annotated[str | None, Parameter(name="--by", help="Who tested.")]


def air(
    *,
    length_m: float,
    gradient_k_per_m: float = 0.0,
    temperature_degc: float = 20.0,
    pressure_hpa: float = 1013.25,
    humidity_percent: float = 50.0,
    height_m: float | None = None,
    top_minus_foot_k: float = 0.0,
    keep: KeepAt = None,
    archive: ArchiveFile = None,
    by: By = None,
    json: Json = False,
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
    json
        Print JSON.
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
        where=guard_view.where(keep, archive, by),
    )
    guard_view.show_air(found, json)


def bow(
    *,
    bow_um: float,
    length_m: float,
    tolerance_um: float,
    error_um: float = 1.0,
    method: Literal["beam", "level"] = "beam",
    side: Annotated[bool, Parameter(negative="")] = False,
    height_m: float | None = None,
    top_minus_foot_k: Pair | None = None,
    gradient_k_per_m: Pair | None = None,
    drift_um_per_m: Pair | None = None,
    nonlinearity_um: Pair | None = None,
    keep: KeepAt = None,
    archive: ArchiveFile = None,
    by: By = None,
    json: Json = False,
) -> None:
    """Bow challenge: what else could make this bow, before anyone turns a support?

    Figures in pairs are a value and its standard uncertainty; without them a usual doubt is assumed.

    Parameters
    ----------
    bow_um
        The middle of the line against its ends; a hump is positive.
    length_m
        Length of the line.
    tolerance_um
        Its tolerance.
    error_um
        Standard uncertainty of the bow.
    method
        beam or level.
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
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.guard import Circumstances, Figure
    from waywright.jobs import guard as verbs

    def figure(pair: Pair | None) -> Figure | None:
        return None if pair is None else Figure(*pair)

    around = Circumstances(
        method=method,
        vertical=not side,
        height_m=height_m,
        top_minus_foot_k=figure(top_minus_foot_k),
        gradient_k_per_m=figure(gradient_k_per_m),
        drift_um_per_m=figure(drift_um_per_m),
        nonlinearity_um=figure(nonlinearity_um),
    )
    where = guard_view.where(keep, archive, by)
    found = verbs.bow(bow_um, length_m, tolerance_um=tolerance_um, error_um=error_um, circumstances=around, where=where)
    guard_view.show_bow(found, json)


def plan(
    *,
    from_mm: float,
    to_mm: float,
    tolerance_um: float,
    scatter_um: float,
    correlation_s: float,
    supports_mm: tuple[float, ...] = (),
    window_mm: float | None = None,
    uncertainty_um: float | None = None,
    longest_pass_min: float = float("inf"),
    feed_mm_per_min: float = 1000.0,
    axis: str = "Z",
    motion: Path | None = None,
    keep: KeepAt = None,
    archive: ArchiveFile = None,
    by: By = None,
    json: Json = False,
) -> None:
    """How many points, how long, and the step-and-dwell text for the operator.

    Parameters
    ----------
    from_mm
        First position of the axis.
    to_mm
        Last position, the larger one.
    tolerance_um
        Tolerance of the line.
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
        Letter of the axis in the text.
    motion
        Write the step-and-dwell text to this file.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.guard import Wish
    from waywright.jobs import guard as verbs

    wish = Wish(
        from_mm, to_mm, tolerance_um, scatter_um, correlation_s, supports_mm, window_mm, uncertainty_um,
        60.0 * longest_pass_min, feed_mm_per_min,
    )  # fmt: skip
    found = verbs.effort(wish, axis, guard_view.where(keep, archive, by))
    if motion is not None:
        motion.write_text(found.motion, encoding="ascii", newline="\n")
    guard_view.show_effort(found, json)


def list_evidence(line: str | None = None, *, archive: ArchiveFile = None, json: Json = False) -> None:
    """Tests and gates that were kept for a line.

    Parameters
    ----------
    line
        Name or id of the line; without it the newest.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.jobs import evidence

    guard_view.show_evidence(evidence.listed(evidence.Keep(line, archive)), json)


def anyway(
    test: str, *, reason: str, line: str | None = None, archive: ArchiveFile = None, by: By = None, json: Json = False
) -> None:
    """Go on although a test was not good; the reason is kept and printed in the report.

    Parameters
    ----------
    test
        The id of the test or its last characters, as `guard list --json` shows it.
    reason
        Why the work goes on.
    line
        Name or id of the line; without it the newest.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.jobs import evidence

    guard_view.show_evidence((evidence.passed_anyway(test, reason, evidence.Keep(line, archive, by)),), json)


def watch(line: str | None = None, *, archive: ArchiveFile = None, json: Json = False) -> None:
    """Compare the kept passes of a line: which station, or which pass, to take again.

    Parameters
    ----------
    line
        Name or id of the line; without it the newest.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_line

    guard_view.show_watched(guard_line.watch(line, archive), json)


def gates(
    line: str | None = None,
    *,
    keep: Annotated[bool, Parameter(negative="")] = False,
    archive: ArchiveFile = None,
    by: By = None,
    json: Json = False,
) -> None:
    """Gates of a line from what is recorded: instruments, state of the machine, heat, like states of the passes.

    Parameters
    ----------
    line
        Name or id of the line; without it the newest.
    keep
        Keep the answers as evidence of the line.
    json
        Print JSON.
    """
    from waywright.cli import guard_view
    from waywright.jobs import guard_gates
    from waywright.jobs.evidence import Keep

    guard_view.show_gates(guard_gates.gates(Keep(line, archive, by), keep=keep), json)


COMMANDS: dict[str, Callable[..., None]] = {
    "air": air,
    "bow": bow,
    "plan": plan,
    "list": list_evidence,
    "anyway": anyway,
    "watch": watch,
    "gates": gates,
}
