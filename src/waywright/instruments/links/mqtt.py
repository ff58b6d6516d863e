"""A topic of an MQTT broker. On Windows the loop must be the selector loop (the library needs it)."""

from __future__ import annotations

from waywright.clocks import Clock
from waywright.instruments.link_records import MqttLink
from waywright.instruments.links.fed import Fed
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.parts import password
from waywright.instruments.links.reconnecting import Reconnecting


def mqtt_link(stated: MqttLink, clock: Clock, source: str, quiet_s: float) -> Reconnecting:
    """The link to whatever publishes on a topic; each message is a line, or several."""
    secret = password(stated.password_variable)

    async def listen(fed: Fed) -> None:
        import aiomqtt

        broker = aiomqtt.Client(stated.host, stated.port, username=stated.user, password=secret)
        async with broker as client:
            await client.subscribe(stated.topic, qos=stated.quality)
            fed.opened()
            async for message in client.messages:
                fed.feed(_bytes(message.payload))

    async def open_mqtt(inbox: Inbox) -> None:
        await Fed.open(inbox, listen)

    return Reconnecting(open_mqtt, clock, source, f"{stated.host}:{stated.port} {stated.topic}", quiet_s)


def _bytes(payload: object) -> bytes:
    return bytes(payload) if isinstance(payload, bytes | bytearray) else str(payload).encode()
