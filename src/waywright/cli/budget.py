"""``waywright budget``: a ready budget to copy and edit."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter


def budget(method: str = "beam", /, *, schema: Annotated[bool, Parameter(negative="")] = False) -> None:
    """Print the ready budget of a method, to copy, edit and give to --uncertainty.

    Parameters
    ----------
    method
        beam, level, autocollimator, straightedge, cross-level or positioning; of the rows of a sheet: indicator,
        mandrel, test-bar, square, disc, sweep, feeler.
    schema
        Print the JSON Schema of the budget file instead, for editors.
    """
    if schema:
        from waywright.cli import show
        from waywright.files.budget_file import budget_schema

        show.print_json(budget_schema())
        return
    from waywright.files.row_budget import row_budget_text

    print(row_budget_text(method), end="")
