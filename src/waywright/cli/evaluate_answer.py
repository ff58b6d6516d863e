"""How ``waywright evaluate`` is asked and answers: shared options, sentences, JSON, a drawing, what it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

from cyclopts import Parameter

if TYPE_CHECKING:
    from waywright.jobs.asked import Answer
    from waywright.jobs.stated_record import StatedResult
    from waywright.jobs.uncertain import StatedOrder

Flag = Annotated[bool, Parameter(negative="")]
Reference = Literal["end-points", "least-squares", "minimum-zone"]
Table = Annotated[Path, Parameter(help="A readings table; `line:NAME` is a kept line.")]
First = Annotated[Path, Parameter(help="Readings table (or `line:NAME`) of the first line.")]
Second = Annotated[Path, Parameter(help="Readings table (or `line:NAME`) of the second line.")]
Lines = Annotated[Reference, Parameter(help="The reference lines whose directions count.")]
Code = Annotated[str | None, Parameter(help="Only this ISO 230-1 code, for example EYZ.")]
Straight = Annotated[str, Parameter(help="Which straightness, for example EYZ.")]
Bridge = Annotated[
    Path | None,
    Parameter(help="What a bridge with an indicator reads, second minus first: `position_mm,difference_um,sd_um`."),
]


@Parameter(name="*")
@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How an evaluation answers, and whether it is kept for the report."""

    drawing: Annotated[Path | None, Parameter(help="Also draw it into this SVG file (several: numbered).")] = None
    json: Annotated[bool, Parameter(negative="", help="Print JSON.")] = False
    keep: Annotated[bool, Parameter(negative="", help="Keep it for the reports of the visit.")] = False
    in_report_of: Annotated[str | None, Parameter(help="Keep it for the report of this line only.")] = None
    remark: Annotated[str | None, Parameter(help="What the report says beside its heading.")] = None
    archive: Annotated[
        Path | None,
        Parameter(name=["--archive", "-a"], help="The archive; without it the one in your user data folder."),
    ] = None


@Parameter(name="*")
@dataclass(frozen=True, slots=True, kw_only=True)
class Trust:
    """How far a result can be trusted, and what was agreed about it."""

    uncertainty: Annotated[
        str | None,
        Parameter(
            help="A budget file, or a ready budget to begin with (beam, level, autocollimator, straightedge, "
            "cross-level, positioning): the value is stated with its interval and its whole budget."
        ),
    ] = None
    tolerance: Annotated[
        str | None,
        Parameter(
            help='A tolerance rule in mm, for example "0.02 up to 1000, +0.01 per further 1000, max 0.05", for angles '
            '"0.02/500"; needs an uncertainty.'
        ),
    ] = None
    burden: Annotated[
        Literal["supplier", "customer", "shared", "simple"],
        Parameter(
            help="Who has to prove: the supplier conformity, the customer non-conformity, shared, or simple acceptance "
            "as agreed."
        ),
    ] = "supplier"


PLAIN = Way()
UNASKED = Trust()


def answer(kind: str, way: Way, trust: Trust = UNASKED, **options: Any) -> None:
    """Ask the evaluation and show what it says."""
    from waywright.cli.uncertain_view import print_stated
    from waywright.jobs.asked import Asked, answer_to

    found = answer_to(Asked(kind, options), way.archive)
    stated = stated_with(found, trust)
    draw_and_keep(found, way, trust)
    if way.json:
        _print_json(found, stated)
    else:
        _print(found)
        print_stated(stated)


def stated_with(found: Answer, trust: Trust) -> tuple[StatedResult, ...]:
    """The results with their uncertainty, and their verdict; nothing where no uncertainty was asked for."""
    if trust.uncertainty is None and trust.tolerance is None:
        return ()
    from waywright.jobs.stated_more import stated_of

    return stated_of(found.results, _order(trust))


def _order(trust: Trust) -> StatedOrder:
    from waywright.jobs.uncertain import StatedOrder

    return StatedOrder(budget=trust.uncertainty, rule=trust.tolerance, burden=trust.burden, helps=True)


def draw_and_keep(found: Answer, way: Way, trust: Trust = UNASKED) -> None:
    """The drawing and the place in the report, where they are wanted."""
    if way.drawing is not None:
        _draw(found, way.drawing)
    if way.keep or way.in_report_of is not None:
        from waywright.jobs.judged_at_visit import keep_question

        keep_question(found.asked, way.archive, way.in_report_of, way.remark, stated=_order(trust))


def _draw(found: Answer, path: Path) -> None:
    """Every result into a file of its own; the second and further ones are numbered."""
    from waywright.files.table_writer import write_text
    from waywright.jobs.drawn_parts import drawn

    for number, result in enumerate(found.results, start=1):
        write_text(path if number == 1 else path.with_stem(f"{path.stem}-{number}"), drawn(result))


def _print_json(found: Answer, stated: tuple[StatedResult, ...]) -> None:
    from waywright.cli import show

    results = [
        {"kind": found.asked.kind, **show.plain(each), "basis": show.plain(basis)}
        for each, basis in zip(found.results, found.bases, strict=True)
    ]
    show.print_json({"results": results, **({"stated": stated} if stated else {})})


def _print(found: Answer) -> None:
    from waywright.cli import show
    from waywright.jobs.told import sentence
    from waywright.jobs.told_parts import basis_told, told

    for number, (each, basis) in enumerate(zip(found.results, found.bases, strict=True)):
        if number:
            show.console().print()
        for said in told(each):
            show.console().print(sentence(said))
        show.console().print(" ".join(sentence(said) for said in basis_told(basis)))
