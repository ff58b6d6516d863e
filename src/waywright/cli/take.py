"""``waywright demo``, ``simulate`` and ``capture``: the commands that take readings."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter
from cyclopts.validators import Number

ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"])]
Positive = Annotated[float, Parameter(validator=Number(gt=0))]


def demo(
    *,
    folder: Path = Path("waywright-demo"),
    real_time: Annotated[bool, Parameter(negative="")] = False,
    whole: Annotated[bool, Parameter(negative="")] = False,
    json: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Run the main job in an invented workshop: take, judge, prove.

    A simulated roll lathe is measured through real instrument links by the same code that a real detector would feed.
    All names and numbers of the workshop are invented.

    Parameters
    ----------
    folder
        Where descriptions, archive and report are written.
    real_time
        Run as it would be on the floor (about nine minutes) instead of about 20 times as fast.
    whole
        Go on to the end: plan, let a simulated fitter turn the supports, measure round by round, and as left.
    json
        Print the result as JSON.
    """
    if whole:
        from waywright.cli import whole_view
        from waywright.jobs.practise import DEMO_FACTOR

        whole_view.run(folder, factor=1.0 if real_time else DEMO_FACTOR, as_json=json)
        return
    from waywright.cli.demo_view import run

    run(folder, real_time=real_time, as_json=json)


def simulate(
    *,
    folder: Path = Path("waywright-practice"),
    scenario: Path | None = None,
    factor: Positive = 1.0,
    optional_links: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Serve the invented workshop's instruments, to practise with `capture` in another window.

    Beside beam, distance meter and level there are the second level of the pair, an autocollimator and a dial
    indicator that are asked, and thermometers that send datagrams.

    Parameters
    ----------
    folder
        Where the instrument descriptions and the machine file are written.
    scenario
        A scenario file (TOML), or one that comes with the program: calm-hall (without this option), cold-morning,
        hollow-support, open-door, person-in-the-beam, slipped-magnet, swapped-channels.
    factor
        How many times faster than real time; `capture` needs the same factor.
    optional_links
        The controller's position (OPC UA) and the thermometers by way of a broker (MQTT) as well; needs the optional
        part `practice`.
    """
    from waywright.cli.simulate_view import run

    run(folder, scenario, factor, optional_links=optional_links)


def capture(
    instruments: Annotated[list[Path], Parameter(negative="")],
    /,
    *,
    set_up: Path | None = None,
    machine: Path | None = None,
    visit: str | None = None,
    line: str | None = None,
    axis: str = "X",
    up: str = "+Z",
    operator: str = "-Y",
    from_mm: float | None = None,
    to_mm: float | None = None,
    passes: str | None = None,
    averaging_s: Positive | None = None,
    dwell_s: Positive = 1.5,
    smallest_step_mm: Positive = 20.0,
    technician: str | None = None,
    continue_pass: Annotated[bool, Parameter(name="--continue", negative="")] = False,
    factor: Positive = 1.0,
    archive: ArchiveFile = None,
    json: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Take passes hands-free: every standstill of the axis becomes a reading, saved at once.

    Enter takes a reading by hand, "e" and Enter ends the pass, ctrl-c stops. A class 2 laser is still a laser: never
    look into the beam, end it on something dull, and keep clear of the moving axis. Waywright moves nothing.

    Parameters
    ----------
    instruments
        Instrument description files; exactly one channel of them is a position.
    set_up
        A set-up file (TOML) with the line, the set-up and the conditions; then line, axis, from-mm and to-mm do not
        count.
    machine
        A machine file (TOML), or the name of a machine that the archive knows; without it `up` and `operator` say how
        the axes lie.
    visit
        The visit that the line belongs to, by its id or the last characters of it, as `waywright visit list` shows
        them; then the machine is the visit's. Without it a visit begins.
    line
        Name of the line that is measured; with --continue the line to go on with, without it the newest.
    axis
        The moving axis: X, Y or Z.
    up
        The signed axis that points up.
    operator
        The signed axis that points towards the operator.
    from_mm
        Where the travel to be measured begins.
    to_mm
        Where it ends; a reading there ends a forward pass by itself.
    passes
        Directions one after the other, such as "forward,backward"; without it one forward pass. With --continue the
        passes to take after the interrupted one.
    averaging_s
        Averaging time of a reading; without it chosen from the noise.
    dwell_s
        How long the axis must stand still before averaging begins.
    smallest_step_mm
        Standstills closer than this to a station are that station again.
    technician
        Who measures.
    continue_pass
        Go on with the last pass of this line if it was interrupted, then take `passes`, if named, on the same line.
    factor
        Pace of the clock; 1 except with a simulated workshop.
    archive
        The archive file; without it the one in your user data folder.
    json
        Print one JSON document at the end.
    """
    from waywright.cli.capture_view import run
    from waywright.jobs.orders import CaptureOrder

    order = CaptureOrder(
        instruments=tuple(instruments),
        set_up=set_up,
        machine=machine,
        visit=visit,
        line=line,
        axis=axis,
        up=up,
        operator=operator,
        from_mm=from_mm,
        to_mm=to_mm,
        passes=_directions(passes, continue_pass),
        averaging_s=averaging_s,
        dwell_s=dwell_s,
        smallest_step_mm=smallest_step_mm,
        technician=technician,
        continue_pass=continue_pass,
        factor=factor,
        archive=archive,
    )
    run(order, as_json=json)


def _directions(passes: str | None, continue_pass: bool) -> tuple[str, ...]:
    """The passes that are asked for; going on asks for none beyond the interrupted one."""
    if passes is None:
        return () if continue_pass else ("forward",)
    return tuple(part.strip() for part in passes.split(","))
