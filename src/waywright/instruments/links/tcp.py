"""A TCP client."""

from __future__ import annotations

import asyncio
import contextlib
import socket

from waywright.clocks import Clock
from waywright.instruments.link_records import TcpLink
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.reconnecting import Asking, Reconnecting


def tcp_link(stated: TcpLink, clock: Clock, source: str, quiet_s: float, asking: Asking | None = None) -> Reconnecting:
    """The link to an instrument that listens at a host and port."""

    async def open_tcp(inbox: Inbox) -> None:
        transport, _ = await asyncio.get_running_loop().create_connection(lambda: inbox, stated.host, stated.port)
        sock = transport.get_extra_info("socket")
        with contextlib.suppress(OSError, AttributeError):
            sock.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)

    return Reconnecting(open_tcp, clock, source, f"{stated.host}:{stated.port}", quiet_s, asking=asking)
