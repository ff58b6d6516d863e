"""Values of an OPC UA server, as a controller offers them. They are subscribed to and read, never written."""

from __future__ import annotations

import asyncio
import logging
from typing import Any

from waywright.clocks import Clock
from waywright.instruments.link_records import OpcUaLink
from waywright.instruments.links.fed import Fed
from waywright.instruments.links.held import HeldValues, write_lines
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.parts import password
from waywright.instruments.links.reconnecting import Reconnecting

STANDING = "instruments.reads_controller"
_LOOK_WALL_S = 1.0
_CALL_WALL_S = 4.0


def opcua_link(
    stated: OpcUaLink, clock: Clock, source: str, quiet_s: float, items: tuple[str, ...], period_s: float
) -> Reconnecting:
    """The link to the nodes ``items`` of a server."""
    secret = password(stated.password_variable)

    async def work(fed: Fed) -> None:
        await _listen(fed, stated, secret, HeldValues(items), clock, period_s)

    async def open_opcua(inbox: Inbox) -> None:
        await Fed.open(inbox, work)

    return Reconnecting(open_opcua, clock, source, stated.url, quiet_s, standing=STANDING)


class _Handler:
    """Told by the library of every change."""

    def __init__(self, held: HeldValues, items: dict[Any, str]) -> None:
        self._held = held
        self._items = items
        self.announced = 0
        self.ended: str | None = None

    def datachange_notification(self, node: Any, value: object, data: Any) -> None:
        """A node has a new value, or says that it has none."""
        self.announced += 1
        good = data.monitored_item.Value.StatusCode.is_good()
        self._held.hold(self._items[node.nodeid], value if good else None)

    def status_change_notification(self, status: Any) -> None:
        """The server ends the subscription."""
        self.ended = str(status)


async def _listen(
    fed: Fed, stated: OpcUaLink, secret: str | None, held: HeldValues, clock: Clock, period_s: float
) -> None:
    from asyncua import Client

    # The library reports as warnings what is told here in words, or is of no concern.
    logging.getLogger("asyncua").setLevel(logging.CRITICAL)
    client = Client(stated.url, timeout=_CALL_WALL_S)
    if stated.user is not None:
        client.set_user(stated.user)
        client.set_password(secret or "")
    if stated.security != "none":
        await _secure(client, stated)
    async with client:
        nodes = [client.get_node(item) for item in held.items]
        for item, value in zip(held.items, await _read(client, nodes), strict=True):
            held.hold(item, value)
        handler = _Handler(held, {node.nodeid: item for node, item in zip(nodes, held.items, strict=True)})
        period_ms = max(10.0, 500.0 * period_s / clock.factor)
        subscription = await client.create_subscription(period_ms, handler)
        await subscription.subscribe_data_change(nodes)
        fed.opened()
        async with asyncio.TaskGroup() as both:
            both.create_task(write_lines(fed, held, clock, period_s))
            both.create_task(_watch(client, nodes, held, handler))


async def _secure(client: Any, stated: OpcUaLink) -> None:
    """Sign and encrypt, with our certificate and the server's. Our application URI is that of our certificate."""
    from asyncua.crypto.security_policies import SecurityPolicyBasic256Sha256

    assert stated.certificate is not None
    client.application_uri = _application_uri(stated.certificate) or client.application_uri
    await client.set_security(
        SecurityPolicyBasic256Sha256,
        certificate=stated.certificate,
        private_key=stated.key,
        server_certificate=stated.server_certificate,
    )


def _application_uri(certificate: str) -> str | None:
    """The URI that a certificate (PEM or DER file) states."""
    from pathlib import Path

    from cryptography import x509

    data = Path(certificate).read_bytes()
    read = x509.load_pem_x509_certificate if data.lstrip().startswith(b"-----") else x509.load_der_x509_certificate
    try:
        names = read(data).extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return None
    uris = names.get_values_for_type(x509.UniformResourceIdentifier)
    return uris[0] if uris else None


async def _watch(client: Any, nodes: list[Any], held: HeldValues, handler: _Handler) -> None:
    """Read the values directly now and then: a dead subscription would look like an axis that stands.

    Raises ConnectionError if the server is gone, ended the subscription, or does not announce changes any more.
    """
    owed = False
    while True:
        before = handler.announced
        await asyncio.sleep(_LOOK_WALL_S)
        await client.check_connection()
        if handler.ended is not None:
            raise ConnectionError(handler.ended)
        if owed and handler.announced == before:
            raise ConnectionError("changes are not announced")
        values = await _read(client, nodes)
        changed = any(held.differs(item, value) for item, value in zip(held.items, values, strict=True))
        # A change of the last moment may still be on its way; by the next look it must have come.
        owed = changed and handler.announced == before


async def _read(client: Any, nodes: list[Any]) -> list[object]:
    """What the nodes say now; None where the server calls a value bad."""
    from asyncua import ua

    results = await client.uaclient.read_attributes([node.nodeid for node in nodes], ua.AttributeIds.Value)
    return [result.Value.Value if result.StatusCode.is_good() and result.Value else None for result in results]
