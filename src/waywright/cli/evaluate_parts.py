"""``waywright evaluate``: functional point, ram, roll, joint, ways, spindle, straightedge; and what is kept of all."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from waywright.cli.evaluate_answer import (
    PLAIN,
    UNASKED,
    Bridge,
    Code,
    First,
    Flag,
    Second,
    Straight,
    Table,
    Trust,
    Way,
    answer,
)


def functional_point(
    file: Table,
    *,
    offset_mm: tuple[float, float, float],
    as_seen: Flag = False,
    quantity: Code = None,
    way: Way = PLAIN,
) -> None:
    """What the tool sees: deviations carried to the functional point by all three rotations of the same axis.

    Parameters
    ----------
    offset_mm
        From where the deviations were read to the functional point: along +X, +Y, +Z.
    as_seen
        The offset is to the right, up, and towards the operator; the table says `# up:` and `# operator:`.
    """
    answer("functional-point", way, file=file, offset_mm=offset_mm, as_seen=as_seen, quantity=quantity)


def ram(file: Path, *, way: Way = PLAIN) -> None:
    """Ram droop against extension, weight compensation off and on.

    Parameters
    ----------
    file
        `extension_mm,off_um,on_um`: heights of the ram's end, positive upwards.
    """
    answer("ram", way, file=file)


def roll(
    first: First,
    second: Second,
    *,
    quantity: Straight,
    arm_mm: float,
    same_reference: Flag = False,
    trust: Trust = UNASKED,
    way: Way = PLAIN,
) -> None:
    """Roll of an axis, a vertical one too, from two straightness lines on offset arms.

    Parameters
    ----------
    arm_mm
        Where the second line lies minus where the first does, along the machine axis across both, sign included.
    same_reference
        Both lines were read against one reference, so that an even roll shows.
    """
    answer(
        "roll", way, trust, first=first, second=second, quantity=quantity, arm_mm=arm_mm, same_reference=same_reference
    )  # fmt: skip


def joint(
    file: Table,
    *,
    quantity: Code = None,
    at_mm: float | None = None,
    machine: Path | None = None,
    within_mm: float | None = None,
    noise_um: float | None = None,
    straight: Flag = False,
    trust: Trust = UNASKED,
    way: Way = PLAIN,
) -> None:
    """Step and kink at a joint of a way, from the stations either side.

    Parameters
    ----------
    at_mm
        Where the joint is; without it at the joints of the machine, of its file or of a kept line's.
    machine
        A machine file whose bed has joints; the table says by `# zero mark:` where its positions count from.
    within_mm
        Only stations so near to the joint.
    noise_um
        Known standard deviation of one reading; by default from the table, or from what is left over.
    straight
        The way has no bow of its own: three stations on each side are enough instead of four.
    """
    answer(
        "joint", way, trust, file=file, quantity=quantity, at_mm=at_mm, machine=machine, within_mm=within_mm,
        noise_um=noise_um, bow=not straight,
    )  # fmt: skip


def ways(
    first: First,
    second: Second,
    *,
    gauge_mm: float,
    height: str,
    side: str | None = None,
    bridge: Bridge = None,
    way: Way = PLAIN,
) -> None:
    """Two ways or rails together: cross-level at each station, both as one surface, gauge and height.

    Parameters
    ----------
    gauge_mm
        Where the second lies minus where the first does, in the positive direction of the side, sign included.
    height
        The straightness that is the height, for example EYZ.
    side
        The straightness that is the side, for example EXZ: the gauge then too.
    """
    answer("ways", way, first=first, second=second, gauge_mm=gauge_mm, height=height, side=side, bridge=bridge)


def spindle(
    file: Path,
    *,
    mandrel_mm: tuple[float, float] | None = None,
    bore_mm: float = 0.0,
    noise_um: float | None = None,
    way: Way = PLAIN,
) -> None:
    """Spindle to axis by a mandrel, read near and far at 0 degrees and turned by 180 degrees.

    Parameters
    ----------
    file
        `position_mm,at_0_um,at_180_um`, optionally `mandrel_sag_um` and `holder_sag_um` in the sign of the readings.
    mandrel_mm
        Length and diameter of a steel mandrel held at position 0: its sag is worked out (vertical plane, up positive).
    bore_mm
        Bore of that mandrel.
    noise_um
        Standard deviation of one reading.
    """
    answer("spindle", way, file=file, mandrel_mm=mandrel_mm, bore_mm=bore_mm, noise_um=noise_um)


def straightedge(
    file: Path,
    *,
    supports_mm: tuple[float, float] | None = None,
    length_mm: float = 0.0,
    height_mm: float = 0.0,
    modulus_gpa: float = 206.0,
    density_kg_per_m3: float = 7850.0,
    start_mm: float = 0.0,
    sag_uncertainty: float = 0.1,
    way: Way = PLAIN,
) -> None:
    """Straightedge reversal: machine and straightedge told apart, with the sag of the straightedge.

    Parameters
    ----------
    file
        `position_mm,normal_um,turned_um`, optionally `sd_normal_um,sd_turned_um`; in the vertical plane up is positive.
    supports_mm
        Vertical plane: both supports, from the straightedge's first end.
    length_mm
        Length of the straightedge.
    height_mm
        Height of its full rectangular section.
    modulus_gpa
        Young's modulus; steel by default.
    density_kg_per_m3
        Density; steel by default.
    start_mm
        Position at which its first end lies.
    sag_uncertainty
        Standard uncertainty of the sag, as a share of it.
    """
    answer(
        "straightedge", way, file=file, supports_mm=supports_mm, length_mm=length_mm, height_mm=height_mm,
        modulus_gpa=modulus_gpa, density_kg_per_m3=density_kg_per_m3, start_mm=start_mm, sag_share=sag_uncertainty,
    )  # fmt: skip


def kept(
    *,
    leave_out: str | None = None,
    archive: Annotated[Path | None, Parameter(name=["--archive", "-a"])] = None,
    json: Flag = False,
) -> None:
    """Results kept for reports, and what they say today.

    Parameters
    ----------
    leave_out
        Id (its last characters are enough) of a kept result that no report shall show any more; its record stays.
    archive
        The archive; without it the one in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.judged_at_visit import kept_entries, take_back_question

    if leave_out is not None:
        take_back_question(archive, leave_out)
    entries = kept_entries(archive)
    if json:
        show.print_json({"kept": entries})
        return
    page = show.table("kind", "visit", "line", "says", "id")
    for column in page.columns:
        column.justify = "left"
    for one in entries:
        page.add_row(one.kind, f"{one.made_utc:%Y-%m-%d}", one.line or "", one.says, str(one.id)[-6:])
    show.console().print(page)


COMMANDS = (functional_point, ram, roll, joint, ways, spindle, straightedge, kept)
