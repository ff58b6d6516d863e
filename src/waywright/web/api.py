"""REST under ``/api/v1``: what the archive holds, results, typed readings; plans, reports and the live figures stand in
files of their own."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, TypeVar
from uuid import UUID

from fastapi import APIRouter, FastAPI, Path, Query, Response
from fastapi.openapi.docs import get_swagger_ui_html
from fastapi.openapi.utils import get_openapi

from waywright import __version__
from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock
from waywright.errors import ArchiveError
from waywright.jobs.evidence import evidence_of_line
from waywright.jobs.measured import results_of_line
from waywright.jobs.rounds import rounds_of
from waywright.jobs.set_aside import leave_out
from waywright.jobs.typed import append_typed, begin_typed_pass, end_typed_pass
from waywright.jobs.visits import new_visit
from waywright.machine import Machine
from waywright.visit import Line, Pass, Visit
from waywright.visit.adjustment import Adjustment
from waywright.web.api_live import LiveFigures
from waywright.web.api_plans import Plans
from waywright.web.api_records import (
    EventOut,
    EvidenceOut,
    NewExclusion,
    NewReading,
    NewTypedPass,
    NewVisit,
    Problem,
    ReadingOut,
    Reference,
    ResultOut,
    event_out,
    evidence_out,
    reading_out,
    result_out,
)
from waywright.web.api_reports import Reports
from waywright.web.desk import Desk
from waywright.web.report_shelf import ReportShelf

PREFIX = "/api/v1"
_PROBLEMS: dict[int | str, dict[str, Any]] = {
    404: {"model": Problem, "description": "There is nothing of this id."},
    409: {"model": Problem, "description": "It cannot be done as things stand; the sentence says why."},
}
R = TypeVar("R")


def serve_api(app: FastAPI, desk: Desk, shelf: ReportShelf) -> None:
    """The interface, its description and its docs page."""
    router = APIRouter(prefix=PREFIX, responses=_PROBLEMS)
    _Machines(desk, router)
    Plans(desk, router)
    _Lines(desk, router)
    _Passes(desk, router)
    Reports(desk, shelf, router)
    LiveFigures(desk, router)
    app.include_router(router)
    _describe(app, router)


class _Machines:
    """Machines and visits."""

    def __init__(self, desk: Desk, router: APIRouter) -> None:
        self._desk = desk
        for path, answer, call in (
            ("/machines", list[Machine], self.machines),
            ("/machines/{machine_id}", Machine, self.machine),
            ("/visits", list[Visit], self.visits),
            ("/visits/{visit_id}", Visit, self.visit),
            ("/visits/{visit_id}/lines", list[Line], self.lines),
            ("/visits/{visit_id}/rounds", list[Adjustment], self.rounds),
        ):
            router.add_api_route(path, call, response_model=answer, tags=["machines and visits"])
        router.add_api_route(
            "/visits", self.begin, methods=["POST"], status_code=201, response_model=Visit, tags=["machines and visits"]
        )

    def machines(self) -> tuple[Machine, ...]:
        """All machines, by name."""
        return self._desk.archive.machines()

    def machine(self, machine_id: UUID) -> Machine:
        """One machine with its bed, supports and marks."""
        return self._desk.archive.load(Machine, machine_id)

    def visits(self, machine_id: UUID | None = None) -> tuple[Visit, ...]:
        """Visits, oldest first; those to one machine, or all."""
        return self._desk.archive.visits(machine_id)

    def visit(self, visit_id: UUID) -> Visit:
        """One visit."""
        return self._desk.archive.load(Visit, visit_id)

    def lines(self, visit_id: UUID) -> tuple[Line, ...]:
        """The lines of a visit, in the order made."""
        self._desk.archive.load(Visit, visit_id)
        return self._desk.archive.lines(visit_id)

    def begin(self, wanted: NewVisit) -> Visit:
        """Begin a visit to a machine; lines join it when they name it."""
        machine = self.machine(wanted.machine_id)
        made = new_visit(self._desk.archive, machine, SystemClock(), wanted.purpose, wanted.technician)
        self._desk.touched()
        return made

    def rounds(self, visit_id: UUID) -> tuple[Adjustment, ...]:
        """The rounds of correction of a visit: moves, confirmations, what was expected and read, surprises."""
        self._desk.archive.load(Visit, visit_id)
        return rounds_of(self._desk.archive, visit_id)


class _Lines:
    """Lines, their passes, results and evidence."""

    def __init__(self, desk: Desk, router: APIRouter) -> None:
        self._desk = desk
        for path, answer, call in (
            ("/lines/{line_id}", Line, self.line),
            ("/lines/{line_id}/passes", list[Pass], self.passes),
            ("/lines/{line_id}/results", list[ResultOut], self.results),
            ("/lines/{line_id}/evidence", list[EvidenceOut], self.evidence),
        ):
            router.add_api_route(path, call, response_model=answer, tags=["lines"])
        router.add_api_route(
            "/lines/{line_id}/passes", self.begin_pass, methods=["POST"], status_code=201, response_model=Pass,
            tags=["lines"],
        )  # fmt: skip

    def line(self, line_id: UUID) -> Line:
        """One line."""
        return self._desk.archive.load(Line, line_id)

    def passes(self, line_id: UUID) -> tuple[Pass, ...]:
        """The passes of a line, in the order taken."""
        self.line(line_id)
        return self._desk.archive.passes(line_id)

    def evidence(self, line_id: UUID) -> list[EvidenceOut]:
        """Tests and gates of a line, its set-ups, passes and visit, in the order made."""
        return [evidence_out(each) for each in evidence_of_line(self._desk.archive, self.line(line_id))]

    def results(
        self,
        line_id: UUID,
        reference: Reference = "least-squares",
        window_mm: Annotated[float | None, Query(gt=0, le=1e6)] = None,
    ) -> list[ResultOut]:
        """Every pass and their mean, for every straightness quantity; positive as ``positive`` says."""
        measured = self._desk.measured(self.line(line_id))
        return [result_out(result) for result in results_of_line(measured, reference, window_mm)]

    def begin_pass(self, line_id: UUID, wanted: NewTypedPass) -> Pass:
        """Begin a pass whose readings are typed or come from another program."""
        machine, _, line = self._desk.line(str(line_id))
        return _writing(
            self._desk, lambda a: begin_typed_pass(a, machine, line, wanted.direction, wanted.channels, SystemClock())
        )


class _Passes:
    """Passes, readings and events."""

    def __init__(self, desk: Desk, router: APIRouter) -> None:
        self._desk = desk
        for path, answer, call in (
            ("/passes/{pass_id}", Pass, self.one),
            ("/passes/{pass_id}/readings", list[ReadingOut], self.readings),
            ("/passes/{pass_id}/events", list[EventOut], self.events),
        ):
            router.add_api_route(path, call, response_model=answer, tags=["passes"])
        steps: tuple[tuple[str, type, Callable[..., object]], ...] = (
            ("/passes/{pass_id}/readings", ReadingOut, self.append),
            ("/passes/{pass_id}/end", Pass, self.end),
            ("/passes/{pass_id}/readings/{number}/exclusion", ReadingOut, self.exclude),
        )
        for path, made, step in steps:
            router.add_api_route(path, step, methods=["POST"], status_code=201, response_model=made, tags=["passes"])

    def one(self, pass_id: UUID) -> Pass:
        """One pass."""
        return self._desk.archive.load(Pass, pass_id)

    def readings(self, pass_id: UUID) -> list[ReadingOut]:
        """Every reading in the order taken, superseded and left-out ones included."""
        self.one(pass_id)
        everything = self._desk.archive.readings(pass_id)
        superseded = {reading.supersedes for reading in everything if reading.supersedes}
        reasons = {item.reading_id: item.reason for item in self._desk.archive.exclusions(pass_id)}
        return [reading_out(each, each.id in superseded, reasons.get(each.id)) for each in everything]

    def events(self, pass_id: UUID) -> list[EventOut]:
        """What happened during a pass, in order."""
        self.one(pass_id)
        return [event_out(event) for event in self._desk.archive.events(pass_id)]

    def append(self, pass_id: UUID, reading: NewReading) -> ReadingOut:
        """Add a typed reading to a typed pass; it is committed when this answers. Nothing is ever changed."""
        kept = _writing(
            self._desk, lambda a: append_typed(a, pass_id, reading.position_mm, reading.values, SystemClock())
        )
        return reading_out(kept, superseded=False, left_out=None)

    def end(self, pass_id: UUID) -> Pass:
        """The typed pass is complete."""
        return _writing(self._desk, lambda a: end_typed_pass(a, pass_id, SystemClock()))

    def exclude(self, pass_id: UUID, number: Annotated[int, Path(ge=0, le=10**9)], wanted: NewExclusion) -> ReadingOut:
        """Leave a reading out of results, with the reason; the reading stays."""
        self.one(pass_id)
        found = next((item for item in self._desk.archive.readings(pass_id) if item.number == number), None)
        if found is None:
            raise ArchiveError("archive.unknown", kind="reading", id=f"{pass_id}/{number}")
        exclusion = leave_out(self._desk.archive, found.id, wanted.reason, SystemClock())
        self._desk.touched()
        return reading_out(found, superseded=False, left_out=exclusion.reason)


def _writing(desk: Desk, step: Callable[[Archive], R]) -> R:
    """One step in an archive of its own, so that the right to capture is given back at once."""
    with open_archive(desk.archive_path) as archive:
        done = step(archive)
    desk.touched()
    return done


def _describe(app: FastAPI, router: APIRouter) -> None:
    description: dict[str, Any] = {}

    def described() -> dict[str, Any]:
        if not description:
            description.update(get_openapi(title="Waywright", version=__version__, routes=router.routes))
        return description

    @app.get(f"{PREFIX}/openapi.json", include_in_schema=False)
    def openapi() -> dict[str, Any]:
        return described()

    @app.get(f"{PREFIX}/docs", include_in_schema=False)
    def docs() -> Response:
        return get_swagger_ui_html(
            openapi_url=f"{PREFIX}/openapi.json",
            title="Waywright",
            swagger_js_url="/static/swagger/swagger-ui-bundle.js",
            swagger_css_url="/static/swagger/swagger-ui.css",
            swagger_favicon_url="/static/favicon.svg",
        )
