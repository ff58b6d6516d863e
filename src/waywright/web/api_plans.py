"""REST: the test plan of a visit. Whoever changes it names the revision seen (ETag, If-Match)."""

from __future__ import annotations

import threading
from typing import Annotated, Any
from uuid import UUID

from fastapi import APIRouter, Header, Response

from waywright.clocks import SystemClock
from waywright.jobs.people import who
from waywright.jobs.plan_whole import WholePlan, agree_to_seen, revision_of, write_plan
from waywright.jobs.plans import begin_plan, plan_of
from waywright.visit import Visit, VisitPlan
from waywright.web.api_records import NewAgreement, NewPlan, Problem
from waywright.web.desk import Desk

IfMatch = Annotated[str, Header(description='The ETag of the plan as you have seen it, with its quotes: `"…"`.')]
_TAG: dict[str, Any] = {"headers": {"ETag": {"description": "The revision.", "schema": {"type": "string"}}}}
_SEEN: dict[int | str, dict[str, Any]] = {
    412: {"model": Problem, "description": "Somebody else has changed the plan since; nothing was overwritten."},
}


class Plans:
    """The plan of a visit: seen, begun, changed, agreed to."""

    def __init__(self, desk: Desk, router: APIRouter) -> None:
        self._desk = desk
        self._one_at_a_time = threading.Lock()
        place, tags = "/visits/{visit_id}/plan", ["plans"]
        router.add_api_route(place, self.plan, response_model=VisitPlan | None, responses={200: _TAG}, tags=[*tags])
        router.add_api_route(
            place, self.begin, methods=["POST"], status_code=201, response_model=VisitPlan, responses={201: _TAG},
            tags=[*tags],
        )  # fmt: skip
        router.add_api_route(
            place, self.change, methods=["PUT"], response_model=VisitPlan, responses={200: _TAG, **_SEEN}, tags=[*tags]
        )
        router.add_api_route(
            f"{place}/agreements", self.agree, methods=["POST"], status_code=201, response_model=VisitPlan,
            responses={201: _TAG, **_SEEN}, tags=[*tags],
        )  # fmt: skip

    def plan(self, visit_id: UUID, response: Response) -> VisitPlan | None:
        """The test plan of a visit as it stands, its revision in the header ETag; null where there is none."""
        found = plan_of(self._desk.archive, self._visit(visit_id).id)
        return None if found is None else self._tagged(found, response)

    def begin(self, visit_id: UUID, wanted: NewPlan, response: Response) -> VisitPlan:
        """Begin a draft; refused where the visit has a plan already."""
        archive = self._desk.archive
        with self._one_at_a_time:
            made = begin_plan(
                archive, self._visit(visit_id), wanted.template, wanted.title or None, who(archive, wanted.by)
            )
        return self._written(made, response)

    def change(self, visit_id: UUID, wanted: WholePlan, if_match: IfMatch, response: Response) -> VisitPlan:
        """Write the plan as a whole, as a new revision over the one seen; agreements are taken back."""
        seen = _seen(if_match)
        return self._written(
            write_plan(self._desk.archive, self._visit(visit_id), wanted, seen, SystemClock()), response
        )

    def agree(self, visit_id: UUID, wanted: NewAgreement, if_match: IfMatch, response: Response) -> VisitPlan:
        """Agree to the plan as seen."""
        seen = _seen(if_match)
        made = agree_to_seen(
            self._desk.archive, self._visit(visit_id), seen, wanted.person, wanted.party, SystemClock()
        )
        return self._written(made, response)

    def _visit(self, visit_id: UUID) -> Visit:
        return self._desk.archive.load(Visit, visit_id)

    def _written(self, plan: VisitPlan, response: Response) -> VisitPlan:
        self._desk.touched("phase")
        return self._tagged(plan, response)

    def _tagged(self, plan: VisitPlan, response: Response) -> VisitPlan:
        response.headers["ETag"] = f'"{revision_of(self._desk.archive, plan)}"'
        return plan


def _seen(if_match: str) -> UUID:
    """The revision in an If-Match header; one that is none of ours was never seen here."""
    try:
        return UUID(if_match.strip().strip('"'))
    except ValueError:
        return UUID(int=0)
