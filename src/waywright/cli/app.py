"""The tree of commands. Heavy libraries are imported inside the bodies, never here."""

from __future__ import annotations

from cyclopts import App

from waywright import __version__
from waywright.cli import (
    archive,
    certificate,
    evaluate,
    foreign,
    guard,
    instrument,
    machine,
    on_the_spot,
    plan,
    prove,
    serve,
    sheet,
    take,
    type_in,
    visit,
)
from waywright.cli.budget import budget
from waywright.cli.correct import correct
from waywright.cli.decide import decide

app = App(
    name="waywright",
    help="Take, judge, correct, prove: the geometry of machine tools on the customer's floor.",
    version=__version__,
    suppress_keyboard_interrupt=False,
)
app.command(take.demo)
app.command(take.simulate)
app.command(take.capture)
app.command(serve.serve)
app.command(evaluate.commands)
app.command(guard.commands)
app.command(decide)
app.command(budget)
app.command(correct)
app.command(prove.commands)
app.command(on_the_spot.witness)
app.command(on_the_spot.self_check)
app.command(type_in.type_in, name="type")
app.command(foreign.commands)
app.command(sheet.commands)
instrument.commands.command(certificate.certificate)
app.command(instrument.commands)
app.command(machine.commands)
app.command(visit.commands)
app.command(plan.commands)
app.command(archive.commands)
