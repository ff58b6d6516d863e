"""REST under /api/v1: every operation against its own description, and typed readings from beginning to report."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import httpx
import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings

from jobs.made_line import begin_line, take_pass
from pages_server import server
from waywright.archive import open_archive

EVERY = (
    ("GET", "/machines"),
    ("GET", "/visits"),
    ("POST", "/visits"),
    ("GET", "/visits/{visit_id}/plan"),
    ("POST", "/visits/{visit_id}/plan"),
    ("PUT", "/visits/{visit_id}/plan"),
    ("POST", "/visits/{visit_id}/plan/agreements"),
    ("GET", "/lines/{line_id}/passes"),
    ("POST", "/lines/{line_id}/passes"),
    ("POST", "/passes/{pass_id}/readings"),
    ("GET", "/lines/{line_id}/results"),
    ("POST", "/lines/{line_id}/reports"),
    ("GET", "/visits/{visit_id}/reports"),
    ("GET", "/reports/{report_id}/report.pdf"),
    ("GET", "/live"),
    ("GET", "/live/stream"),
)


@pytest.fixture(scope="module")
def api(tmp_path_factory: pytest.TempPathFactory) -> Iterator[httpx.Client]:
    """The interface of a server that has a measured line."""
    folder = tmp_path_factory.mktemp("api")
    with open_archive(folder / "a.sqlite", create=True) as archive:
        begun = begin_line(archive, folder)
        take_pass(archive, begun, 1)
        take_pass(archive, begun, 2)
    with server(folder / "a.sqlite") as served, httpx.Client(base_url=f"{served.address}api/v1", timeout=120) as client:
        yield client


def ids_of(api: httpx.Client) -> dict[str, str]:
    """An id of every kind, of the measured line."""
    (visit,) = api.get("/visits").json()
    (line,) = api.get(f"/visits/{visit['id']}/lines").json()
    first = api.get(f"/lines/{line['id']}/passes").json()[0]
    return {
        "machine_id": visit["machine_id"],
        "visit_id": visit["id"],
        "line_id": line["id"],
        "pass_id": first["id"],
        "report_id": api.post(f"/lines/{line['id']}/reports", json={}).json()["id"],
    }


def test_every_operation_keeps_to_its_description(api: httpx.Client) -> None:
    schema = schemathesis.openapi.from_url(f"{api.base_url}openapi.json")
    # A revision that does not hold is answered with 412 (RFC 9110, 13.1.1), which a description cannot rule out.
    accepted = schema.config.checks.positive_data_acceptance
    accepted.expected_statuses = [*accepted.expected_statuses, "412"]
    known, tried = ids_of(api), set()
    api.post(f"/visits/{known['visit_id']}/plan", json={"template": "lathe"})
    for found in schema.get_all_operations():
        operation = found.ok()

        @given(case=operation.as_strategy())
        @settings(
            max_examples=2, deadline=None, database=None, derandomize=True, suppress_health_check=list(HealthCheck)
        )
        def holds(case: Any) -> None:
            if case.path_parameters:
                case.call_and_validate(timeout=120)  # ids that nobody knows
            for name, value in known.items():
                if name in case.path_parameters:
                    case.path_parameters[name] = value
            if case.path.endswith("/live/stream"):
                case.query = {"seconds": 0.2}  # it goes on for as long as it is asked to
            if "/plan" in case.path and case.method in ("PUT", "POST"):
                case.headers["If-Match"] = api.get(f"/visits/{known['visit_id']}/plan").headers["etag"]
            case.call_and_validate(timeout=120)  # ids of what there is

        holds()
        tried.add(f"{operation.method.upper()} {operation.path}")
    assert tried >= {f"{method} /api/v1{path}" for method, path in EVERY}


def test_results_are_those_of_the_verbs(api: httpx.Client) -> None:
    line = ids_of(api)["line_id"]
    results = api.get(f"/lines/{line}/results", params={"reference": "end-points", "window_mm": 1000}).json()
    mean = next(item for item in results if item["code"] == "EYZ" and item["pass_number"] is None)
    assert mean["positive"] == "up"
    assert mean["by_reference"]["end-points"]["value_um"] == pytest.approx(30.0, abs=0.05)  # the bow of the made line
    assert mean["local"]["value_um"] == pytest.approx(mean["local"]["value_um"])
    assert len(mean["position_mm"]) == len(mean["deviation_um"]) == 21


def test_typed_readings_become_a_pass_with_results(api: httpx.Client) -> None:
    line = ids_of(api)["line_id"]
    begun = api.post(f"/lines/{line}/passes", json={"direction": "forward", "channels": ["typed.height_um"]})
    assert begun.status_code == 201, begun.text
    address = f"/passes/{begun.json()['id']}"
    for position_mm, height_um in ((0.0, 0.0), (2500.0, 400.0), (5000.0, 0.0), (2500.0, 40.0)):
        body = {"position_mm": position_mm, "values": {"typed.height_um": height_um}}
        assert api.post(f"{address}/readings", json=body).status_code == 201
    refused = api.post(f"{address}/readings", json={"position_mm": 1.0, "values": {"beam.side_um": 1.0}})
    assert (refused.status_code, refused.json()["key"]) == (409, "jobs.typed_channels")
    assert api.post(f"{address}/end").json()["outcome"] == "finished"
    readings = api.get(f"{address}/readings").json()
    assert [item["superseded"] for item in readings] == [False, True, False, False]
    results = api.get(f"/lines/{line}/results").json()
    typed = next(item for item in results if item["code"] == "EYZ" and item["pass_number"] == begun.json()["number"])
    assert typed["by_reference"]["end-points"]["value_um"] == pytest.approx(40.0)
    assert api.get(f"/lines/{line}/report.csv").status_code == 200


def test_leaving_a_reading_out_needs_a_reason(api: httpx.Client) -> None:
    address = f"/passes/{ids_of(api)['pass_id']}/readings"
    assert api.post(f"{address}/3/exclusion", json={"reason": "  "}).status_code == 409
    assert api.post(f"{address}/3/exclusion", json={"reason": "bumped"}).status_code == 201
    assert api.get(address).json()[3]["left_out"] == "bumped"
    assert api.post(f"{address}/99/exclusion", json={"reason": "bumped"}).status_code == 404


def test_the_docs_page_asks_no_other_computer(api: httpx.Client) -> None:
    page = api.get("/docs").text
    assert "/static/swagger/swagger-ui-bundle.js" in page
    assert "https://" not in page
    origin = str(api.base_url).removesuffix("/api/v1/")
    assert httpx.get(f"{origin}/static/swagger/swagger-ui-bundle.js").status_code == 200
