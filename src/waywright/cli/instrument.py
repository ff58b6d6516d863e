"""``waywright instrument``: describe an instrument, look at what it says, tell it something."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

commands = App(name="instrument", help="Describe an instrument, and check what it says.")

Flag = Annotated[bool, Parameter(negative="")]


@commands.command
def new(file: Path, link: str, /, *, send: str | None = None, rate_hz: float = 10.0, seconds: float = 5.0) -> None:
    """Listen to a link, show its lines, and write a first description of the instrument.

    Parameters
    ----------
    file
        The description file to be written; it must not exist.
    link
        Where it is: tcp://HOST:PORT, tcp-server://:PORT, udp://:PORT, serial:COM3?baud=9600&parity=even, file:PATH,
        visa:RESOURCE, mqtt://HOST/TOPIC.
    send
        What has to be sent for every line, with \\r and \\n for line ends.
    rate_hz
        How often it is sent.
    seconds
        How long to listen.
    """
    import asyncio

    from waywright.cli.instrument_view import print_heard
    from waywright.clocks import SystemClock
    from waywright.jobs.new_instrument import hear, link_of, write_description

    stated = link_of(link)
    question = None if send is None else send.replace("\\r", "\r").replace("\\n", "\n")
    heard = asyncio.run(hear(stated, question, rate_hz, seconds, SystemClock()))
    write_description(file, stated, question, heard)
    print_heard(heard, file)


@commands.command
def example(name: str, file: Path, /) -> None:
    """Write a commented example to start from, where no instrument is at hand to listen to.

    Parameters
    ----------
    name
        stream (it sends by itself), asked (it answers) or scpi (it is queried over VISA).
    file
        The description file to be written; it must not exist.
    """
    from waywright.cli import show
    from waywright.jobs.new_instrument import write_example
    from waywright.wording import text

    write_example(name, file)
    show.console().print(text("instruments.example_written", file=str(file)), soft_wrap=True)


@commands.command
def check(file: Path, /, *, seconds: float | None = None, factor: float = 1.0, json: Flag = False) -> int:
    """Show what an instrument says as its description reads it: values, rates, gaps, and what did not match.

    Exit code 0 if values came, otherwise 1.

    Parameters
    ----------
    file
        The description file.
    seconds
        How long to listen; without it until ctrl-c, with --json 5 s.
    factor
        Pace of the clock; 1 except with a simulated workshop.
    json
        Print one JSON document at the end.
    """
    from waywright.cli import show
    from waywright.cli.instrument_view import check_live

    listened = 5.0 if json and seconds is None else seconds
    found = check_live(file, listened, factor, quiet=json)
    if json:
        show.print_json(found)
    return 0 if found.samples else 1


@commands.command
def tell(file: Path, command: str, values: Annotated[list[str] | None, Parameter(negative="")] = None, /) -> None:
    """Tell an instrument one of the commands of its description, for example zero.

    Parameters
    ----------
    file
        The description file.
    command
        The name of the command.
    values
        The values that it takes, as name=number.
    """
    import asyncio

    from waywright.cli import show
    from waywright.clocks import SystemClock
    from waywright.errors import BadInput
    from waywright.jobs.instruments import tell as do
    from waywright.wording import text

    given: dict[str, float] = {}
    for said in values or ():
        name, _, number = said.partition("=")
        try:
            given[name] = float(number)
        except ValueError:
            raise BadInput("instruments.bad_command_value", said=said) from None
    asyncio.run(do(file, command, given, SystemClock()))
    show.console().print(text("instruments.command_done", name=command))


@commands.command
def delay(
    first: Path,
    second: Path,
    /,
    *,
    channel: str | None = None,
    seconds: float = 60.0,
    factor: float = 1.0,
    json: Flag = False,
) -> None:
    """Find how much later than the first instrument the second one says what it measured, while the axis moves.

    Drive there and back, with stops. A detector tells it too if the beam is tilted on purpose.

    Parameters
    ----------
    first
        The description file of a position source.
    second
        The description file of another position source, or of a detector.
    channel
        The channel of the second instrument; without it its first.
    seconds
        How long to listen.
    factor
        Pace of the clock; 1 except with a simulated workshop.
    json
        Print JSON.
    """
    import asyncio

    from waywright.cli import show
    from waywright.clocks import ScaledClock, SystemClock
    from waywright.jobs.link_delay import link_delay
    from waywright.wording import text

    clock = SystemClock() if factor == 1.0 else ScaledClock(factor)
    found = asyncio.run(link_delay(first, second, channel, seconds, clock))
    if json:
        show.print_json(found)
    elif found.delay_s is None or found.standard_uncertainty_s is None:
        show.console().print(text(found.reason or "instruments.delay_not_determinable"))
    else:
        facts = {"first": found.first, "second": found.second, "delay_s": found.delay_s}
        show.console().print(text("instruments.delay_found", **facts, u_s=found.standard_uncertainty_s))


def _others() -> None:
    """The command about the archive stands in a file of its own."""
    from waywright.cli import instrument_keep

    instrument_keep.add_to(commands)


_others()
