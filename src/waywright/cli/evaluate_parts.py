"""``waywright evaluate``: functional point, ram, roll by two lines, joint, ways, spindle, straightedge."""

from __future__ import annotations

from pathlib import Path

from waywright.cli.evaluate_answer import Drawing, Flag, Json, answer


def functional_point(
    file: Path,
    *,
    offset_mm: tuple[float, float, float],
    as_seen: Flag = False,
    quantity: str | None = None,
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """What the tool sees: deviations carried to the functional point by all three rotations.

    Parameters
    ----------
    file
        A readings table with a straightness or positioning and the rotations of the same axis.
    offset_mm
        From where the deviations were read to the functional point: along +X, +Y, +Z.
    as_seen
        The offset is to the right, up, and towards the operator; the table says `# up:` and `# operator:`.
    quantity
        Only this ISO 230-1 code, for example EYZ.
    """
    from waywright.jobs.judge_parts import functional_point_of_table

    found = functional_point_of_table(file, offset_mm, as_seen=as_seen, quantity=quantity)
    answer(found, drawing, json, file)


def ram(file: Path, *, drawing: Drawing = None, json: Json = False) -> None:
    """Ram droop against extension, weight compensation off and on.

    Parameters
    ----------
    file
        `extension_mm,off_um,on_um`: heights of the ram's end, positive upwards.
    """
    from waywright.jobs.judge_parts import ram_of_table

    answer((ram_of_table(file),), drawing, json, file)


def roll(
    first: Path,
    second: Path,
    *,
    quantity: str,
    arm_mm: float,
    same_reference: Flag = False,
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """Roll of an axis, a vertical one too, from two straightness lines on offset arms.

    Parameters
    ----------
    first
        Readings table of the first line.
    second
        Readings table of the second line.
    quantity
        Which straightness, for example EXZ.
    arm_mm
        Where the second line lies minus where the first does, along the machine axis across both, sign included.
    same_reference
        Both lines were read against one reference, so that an even roll shows.
    """
    from waywright.jobs.judge_parts import roll_of_tables

    found = roll_of_tables(first, second, quantity, arm_mm, same_reference=same_reference)
    answer((found,), drawing, json, first, second)


def joint(
    file: Path,
    *,
    at_mm: float,
    quantity: str,
    within_mm: float | None = None,
    noise_um: float | None = None,
    straight: Flag = False,
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """Step and kink at a joint of a way, from the stations either side.

    Parameters
    ----------
    file
        A readings table.
    at_mm
        Where the joint is.
    quantity
        Which straightness, for example EYZ.
    within_mm
        Only stations so near to the joint.
    noise_um
        Known standard deviation of one reading; by default from the table, or from what is left over.
    straight
        The way has no bow of its own: three stations on each side are enough instead of four.
    """
    from waywright.jobs.judge_parts import joint_of_table

    found = joint_of_table(file, at_mm, quantity, within_mm=within_mm, noise_um=noise_um, bow=not straight)
    answer((found,), drawing, json, file)


def ways(
    first: Path,
    second: Path,
    *,
    gauge_mm: float,
    height: str,
    side: str | None = None,
    bridge: Path | None = None,
    drawing: Drawing = None,
    json: Json = False,
) -> None:
    """Two ways or rails together: cross-level at each station, both as one surface, gauge and height.

    Parameters
    ----------
    first
        Readings table of the first way.
    second
        Readings table of the second way.
    gauge_mm
        Where the second lies minus where the first does, in the positive direction of the side, sign included.
    height
        The straightness that is the height, for example EYZ.
    side
        The straightness that is the side, for example EXZ: the gauge then too.
    bridge
        Heights second minus first by a bridge, which tie the two: `position_mm,difference_um,sd_um`.
    """
    from waywright.jobs.judge_parts import ways_of_tables

    answer((ways_of_tables(first, second, gauge_mm, height, side, bridge),), drawing, json, first, second)


def spindle(
    file: Path,
    *,
    mandrel_mm: tuple[float, float] | None = None,
    bore_mm: float = 0.0,
    noise_um: float | None = None,
    drawing: Drawing = None,
    json: Json = False,
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
    from waywright.jobs.judge_parts import spindle_of_table

    found = spindle_of_table(file, mandrel_mm=mandrel_mm, bore_mm=bore_mm, noise_um=noise_um)
    answer((found,), drawing, json, file)


def straightedge(
    file: Path,
    *,
    supports_mm: tuple[float, float] | None = None,
    length_mm: float | None = None,
    height_mm: float | None = None,
    modulus_gpa: float = 206.0,
    density_kg_per_m3: float = 7850.0,
    start_mm: float = 0.0,
    drawing: Drawing = None,
    json: Json = False,
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
    """
    from waywright.errors import BadInput
    from waywright.evaluate import Material
    from waywright.jobs.judge_parts import straightedge_of_table

    if supports_mm is not None and (length_mm is None or height_mm is None):
        raise BadInput("cli.straightedge_size")
    found = straightedge_of_table(
        file, supports_mm=supports_mm, length_mm=length_mm or 0.0, height_mm=height_mm or 0.0,
        material=Material(modulus_gpa, density_kg_per_m3), start_mm=start_mm,
    )  # fmt: skip
    answer((found,), drawing, json, file)


COMMANDS = (functional_point, ram, roll, joint, ways, spindle, straightedge)
