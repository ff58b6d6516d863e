"""An instrument that nobody has described: its lines as they come, a proposal, the check, the file that is kept."""

from __future__ import annotations

import asyncio
import socket
from pathlib import Path
from typing import Any

from nicegui.testing import User

from made_pages import fill, see, tell
from waywright.web.desk import Desk
from waywright.web.elements import Press


async def talk(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
    """An invented detector: a counter, a deviation in um."""
    try:
        for number in range(4000):
            writer.write(f"{number * 20} D{12.3 + number % 7 / 10:+.1f} um\r\n".encode())
            await writer.drain()
            await asyncio.sleep(0.02)
    except ConnectionError:
        return


def test_from_live_lines_to_a_kept_description(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        from nicegui import ui

        server = await asyncio.start_server(talk, "127.0.0.1", 0)
        port = server.sockets[0].getsockname()[1]
        await user.open("/instrument")
        user.find(kind=Press, content="listen").click()
        await see(user, "Fill in: address.")
        fill(user, "address", "127.0.0.1")
        fill(user, "port", "nonsense")
        user.find(kind=Press, content="listen").click()
        await see(user, "nonsense")
        fill(user, "port", str(port))
        user.find(kind=Press, content="listen").click()
        await see(user, "What comes now")
        await see(user, "What it seems to say")
        user.find("keep this description").click()
        await see(user, "three dots")
        (written,) = user.find(ui.textarea).elements
        proposal = str(written.value)
        assert "(?P<n>" in proposal
        looked_at = [line.partition("#")[0] for line in proposal.splitlines() if not line.startswith("#")]
        written.set_value("\n".join(looked_at).replace('"..."', '"dial"'))
        user.find("keep this description").click()
        await see(user, "dial is kept at this computer")
        assert (desk.folder / "detector.toml").exists()
        server.close()

    tell(tmp_path / "a.sqlite", story)


async def datagrams(port: int) -> None:
    """An invented instrument that sends into the void until somebody listens."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as out:
        for number in range(2000):
            out.sendto(f"{number} {20.0 + number % 5 / 10:.1f} C\r\n".encode(), ("127.0.0.1", port))
            await asyncio.sleep(0.02)


async def axis_server() -> tuple[Any, str, str]:
    """A server that offers the position of one axis: itself, its address, the node."""
    from asyncua import Server, ua

    with socket.socket() as asking:
        asking.bind(("127.0.0.1", 0))
        address = f"opc.tcp://127.0.0.1:{asking.getsockname()[1]}/controller"
    server = Server()
    await server.init()
    server.set_endpoint(address)
    space = await server.register_namespace("urn:hollin-reach")
    await server.nodes.objects.add_variable(ua.NodeId("Z.Actual", space), "Actual", 1200.5)
    return server, address, f"ns={space};s=Z.Actual"
