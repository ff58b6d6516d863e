"""What was tried on the spot at a visit, as the report prints it."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from waywright.archive import Archive
from waywright.drawing import plain_number, signed
from waywright.report import OnTheSpotContent
from waywright.visit import OnTheSpot


def spot_content(archive: Archive, visit: UUID) -> tuple[OnTheSpotContent, ...]:
    """Every witness and self-check of a visit, in the order made."""
    found = sorted(archive.every(OnTheSpot, visit), key=lambda each: each.made_utc)
    return tuple(content_of(each) for each in found)


def content_of(each: OnTheSpot) -> OnTheSpotContent:
    """One of them; the first row names the columns by the keys of the report."""
    figures = each.figures
    if each.kind == "witness":
        rows = (("quantity", "position", "first", "again", "difference", "allowed"), *_witnessed(figures))
        facts = {name: figures[name] for name in ("line", "stations", "values", "outside")}
        facts["missing"] = [plain_number(each, 1) for each in figures.get("not_compared", ())]
    else:
        checks = figures.get("checks", [])
        rows = (("check", "result"), *((str(one["name"]), str(one["result"])) for one in checks))
        facts = {"version": figures["version"], "checks": len(checks), "failed": figures["failed"]}
    return OnTheSpotContent(each.kind, each.made_utc, each.passed, facts, rows)


def _witnessed(figures: dict[str, Any]) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (
            str(row["code"]), plain_number(row["position_mm"], 1), signed(row["first"], 2), signed(row["again"], 2),
            signed(row["difference"], 2), plain_number(row["allowed"], 2),
        )
        for row in figures["rows"]
    )  # fmt: skip
