"""``waywright decide``: does a value keep its limit, given its uncertainty."""

from __future__ import annotations

from typing import Annotated, Literal

from cyclopts import Parameter


def decide(
    value_um: float,
    /,
    *,
    uncertainty_um: float,
    coverage_factor: float = 1.0,
    limit_um: float | None = None,
    tolerance: str | None = None,
    length_mm: float | None = None,
    burden: Literal["supplier", "customer", "shared", "simple"] = "supplier",
    confidence: float = 0.95,
    json: Annotated[bool, Parameter(negative="")] = False,
) -> None:
    """Conforms, does not conform, or undecided (ISO 14253-1), with the risks of the decision (JCGM 106).

    Parameters
    ----------
    value_um
        The measured value.
    uncertainty_um
        Its standard uncertainty, or the expanded one together with `coverage-factor`.
    coverage_factor
        k, if an expanded uncertainty is given.
    limit_um
        The limit that must not be exceeded.
    tolerance
        A tolerance rule instead of a limit, in mm: "0.02 up to 1000, +0.01 per further 1000, max 0.05".
    length_mm
        The length that the rule is asked for.
    burden
        Who has to prove: the supplier conformity, the customer non-conformity, shared, or simple acceptance as agreed.
    confidence
        What counts as proved.
    json
        Print JSON.
    """
    from waywright.cli import show
    from waywright.cli.uncertain_view import followed, zone_of
    from waywright.jobs.decide import DecisionOrder, decision
    from waywright.wording import text

    found = decision(
        DecisionOrder(
            value_um=value_um,
            uncertainty_um=uncertainty_um,
            coverage_factor=coverage_factor,
            limit_um=limit_um,
            rule=tolerance,
            length_mm=length_mm,
            burden=burden,
            confidence=confidence,
        )
    )
    if json:
        show.print_json(found)
        return
    page = show.console()
    page.print(f"[bold]{text('verdict.' + found.verdict.name.lower())}[/bold]")
    facts = {"value_um": found.value_um, "limit_um": found.limit_um, "u_um": found.standard_uncertainty_um}
    page.print(text("cli.decide_figures", probability=found.probability_of_conformity, **facts))
    if found.burden != "simple":
        page.print(text("cli.decide_zone", unit="µm", **zone_of(found)))
    page.print(text(f"verdict.burden_{found.burden.value}"))
    page.print(text(followed(found)))
    for key, risk in (("consumers", found.consumers_risk), ("producers", found.producers_risk)):
        if risk is not None:
            page.print(text(f"verdict.{key}_risk", risk=risk))
