"""A Bluetooth LE device that notifies text. Written against the library's interface; no radio was at hand to try it."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING

from waywright.clocks import Clock
from waywright.instruments.link_records import BleLink
from waywright.instruments.links.fed import Fed
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.reconnecting import Asking, Reconnecting

if TYPE_CHECKING:
    from bleak import BleakClient


def ble_link(stated: BleLink, clock: Clock, source: str, quiet_s: float, asking: Asking | None = None) -> Reconnecting:
    """The link to a characteristic that notifies; lines may be cut anywhere."""

    async def listen(fed: Fed) -> None:
        from bleak import BleakClient

        gone = asyncio.Event()
        async with BleakClient(stated.address, disconnected_callback=lambda _: gone.set()) as device:
            fed.opened()
            await device.start_notify(stated.notify, lambda _, data: fed.feed_raw(bytes(data)))
            writing = asyncio.create_task(_write(fed, device, stated.write)) if stated.write else None
            try:
                await gone.wait()
            finally:
                if writing is not None:
                    writing.cancel()

    async def open_ble(inbox: Inbox) -> None:
        await Fed.open(inbox, listen)

    return Reconnecting(open_ble, clock, source, stated.address, quiet_s, asking=asking)


async def _write(fed: Fed, device: BleakClient, characteristic: str) -> None:
    while True:
        data, _ = await fed.wait_to_write()
        await device.write_gatt_char(characteristic, data)
