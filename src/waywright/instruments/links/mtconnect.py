"""Data items of an MTConnect agent: the current state once, then the stream of samples. Nothing is ever written.

The agent answers ``sample`` with a multipart body that never ends: a document whenever something has changed, and an
empty one as a heartbeat (MTConnect Standard, Part 1: Fundamentals, "Streaming data").
"""

from __future__ import annotations

from collections.abc import AsyncIterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from waywright.clocks import Clock
from waywright.instruments.link_records import MtconnectLink
from waywright.instruments.links.fed import Fed
from waywright.instruments.links.held import HeldValues, write_lines
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.opcua import STANDING
from waywright.instruments.links.reconnecting import Reconnecting

if TYPE_CHECKING:
    import httpx

_HEARTBEAT_MS = 1000
_MOST_OBSERVATIONS = 1000
_LONGEST_PART = 1 << 22


def mtconnect_link(
    stated: MtconnectLink, clock: Clock, source: str, quiet_s: float, items: tuple[str, ...], period_s: float
) -> Reconnecting:
    """The link to the data items ``items`` (their id or name) of an agent."""

    async def work(fed: Fed) -> None:
        await _listen(fed, stated.url.rstrip("/"), HeldValues(items), clock, period_s)

    async def open_mtconnect(inbox: Inbox) -> None:
        await Fed.open(inbox, work)

    return Reconnecting(open_mtconnect, clock, source, stated.url, quiet_s, standing=STANDING)


async def _listen(fed: Fed, url: str, held: HeldValues, clock: Clock, period_s: float) -> None:
    import asyncio

    import httpx

    patience = httpx.Timeout(4.0, read=3e-3 * _HEARTBEAT_MS)
    async with httpx.AsyncClient(timeout=patience) as client:
        answer = await client.get(f"{url}/current")
        answer.raise_for_status()
        state = observed(answer.content)
        state.hold(held)
        fed.opened()
        async with asyncio.TaskGroup() as both:
            both.create_task(write_lines(fed, held, clock, period_s))
            both.create_task(_follow(client, url, held, state, max(1, round(500.0 * period_s / clock.factor))))


async def _follow(client: httpx.AsyncClient, url: str, held: HeldValues, state: Observed, interval_ms: int) -> None:
    """Hold what the stream says. Raises ConnectionError if it ends, or if the agent has begun anew."""
    asked = {"from": state.next_sequence, "interval": interval_ms, "heartbeat": _HEARTBEAT_MS}
    async with client.stream("GET", f"{url}/sample", params={**asked, "count": _MOST_OBSERVATIONS}) as answer:
        answer.raise_for_status()
        async for document in parts(answer.headers.get("content-type", ""), answer.aiter_bytes()):
            news = observed(document)
            if news.instance != state.instance:
                raise ConnectionError("the agent has begun anew")
            news.hold(held)
    raise ConnectionError("the stream ended")


@dataclass(frozen=True, slots=True)
class Observed:
    """What a document says: (id, name, text) of each observation, the agent's run, the number of the next one."""

    observations: tuple[tuple[str, str, str], ...]
    instance: str
    next_sequence: int

    def hold(self, held: HeldValues) -> None:
        """Hand on the observations of the items that are wanted, in order."""
        wanted = set(held.items)
        for identity, name, said in self.observations:
            item = identity if identity in wanted else name
            if item in wanted:
                held.hold(item, said)


def observed(document: bytes) -> Observed:
    """Read a streams document. Raises ConnectionError for an error of the agent or another kind of document."""
    from lxml import etree

    # No entity is resolved and nothing is fetched: a document comes from another computer.
    parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
    try:
        root = etree.fromstring(document, parser)
    except etree.XMLSyntaxError as failure:
        raise ConnectionError(str(failure)) from failure
    kind = etree.QName(root).localname
    if kind != "MTConnectStreams":
        said = " ".join(str(text).strip() for text in root.itertext() if str(text).strip())
        raise ConnectionError(said or kind)
    header: Any = root.find("{*}Header")
    found = sorted(
        (int(node.get("sequence", 0)), node.get("dataItemId", ""), node.get("name", ""), node.text or "")
        for node in root.iterfind(".//{*}ComponentStream/*/*")
    )
    return Observed(tuple(item[1:] for item in found), header.get("instanceId"), int(header.get("nextSequence")))


async def parts(content_type: str, body: AsyncIterator[bytes]) -> AsyncIterator[bytes]:
    """The documents of a multipart body as they become complete.

    Raises ConnectionError if the body is not multipart or a part has no length that can be believed.
    """
    _, _, boundary = content_type.partition("boundary=")
    mark = b"--" + boundary.split(";")[0].strip().strip('"').encode()
    if len(mark) <= 2:
        raise ConnectionError("not a stream of parts")
    rest = b""
    async for piece in body:
        rest += piece
        while (cut := _first_part(rest, mark)) is not None:
            document, rest = cut
            if document:
                yield document
        if len(rest) > 2 * _LONGEST_PART:
            raise ConnectionError("a part without an end")


def _first_part(data: bytes, mark: bytes) -> tuple[bytes, bytes] | None:
    """The first whole part and what follows it; None as long as it is not whole."""
    head, found, body = data.partition(b"\r\n\r\n")
    if not found or mark not in head:
        return None
    fields = dict(line.lower().split(b":", 1) for line in head.split(b"\r\n") if b":" in line)
    length = fields.get(b"content-length", b"").strip()
    if not length.isdigit() or int(length) > _LONGEST_PART:
        raise ConnectionError("a part without a length")
    if len(body) < int(length):
        return None
    return body[: int(length)], body[int(length) :]
