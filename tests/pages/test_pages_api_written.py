"""REST: plans are written over what was seen and never over each other; reports are made, kept, taken away; figures
come as a stream."""

from __future__ import annotations

import asyncio
import hashlib
import json
import signal
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
import uvicorn
from fastapi import FastAPI

from jobs.made_line import begin_line, take_pass
from waywright.archive import open_archive
from waywright.web.api import serve_api
from waywright.web.desk import Desk
from waywright.web.problems import answer_problems
from waywright.web.report_shelf import ReportShelf
from waywright.web.run import _Server


@pytest.fixture(scope="module")
def measured(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive with a measured line."""
    folder = tmp_path_factory.mktemp("written")
    with open_archive(folder / "a.sqlite", create=True) as archive:
        begun = begin_line(archive, folder)
        take_pass(archive, begun, 1)
        take_pass(archive, begun, 2)
    return folder / "a.sqlite"


class Interface:
    """One request after the other, without a server."""

    def __init__(self, app: FastAPI) -> None:
        self._transport = httpx.ASGITransport(app)

    def ask(self, method: str, path: str, **more: Any) -> httpx.Response:
        async def asked() -> httpx.Response:
            async with httpx.AsyncClient(transport=self._transport, base_url="http://127.0.0.1/api/v1") as client:
                return await client.request(method, path, **more)

        return asyncio.run(asked())

    def get(self, path: str, **more: Any) -> httpx.Response:
        return self.ask("GET", path, **more)

    def post(self, path: str, **more: Any) -> httpx.Response:
        return self.ask("POST", path, **more)

    def put(self, path: str, **more: Any) -> httpx.Response:
        return self.ask("PUT", path, **more)


@pytest.fixture
def api(measured: Path) -> Iterator[Interface]:
    """The interface alone, in this process."""
    app, desk = FastAPI(), Desk(measured)
    answer_problems(app)
    serve_api(app, desk, ReportShelf(desk))
    yield Interface(app)
    desk.archive.close()


def new_visit(api: Interface) -> str:
    """The address of the plan of a visit that begins now."""
    machine = api.get("/machines").json()[0]
    made = api.post("/visits", json={"machine_id": machine["id"], "purpose": "acceptance"})
    assert made.status_code == 201, made.text
    return f"/visits/{made.json()['id']}/plan"


def body_of(plan: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """What a plan says, as it is written."""
    said = ("title", "items", "burden", "confidence", "state", "remark")
    return {name: plan[name] for name in said} | changes


def test_of_two_who_change_a_plan_the_second_is_told(api: Interface) -> None:
    plan = new_visit(api)
    assert api.get(plan).json() is None
    first = api.post(plan, json={"template": "", "title": "roll lathe"})
    assert (first.status_code, first.json()["items"]) == (201, [])
    assert api.post(plan, json={}).json()["key"] == "plan.there_already"
    seen = api.get(plan).headers["etag"]
    assert seen == first.headers["etag"]
    item = {"key": "height", "what": "straightness in height", "code": "EYZ", "tolerance": {"rule": "20 um"}}
    body = body_of(first.json(), items=[item], by="Mara Quill (invented)")
    assert api.put(plan, json=body).status_code == 422
    one = api.put(plan, json=body, headers={"If-Match": seen})
    assert one.status_code == 200, one.text
    other = api.put(plan, json=body_of(first.json(), title="mine"), headers={"If-Match": seen})
    assert (other.status_code, other.json()["key"]) == (412, "archive.written_meanwhile")
    now = api.get(plan)
    assert now.headers["etag"] == one.headers["etag"] != seen
    assert (now.json()["title"], now.json()["items"][0]["tolerance"]["rule"]) == ("roll lathe", "20 um")


def test_agreement_is_given_to_what_was_seen_and_taken_back_by_a_change(api: Interface) -> None:
    plan = new_visit(api)
    drafted = api.post(plan, json={})
    seen = {"If-Match": drafted.headers["etag"]}
    changed = api.put(plan, json=body_of(drafted.json(), remark="in the evening"), headers=seen)
    who = {"person": "Mara Quill (invented)", "party": "technician"}
    assert api.post(f"{plan}/agreements", json=who).status_code == 422
    assert api.post(f"{plan}/agreements", json=who, headers=seen).status_code == 412
    agreed = api.post(f"{plan}/agreements", json=who, headers={"If-Match": changed.headers["etag"]})
    assert agreed.status_code == 201, agreed.text
    assert [each["party"] for each in agreed.json()["agreements"]] == ["technician"]
    again = api.put(plan, json=body_of(agreed.json()), headers={"If-Match": agreed.headers["etag"]})
    assert again.json()["agreements"] == []


def test_who_confirmed_a_tolerance_is_not_taken_from_whoever_writes(api: Interface) -> None:
    plan = new_visit(api)
    drafted = api.post(plan, json={"template": ""})
    claimed = {"rule": "20 um", "source": "contract 12", "confirmed": True, "confirmed_utc": "2001-01-01T00:00:00Z"}
    item = {"key": "height", "what": "height", "tolerance": claimed}
    body = body_of(drafted.json(), items=[item], by="Mara Quill (invented)")
    confirmed = api.put(plan, json=body, headers={"If-Match": drafted.headers["etag"]}).json()
    stands = confirmed["items"][0]["tolerance"]
    assert stands["confirmed_by"] is not None
    assert not stands["confirmed_utc"].startswith("2001")
    body = body_of(confirmed, title="again", by="Somebody Else (invented)")
    kept = api.put(plan, json=body, headers={"If-Match": api.get(plan).headers["etag"]}).json()
    assert kept["items"][0]["tolerance"] == stands
    without = {**item, "tolerance": {"rule": "20 um", "confirmed": True}}
    refused = api.put(plan, json=body_of(kept, items=[without]), headers={"If-Match": api.get(plan).headers["etag"]})
    assert (refused.status_code, refused.json()["key"]) == (409, "plan.confirmed_without_source")


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"burden": "nobody"}, "verdict.unknown_burden"),
        ({"confidence": 1.5}, "plan.bad_confidence"),
        ({"items": [{"key": "a", "what": "a"}, {"key": "a", "what": "b"}]}, "plan.key_taken"),
        ({"items": [{"key": " ", "what": "a"}]}, "plan.no_key"),
        ({"items": [{"key": "a", "what": "a", "reference": "mine"}]}, "plan.bad_reference"),
        ({"items": [{"key": "a", "what": "a", "code": "XYZ9"}]}, "quantities.bad_code"),
    ],
)
def test_a_plan_that_cannot_be_is_refused_whole(api: Interface, changes: dict[str, Any], key: str) -> None:
    plan = new_visit(api)
    drafted = api.post(plan, json={"template": ""})
    refused = api.put(plan, json=body_of(drafted.json(), **changes), headers={"If-Match": drafted.headers["etag"]})
    assert (refused.status_code, refused.json()["key"]) == (409, key)
    assert api.get(plan).json() == drafted.json()


def test_a_report_is_made_kept_and_the_same_one_only_once(api: Interface) -> None:
    visit = next(each for each in api.get("/visits").json() if api.get(f"/visits/{each['id']}/lines").json())
    (line,) = api.get(f"/visits/{visit['id']}/lines").json()
    wish = {"reference": "minimum-zone", "scope": "visit"}
    made = api.post(f"/lines/{line['id']}/reports", json=wish)
    assert made.status_code == 201, made.text
    report = made.json()
    content = api.get(report["file"].removeprefix("/api/v1"))
    assert content.headers["content-type"] == "application/pdf"
    assert hashlib.sha256(content.content).hexdigest() == report["sha256"]
    assert api.post(f"/lines/{line['id']}/reports", json=wish).json() == report
    assert api.get(f"/visits/{visit['id']}/reports").json() == [report]
    assert api.get(f"/reports/{report['id']}").json() == report
    refused = api.post(f"/lines/{line['id']}/reports", json={"rule": "as good as can be"})
    assert refused.status_code == 409
    assert refused.json()["sentence"]


def test_the_figures_come_as_a_stream_that_ends(api: Interface) -> None:
    stream = api.get("/live/stream", params={"seconds": 0.2})
    assert stream.headers["content-type"].startswith("text/event-stream")
    said = [line for line in stream.text.splitlines() if line.startswith("data: ")]
    assert [json.loads(line.removeprefix("data: ")) for line in said] == [api.get("/live").json()]


def test_a_stream_does_not_hold_up_the_end_of_the_server(measured: Path) -> None:
    app, desk = FastAPI(), Desk(measured)
    serve_api(app, desk, ReportShelf(desk))
    server = _Server(uvicorn.Config(app), desk)
    ending = threading.Timer(0.2, server.handle_exit, (signal.SIGTERM, None))
    ending.start()
    began_s = time.monotonic()
    assert Interface(app).get("/live/stream", params={"seconds": 3600}).status_code == 200
    assert server.should_exit
    assert time.monotonic() - began_s < 60
    desk.archive.close()
