"""A result as the report prints it: its words, its drawing, its figures, and what it rests on."""

from __future__ import annotations

from collections.abc import Sequence

from waywright.drawing import PRINT
from waywright.jobs.basis import Basis
from waywright.jobs.drawn_parts import drawn
from waywright.jobs.rows import rows_of
from waywright.jobs.told_parts import basis_told, told
from waywright.report import FurtherContent

_WIDTH = 660.0


def content_of(
    kind: str, result: object, basis: Basis | None = None, *, grows_left: bool = False, remark: str | None = None
) -> FurtherContent:
    """The entry of a result in a report; ``kind`` is the name of its evaluation. Raises TypeError for what is none."""
    said = () if basis is None else basis_told(basis)
    return FurtherContent(kind, told(result), drawn(result, PRINT, _WIDTH, grows_left), rows_of(result), said, remark)


def contents_of(
    kind: str, results: Sequence[tuple[object, Basis]], remark: str | None = None
) -> tuple[FurtherContent, ...]:
    """An entry for each result of one question."""
    return tuple(content_of(kind, each, basis, remark=remark) for each, basis in results)
