"""Links: chunks of bytes as they arrive, with their time. A link never gives up and never blocks."""

from waywright.instruments.links.inbox import Chunk, Inbox
from waywright.instruments.links.reconnecting import Reconnecting
from waywright.instruments.links.serial import serial_link
from waywright.instruments.links.tcp import tcp_link

__all__ = ["Chunk", "Inbox", "Reconnecting", "serial_link", "tcp_link"]
