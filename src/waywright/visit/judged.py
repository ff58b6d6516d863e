"""Results asked for at a visit beside those of its lines: squareness, joint, ram, spindle, flatness and others.

What is kept is the question and the tables it was asked of, never the answer: results are computed anew.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID


@dataclass(frozen=True, slots=True)
class KeptTable:
    """A table as its file said it, word for word."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class KeptTrust:
    """With which budget a result is stated (its text word for word), and by which tolerance rule it is judged."""

    budget: str
    text: str
    rule: str | None = None
    burden: str = "supplier"


@dataclass(frozen=True, slots=True)
class Judged:
    """One question at a visit.

    ``kind`` is the evaluation ("joint", "squareness" ...), ``asked`` its arguments by name. Where an argument is a
    table it is ``{"table": n}``, counted from 0 in ``tables``; where it is a kept line, ``{"line": id}``. ``line_id``
    is the line whose report shows the result; None is every report of the visit. ``trust`` says how the
    result is stated; None is without an uncertainty.
    """

    id: UUID
    visit_id: UUID
    kind: str
    asked: dict[str, Any]
    tables: tuple[KeptTable, ...]
    made_utc: datetime
    line_id: UUID | None = None
    remark: str | None = None
    trust: KeptTrust | None = None
