"""What supports cannot do, at the terminal: shims, scraping, a table for the controller, the stages."""

from __future__ import annotations

from pathlib import Path

from cyclopts import App

from waywright.cli.options import Json


def register(commands: App) -> None:
    """Add the commands of other corrections."""
    for command in (shims, scraping, table, stages):
        commands.command(command)
    commands.command(sign_test, name="sign-test")


def shims(*, thickness_um: float, stock: str, within_um: float = 5.0, json: Json = False) -> None:
    """Make a shim pack from the foils at hand: the fewest that come near enough.

    Parameters
    ----------
    thickness_um
        What the pack should be.
    stock
        The foils at hand, such as "100 x 4, 50 x 4, 20 x 10" (thickness in um, number).
    within_um
        How far off it may be.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.correct.remedies import shim_pack
    from waywright.jobs.correct_else import stock_of
    from waywright.wording import text

    pack = shim_pack(thickness_um, stock_of(stock), within_um)
    foils = " + ".join(str(foil) for foil in pack.foils_um)
    show.answer(pack, text("adjust.shim_pack", foils=foils, off_um=pack.off_um, pieces=len(pack.foils_um)), json)


def scraping(
    readings: Path, /, *, goal_um: float, width_mm: float, column: str | None = None, joints: str | None = None,
    json: Json = False,
) -> None:  # fmt: skip
    """Scraping map: what to take off at each station, the least volume to the goal. Nothing can be put on.

    Parameters
    ----------
    readings
        A readings table; higher is more metal.
    goal_um
        The straightness to be reached.
    width_mm
        Width of the way.
    column
        The quantity of the table, such as EYZ; without it the only one, or the height.
    joints
        Positions of joints in the way in mm, such as "2400, 4800": a step there is not scraped away.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.cli.adjust_view import print_scraping
    from waywright.jobs.correct import names
    from waywright.jobs.correct_else import scraping_of_table

    found = scraping_of_table(readings, goal_um, width_mm, column, [float(each) for each in names(joints)])
    if json:
        show.print_json(found)
    else:
        print_scraping(found)


def table(
    readings: Path, /, *, spacing_mm: float, column: str | None = None, out: Path | None = None, json: Json = False
) -> None:
    """Compensation table for the repeatable part, neutral CSV; of use only after the sign test.

    Parameters
    ----------
    readings
        A readings table with two passes or more, in the ISO sign.
    spacing_mm
        Distance of the points of the table.
    column
        The quantity, such as EYZ; without it the only one.
    out
        Where to write the CSV; without it it is printed.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.cli.adjust_view import print_table
    from waywright.jobs.correct_else import compensation_of_table

    found = compensation_of_table(readings, spacing_mm, column)
    if out is not None:
        out.write_text(found.text(), encoding="utf-8", newline="\n")
    if json:
        show.print_json(found)
    else:
        print_table(found, out)


def sign_test(*, change_um: float, applied_um: float = 10.0, noise_um: float = 1.0, json: Json = False) -> None:
    """Compulsory sign test: a known step was put into the table at one point; what did the reading do?

    Parameters
    ----------
    change_um
        The change of the reading at that point, ISO sign.
    applied_um
        What was put in.
    noise_um
        Standard deviation of the change.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.correct.remedies import sign_of_table
    from waywright.wording import text

    sign = sign_of_table(change_um, noise_um, applied_um)
    sentence = text(
        "adjust.sign_kept" if sign > 0 else "adjust.sign_turned", applied_um=applied_um, change_um=change_um
    )
    show.answer({"sign": sign}, sentence, json)


def stages(
    machine: Path,
    /,
    *,
    height_um: float,
    height_goal_um: float,
    twist_um: float | None = None,
    twist_goal_um: float | None = None,
    side_um: float | None = None,
    side_goal_um: float | None = None,
    joints_checked: bool = False,
    bolts_final: bool = False,
    json: Json = False,
) -> None:
    """The stages of levelling in the order of the trade: what is done, what is to do now, what comes later.

    Parameters
    ----------
    machine
        The machine file with bed and supports.
    height_um
        Straightness of the height as found.
    height_goal_um
        What is wanted of it.
    twist_um
        Twist as height difference over the gauge.
    twist_goal_um
        What is wanted of it.
    side_um
        Straightness of the side.
    side_goal_um
        What is wanted of it.
    joints_checked
        The steps across the joints were checked since the last move.
    bolts_final
        The anchors are at their final torque.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.cli.adjust_view import print_stages
    from waywright.correct import Found
    from waywright.jobs.stages import stages_of

    found = stages_of(
        machine,
        Found(height_um, height_goal_um, twist_um, twist_goal_um, side_um, side_goal_um, joints_checked, bolts_final),
    )
    if json:
        show.print_json(found)
    else:
        print_stages(found)
