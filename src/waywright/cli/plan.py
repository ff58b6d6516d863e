"""``waywright plan``: the test plan of a visit, from a draft to what binds both sides."""

from __future__ import annotations

from pathlib import Path

from cyclopts import App

from waywright.cli.options import ArchivePlace, Json, opened_archive

commands = App(name="plan", help="Agree on what is measured before measuring: templates, tests, tolerances, agreement.")


@commands.command
def templates(*, json: Json = False) -> None:
    """List the templates: the usual tests of a kind of machine, with the standard to look them up in.

    Parameters
    ----------
    json
        Print JSON.
    """
    from waywright.cli.plan_view import show_templates
    from waywright.files.plan_template import template, template_names

    show_templates(tuple(template(name) for name in template_names()), json)


@commands.command
def procedure(name: str, /, *, picture: Path | None = None, json: Json = False) -> None:
    """Say how a test is done: steps, what goes wrong, cautions.

    Parameters
    ----------
    name
        The procedure, as `plan show TEST` names it.
    picture
        Write the drawing of the set-up there (SVG).
    json
        Print JSON.
    """
    from waywright.cli.plan_view import show_procedure
    from waywright.drawing.setup_pictures import setup_picture
    from waywright.files.procedures import procedure as find

    found = find(name)
    if picture is not None:
        picture.write_text(setup_picture(found.picture, found.title) or "", encoding="utf-8")
    show_procedure(found, json)


@commands.command
def new(
    *,
    visit: str | None = None,
    template: str | None = None,
    title: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Begin the plan of a visit from a template; its tolerances are examples to be replaced.

    Parameters
    ----------
    visit
        The last characters of the visit's id; without it the newest.
    template
        The template; without it the one that fits the kind of machine.
    title
        What the plan is called; without it the machine's name.
    by
        Who drafts it; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.plan_view import show_plan
    from waywright.jobs.people import who
    from waywright.jobs.plans import begin_plan
    from waywright.jobs.visits import find_visit

    with opened_archive(archive) as opened:
        made = begin_plan(opened, find_visit(opened, visit), template, title, who(opened, by))
        show_plan(opened, made, json)


@commands.command
def show(
    test: str | None = None,
    /,
    *,
    visit: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Show the plan of a visit: tests, tolerances with their sources, and what binds; or all about one test.

    Parameters
    ----------
    test
        The short name of a test.
    visit
        The last characters of the visit's id; without it the newest.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.plan_view import show_item, show_plan
    from waywright.jobs.plans import the_item, the_plan
    from waywright.jobs.visits import find_visit

    with opened_archive(archive) as opened:
        plan = the_plan(opened, find_visit(opened, visit))
        if test is None:
            show_plan(opened, plan, json)
        else:
            show_item(opened, plan, the_item(plan, test), json)


@commands.command
def edit(
    test: str,
    /,
    *,
    rule: str | None = None,
    source: str | None = None,
    confirmed_by: str | None = None,
    what: str | None = None,
    code: str | None = None,
    axis: str | None = None,
    datum: str | None = None,
    functional_point: str | None = None,
    reference: str | None = None,
    line: str | None = None,
    standard: str | None = None,
    remark: str | None = None,
    remove: bool = False,
    visit: str | None = None,
    reason: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Change, add or remove a test of the plan. Agreements are taken back: they were given to what it said before.

    Parameters
    ----------
    test
        The short name of the test; with --what a new name adds a test.
    rule
        The tolerance, for example "0.02 up to 1000, +0.01 per further 1000 or part, max 0.05" (mm).
    source
        Where the tolerance stands: contract, sheet, clause.
    confirmed_by
        Who has looked it up there. Without that a verdict is for information only.
    what
        What is tested, in plain words.
    code
        The error motion by its ISO 230-1 code, for example EYZ.
    axis
        The axis that moves.
    datum
        What it is measured against.
    functional_point
        The point that matters.
    reference
        The reference line: end-points, least-squares or minimum-zone.
    line
        The line that answers the test.
    standard
        The number of the standard to look the test up in.
    remark
        Anything else.
    remove
        Take the test out of the plan.
    visit
        The last characters of the visit's id; without it the newest.
    reason
        Why; it is kept with the change.
    by
        Who changes it; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.plan_view import show_plan
    from waywright.jobs.plan_edit import ItemEdit, edit_plan

    said = {
        "what": what, "code": code, "axis": axis, "datum": datum, "functional_point": functional_point,
        "reference": reference, "line": line, "standard": standard, "remark": remark,
    }  # fmt: skip
    fields = {name: value for name, value in said.items() if value is not None}
    wanted = ItemEdit(test, fields, rule, source, confirmed_by, remove, reason)
    with opened_archive(archive) as opened:
        show_plan(opened, edit_plan(opened, visit, wanted, by), json)


@commands.command
def decide(
    *,
    burden: str | None = None,
    confidence: float | None = None,
    anchor_bolts: str | None = None,
    clamps: str | None = None,
    compensation: str | None = None,
    other_axes: str | None = None,
    warm_up: str | None = None,
    visit: str | None = None,
    reason: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Change the decision rule of the plan and the state that the machine is to be measured in.

    Parameters
    ----------
    burden
        Who has to prove: supplier, customer, shared, or simple (the value alone).
    confidence
        At which probability, for example 0.95.
    anchor_bolts
        slack, snug or final.
    clamps
        Which clamps are on.
    compensation
        Tables of the controller: on or off.
    other_axes
        Where the other axes stand.
    warm_up
        How the machine is warmed up.
    visit
        The last characters of the visit's id; without it the newest.
    reason
        Why; it is kept with the change.
    by
        Who changes it; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.plan_view import show_plan
    from waywright.jobs.plan_edit import PlanEdit, edit_rules

    state = {
        "anchor_bolts": anchor_bolts, "clamps": clamps, "compensation": compensation, "other_axes": other_axes,
        "warm_up": warm_up,
    }  # fmt: skip
    wanted = PlanEdit(burden, confidence, {name: value for name, value in state.items() if value is not None}, reason)
    with opened_archive(archive) as opened:
        show_plan(opened, edit_rules(opened, visit, wanted, by), json)


@commands.command
def agree(
    name: str,
    /,
    *,
    party: str = "customer",
    visit: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Keep that somebody agrees to the plan as it stands.

    Parameters
    ----------
    name
        Who agrees.
    party
        For which side: customer, technician or maker.
    visit
        The last characters of the visit's id; without it the newest.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.plan_view import show_plan
    from waywright.clocks import SystemClock
    from waywright.jobs.people import person_named
    from waywright.jobs.plans import agree as do
    from waywright.jobs.plans import the_plan
    from waywright.jobs.visits import find_visit

    with opened_archive(archive) as opened:
        plan = the_plan(opened, find_visit(opened, visit))
        show_plan(opened, do(opened, plan, person_named(opened, name, party), party, SystemClock()), json)
