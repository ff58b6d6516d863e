"""An instrument that nobody has described: its lines as they come, a proposal, the check, the file that is kept."""

from __future__ import annotations

import asyncio
import socket
from pathlib import Path
from typing import Any

import pytest
from nicegui.testing import User

from made_pages import fill, see, tell
from waywright.errors import BadInput
from waywright.instruments import parse_instrument
from waywright.instruments.reading_file import described
from waywright.web.desk import Desk
from waywright.web.elements import Press
from waywright.web.pages.link_form import EXAMPLES, LinkForm
from waywright.wording import text


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


KINDS = {
    "TCP, we call it": {"kind": "tcp", "host": EXAMPLES["host"], "port": 5000},
    "TCP, it calls us": {"kind": "tcp-server", "port": 5000},
    "UDP": {"kind": "udp", "port": 5000},
    "serial port": {"kind": "serial", "port": "COM3"},
    "text file": {"kind": "file", "path": EXAMPLES["path"]},
    "VISA": {"kind": "visa", "resource": EXAMPLES["resource"]},
    "MQTT": {"kind": "mqtt", "host": EXAMPLES["host"], "topic": EXAMPLES["topic"]},
    "OPC UA": {"kind": "opcua", "url": EXAMPLES["url"]},
    "MTConnect": {"kind": "mtconnect", "url": "http://192.0.2.8:5000/machine"},
    "Bluetooth LE": {"kind": "ble", "address": EXAMPLES["address"], "notify": EXAMPLES["notify"]},
}
LABELS = {
    "host": "address",
    "path": "file",
    "url": "address (URL)",
    "address": "address of the device",
    "notify": "characteristic that notifies",
}


def test_every_kind_of_link_has_a_form_that_says_what_a_description_may_say(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        from nicegui import ui

        forms: list[LinkForm] = []

        @ui.page("/form")
        def form() -> None:
            forms.append(LinkForm())

        for words, link in KINDS.items():
            await user.open("/form")
            user.find(kind=Press, content=words).click()
            await see(user, text(f"wizard.about_{link['kind']}"))
            with pytest.raises(BadInput, match="Fill in"):
                _ = forms[-1].link
            for name, value in link.items():
                if name != "kind":
                    label = "serial port" if link["kind"] == "serial" and name == "port" else LABELS.get(name, name)
                    fill(user, label, str(value))
            assert forms[-1].link == link
            stream: dict[str, Any] = {"rate_hz": 1}
            if forms[-1].brings_values:
                with pytest.raises(BadInput, match="Name at least one value"):
                    _ = forms[-1].items
                (items,) = user.find(ui.textarea).elements
                items.set_value("ns=2;s=Z.Actual\n\nns=2;s=Z.Actual\nns=2;s=X.Actual")
                assert forms[-1].items == ("ns=2;s=Z.Actual", "ns=2;s=X.Actual")
            else:
                stream["pattern"] = "(?P<a>.*)"
            channel = {"name": "a", "group": "a", "kind": "position", "unit": "mm"}
            asked = {"ask": {"send": "READ?"}} if link["kind"] == "visa" else {}  # that one speaks only when asked
            described({"format": 1, "name": "new", "title": "t", "link": link, "stream": stream,
                       "channel": [channel], **asked}, "form")  # fmt: skip

    tell(tmp_path / "a.sqlite", story)


def test_what_is_seldom_otherwise_can_be_changed(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        from nicegui import ui

        forms: list[LinkForm] = []

        @ui.page("/form")
        def form() -> None:
            forms.append(LinkForm())

        await user.open("/form")
        user.find(kind=Press, content="serial port").click()
        await see(user, text("wizard.about_serial"))
        fill(user, "serial port", "/dev/ttyUSB0")
        fill(user, "baud", "115200")
        fill(user, "parity", "even")
        fill(user, "stop bits", "2")
        wanted = {"kind": "serial", "port": "/dev/ttyUSB0", "baud": 115200, "parity": "even", "stop_bits": 2}
        assert forms[0].link == wanted
        user.find(kind=Press, content="VISA").click()
        await see(user, text("wizard.about_visa"))
        fill(user, "resource", "ASRL3::INSTR")
        fill(user, "a line ends with", "\\r\\n")
        assert forms[0].link == {"kind": "visa", "resource": "ASRL3::INSTR", "read_ends_with": "\r\n"}

    tell(tmp_path / "a.sqlite", story)


def test_datagrams_are_heard_and_described(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        from nicegui import ui

        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
            asking.bind(("127.0.0.1", 0))
            port = asking.getsockname()[1]
        await user.open("/instrument")
        user.find(kind=Press, content="UDP").click()
        await see(user, text("wizard.about_udp"))
        fill(user, "port", str(port))
        sending = asyncio.create_task(datagrams(port))
        user.find(kind=Press, content="listen").click()
        await see(user, "What it seems to say")
        sending.cancel()
        proposal = str(next(iter(user.find(ui.textarea).elements)).value)
        assert 'kind = "udp"' in proposal
        assert f"port = {port}" in proposal

    tell(tmp_path / "a.sqlite", story)


def test_an_axis_of_a_controller_is_found_checked_and_kept(tmp_path: Path) -> None:
    """A real OPC UA server in this process."""

    async def story(user: User, desk: Desk) -> None:
        from nicegui import ui

        server, address, node = await axis_server()
        async with server:
            await user.open("/instrument")
            user.find(kind=Press, content="OPC UA").click()
            await see(user, text("wizard.about_opcua"))
            fill(user, "address (URL)", address)
            fill(user, "nodes, one a line, for example ns=2;s=Z.Position", node)
            user.find(kind=Press, content="listen").click()
            await see(user, "What it seems to say")
            (proposed,) = [each for each in user.find(ui.textarea).elements if "format = 1" in str(each.value)]
            proposal = str(proposed.value)
            assert "# from 1200.5 to 1200.5 while listening" in proposal
            looked_at = [line.partition("#")[0] for line in proposal.splitlines() if not line.startswith("#")]
            proposed.set_value("\n".join(looked_at).replace('"..."', '"axis"'))
            user.find("check it against the link").click()
            await see(user, "1200.50")
            user.find("keep this description").click()
            await see(user, "axis is kept at this computer")
        kept = parse_instrument((desk.folder / "detector.toml").read_bytes(), "detector.toml")
        assert kept.channels == ("detector.actual_mm",)

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
