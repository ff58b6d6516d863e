"""A serial port, or anything that looks like one."""

from __future__ import annotations

import asyncio

from waywright.clocks import Clock
from waywright.instruments.link_records import SerialLink
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.reconnecting import Asking, Reconnecting

_PARITY = {"none": "N", "even": "E", "odd": "O", "mark": "M", "space": "S"}


def serial_link(
    stated: SerialLink, clock: Clock, source: str, quiet_s: float, asking: Asking | None = None
) -> Reconnecting:
    """The link to an instrument on a serial port."""

    async def open_serial(inbox: Inbox) -> None:
        # The library looks for ports when it is imported: only where a serial port is wanted.
        import serialx

        try:
            await serialx.create_serial_connection(
                asyncio.get_running_loop(),
                lambda: inbox,
                stated.port,
                stated.baud,
                parity=serialx.Parity(_PARITY[stated.parity]),
                stopbits=serialx.StopBits(stated.stop_bits),
                xonxoff=stated.flow_control == "xon-xoff",
                rtscts=stated.flow_control == "rts-cts",
                byte_size=stated.data_bits,
            )
        except (serialx.SerialException, ValueError) as failure:
            raise OSError(str(failure)) from failure

    return Reconnecting(open_serial, clock, source, stated.port, quiet_s, asking=asking)
