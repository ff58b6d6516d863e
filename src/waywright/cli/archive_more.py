"""``waywright archive``: search, people, files, and all results computed again."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter
from cyclopts.validators import Number

from waywright.cli.options import ArchivePlace, Json, opened_archive, tail

Workers = Annotated[int | None, Parameter(validator=Number(gte=1))]


def add_to(commands: App) -> None:
    """Add the commands of this file."""
    for command in (search, people, instruments, blank, extract, reassess, roles):
        commands.command(command)


def search(words: str, /, *, size: int = 50, archive: ArchivePlace = None, json: Json = False) -> None:
    """Find machines, people, visits, lines, instruments, plans and sheets that have all the words in them.

    Parameters
    ----------
    words
        The words, in one pair of quotes; capitals do not matter.
    size
        How many to show at most.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.wording import text

    with opened_archive(archive) as opened:
        found = opened.search(words, size)
    if json:
        show.print_json([{"kind": kind, "record": record} for kind, record in found])
        return
    page = show.table("kind", "what", "id")
    for kind, record in found:
        said = getattr(record, "name", None) or getattr(record, "purpose", None) or getattr(record, "title", None)
        page.add_row(kind, said or "-", tail(record.id))
    show.console().print(page if found else text("keep.nothing_found"))


def people(*, archive: ArchivePlace = None, json: Json = False) -> None:
    """List the people that records refer to.

    Parameters
    ----------
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.keep_view import show_people

    with opened_archive(archive) as opened:
        show_people(opened.people(), json)


def instruments(*, archive: ArchivePlace = None, json: Json = False) -> None:
    """List the instruments used, with their last certificate, and who kept that, when and why.

    Parameters
    ----------
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli.keep_view import show_instruments
    from waywright.jobs.instruments_kept import instrument_rows

    with opened_archive(archive) as opened:
        show_instruments(instrument_rows(opened), json)


def blank(
    name: str, /, *, reason: str, by: str | None = None, archive: ArchivePlace = None, json: Json = False
) -> None:
    """Take a person's name out on request: of every revision, without touching readings or seals.

    Reports that were issued, and words typed elsewhere (reasons, remarks), are not searched for it.

    Parameters
    ----------
    name
        The whole name, or the whole id.
    reason
        Why; it is kept with the event, so do not repeat the name.
    by
        Who does it; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.people import blank_person
    from waywright.wording import text

    with opened_archive(archive) as opened:
        found = blank_person(opened, name, reason, by)
    show.answer(found, text("keep.blanked"), json)


def extract(file_id: str, target: Path = Path(), /, *, archive: ArchivePlace = None, json: Json = False) -> None:
    """Write an attached file out again.

    Parameters
    ----------
    file_id
        The last characters of its id, as `machine show` and `visit show` list them.
    target
        A file, or a folder in which it gets its own name; without it here.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.attach import extract as do

    with opened_archive(archive) as opened:
        place = do(opened, file_id, target)
    show.answer({"file": place}, str(place), json)


def reassess(
    *,
    rule: str | None = None,
    burden: str = "supplier",
    confidence: float = 0.95,
    reference: str = "least-squares",
    draws: Annotated[int, Parameter(validator=Number(gte=1000))] = 4000,
    workers: Workers = None,
    scheduler: str | None = None,
    by: str | None = None,
    archive: ArchivePlace = None,
    json: Json = False,
) -> None:
    """Compute all results again, with uncertainty and verdicts, and keep them. Cut anywhere, it goes on.

    Parameters
    ----------
    rule
        The tolerance rule for lines that no plan says one for.
    burden
        Who has to prove, where no plan says it: supplier, customer, shared or simple.
    confidence
        At which probability, where no plan says it.
    reference
        The reference line, where no plan says it.
    draws
        Draws of the Monte Carlo.
    workers
        Processes; without it all cores of this computer.
    scheduler
        Address of the scheduler of a Dask cluster, for example tcp://10.0.0.5:8786; then that computes.
    by
        Who asks for it; without it the account of this computer.
    archive
        The archive file or address; without it the file in your user data folder.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.jobs.computed import Rules
    from waywright.jobs.reassess import reassess as do
    from waywright.wording import text

    rules = Rules(rule, burden, confidence, draws, reference)
    with show.progress(not json) as told:
        found = do(
            archive, rules, lambda done, total: told("lines", done, total), workers=workers, scheduler=scheduler, by=by
        )
    if json:
        show.print_json(found)
        return
    console = show.console()
    counts = {"computed": found.computed, "up_to_date": found.up_to_date, "not_judged": found.not_judged}
    console.print(text("keep.reassessed", lines=found.lines, **counts))
    for change in found.changed_verdicts:
        facts = {"line": change.line, "quantity": change.quantity}
        console.print(text("keep.verdict_changed", before=change.before or "-", after=change.after or "-", **facts))


def roles(*, json: Json = False) -> None:
    """Print the script (SQL) that makes the roles reader, technician and head in a department's archive.

    Parameters
    ----------
    json
        Print JSON.
    """
    from waywright.archive.roles import script
    from waywright.cli import show

    if json:
        show.print_json({"script": script()})
    else:
        print(script(), end="")
