"""From what a description says to the link; the libraries of a link are looked for only when it is wanted."""

from __future__ import annotations

from waywright.clocks import Clock
from waywright.instruments import link_records as kinds
from waywright.instruments.description import Description
from waywright.instruments.links.ble import ble_link
from waywright.instruments.links.file import file_link
from waywright.instruments.links.listening import tcp_server_link, udp_link
from waywright.instruments.links.mqtt import mqtt_link
from waywright.instruments.links.mtconnect import mtconnect_link
from waywright.instruments.links.opcua import opcua_link
from waywright.instruments.links.parts import need
from waywright.instruments.links.reconnecting import Asking, Reconnecting
from waywright.instruments.links.serial import serial_link
from waywright.instruments.links.tcp import tcp_link
from waywright.instruments.links.visa import visa_link

_QUIET_S = 10.0
_QUIET_SAMPLES = 20


def open_link(stated: Description, clock: Clock) -> Reconnecting:  # noqa: PLR0911 - one line for each kind of link
    """The link of a description. Raises MissingPart if a library for it is not installed."""
    link, name = stated.link, stated.name
    need(str(link.__struct_config__.tag))
    period_s = 1.0 / stated.stream.rate_hz
    quiet_s = max(_QUIET_S, _QUIET_SAMPLES * period_s)
    asking = None if stated.ask is None else Asking(stated.ask.send.encode(), period_s, stated.ask.timeout_s)
    items = tuple(item.group for item in stated.channel)
    match link:
        case kinds.TcpLink():
            return tcp_link(link, clock, name, quiet_s, asking)
        case kinds.TcpServerLink():
            return tcp_server_link(link, clock, name, quiet_s, asking)
        case kinds.SerialLink():
            return serial_link(link, clock, name, quiet_s, asking)
        case kinds.UdpLink():
            return udp_link(link, clock, name, quiet_s)
        case kinds.FileLink():
            return file_link(link, clock, name, quiet_s)
        case kinds.VisaLink():
            assert asking is not None
            return visa_link(link, clock, name, quiet_s, asking)
        case kinds.MqttLink():
            return mqtt_link(link, clock, name, quiet_s)
        case kinds.OpcUaLink():
            return opcua_link(link, clock, name, quiet_s, items, period_s)
        case kinds.MtconnectLink():
            return mtconnect_link(link, clock, name, quiet_s, items, period_s)
        case kinds.BleLink():
            return ble_link(link, clock, name, quiet_s, asking)
