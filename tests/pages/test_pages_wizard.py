"""An instrument that nobody has described: its lines as they come, a proposal, the check, the file that is kept."""

from __future__ import annotations

import asyncio
from pathlib import Path

from nicegui.testing import User

from made_pages import fill, see, tell
from waywright.web.desk import Desk


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
        fill(user, "address", "nonsense")
        user.find("listen").click()
        await see(user, "nonsense")
        fill(user, "address", f"tcp://127.0.0.1:{port}")
        user.find("listen").click()
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
