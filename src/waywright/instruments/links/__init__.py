"""Links: chunks of bytes as they arrive, with their time. A link never gives up and never blocks."""

from waywright.instruments.links.inbox import Chunk, Inbox
from waywright.instruments.links.opening import open_link
from waywright.instruments.links.reconnecting import REOPENED, Reconnecting

__all__ = ["REOPENED", "Chunk", "Inbox", "Reconnecting", "open_link"]
