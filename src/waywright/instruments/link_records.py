"""How an instrument is reached: one record for each kind of link. Passwords are named, never written here."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta, Struct

Port = Annotated[int, Meta(ge=1, le=65535)]
Text = Annotated[str, Meta(min_length=1)]


class TcpLink(Struct, frozen=True, forbid_unknown_fields=True, tag="tcp", tag_field="kind"):
    """The instrument listens on a TCP port; we call it."""

    host: Text
    port: Port


class TcpServerLink(Struct, frozen=True, forbid_unknown_fields=True, tag="tcp-server", tag_field="kind"):
    """The instrument calls us on a TCP port. ``host`` is the address of this computer that listens."""

    port: Port
    host: Text = "0.0.0.0"


class UdpLink(Struct, frozen=True, forbid_unknown_fields=True, tag="udp", tag_field="kind"):
    """The instrument sends datagrams to a port of this computer; each holds one or more whole lines."""

    port: Port
    host: Text = "0.0.0.0"


class SerialLink(Struct, frozen=True, forbid_unknown_fields=True, tag="serial", tag_field="kind"):
    """The instrument is on a serial port (``COM3``, ``/dev/ttyUSB0``)."""

    port: Text
    baud: Annotated[int, Meta(ge=50, le=10_000_000)] = 9600
    data_bits: Annotated[int, Meta(ge=5, le=8)] = 8
    parity: Literal["none", "even", "odd", "mark", "space"] = "none"
    stop_bits: Literal[1, 2] = 1
    flow_control: Literal["none", "rts-cts", "xon-xoff"] = "none"


class FileLink(Struct, frozen=True, forbid_unknown_fields=True, tag="file", tag_field="kind"):
    """Another program writes lines into a text file; what it adds from now on is read."""

    path: Text


class VisaLink(Struct, frozen=True, forbid_unknown_fields=True, tag="visa", tag_field="kind"):
    """A VISA resource that is asked (``TCPIP::192.0.2.7::5025::SOCKET``, ``ASRL3::INSTR``); ``library`` opens it."""

    resource: Text
    library: Text = "@py"
    timeout_s: Annotated[float, Meta(gt=0, le=60)] = 2.0
    read_ends_with: Text = "\n"


class MqttLink(Struct, frozen=True, forbid_unknown_fields=True, tag="mqtt", tag_field="kind"):
    """A topic of an MQTT broker; each message is a line. ``password_variable`` names an environment variable."""

    host: Text
    topic: Text
    port: Port = 1883
    user: str | None = None
    password_variable: str | None = None
    quality: Literal[0, 1, 2] = 0


class OpcUaLink(Struct, frozen=True, forbid_unknown_fields=True, tag="opcua", tag_field="kind"):
    """Values of an OPC UA server, subscribed to and never written. ``password_variable`` names an environment variable.

    With ``security`` the files of our certificate and key are needed, and ``server_certificate`` pins the server's.
    """

    url: Text
    security: Literal["none", "Basic256Sha256"] = "none"
    certificate: str | None = None
    key: str | None = None
    server_certificate: str | None = None
    user: str | None = None
    password_variable: str | None = None


class MtconnectLink(Struct, frozen=True, forbid_unknown_fields=True, tag="mtconnect", tag_field="kind"):
    """Data items of an MTConnect agent (``http://192.0.2.8:5000/machine``), read and never written."""

    url: Text


class BleLink(Struct, frozen=True, forbid_unknown_fields=True, tag="ble", tag_field="kind"):
    """A characteristic of a Bluetooth LE device that notifies text; ``write`` is the one that takes commands."""

    address: Text
    notify: Text
    write: str | None = None


Link = (
    TcpLink
    | TcpServerLink
    | UdpLink
    | SerialLink
    | FileLink
    | VisaLink
    | MqttLink
    | OpcUaLink
    | MtconnectLink
    | BleLink
)

VALUE_LINKS = (OpcUaLink, MtconnectLink)
"""Links that bring named numbers instead of lines."""

WRITABLE_LINKS = (TcpLink, TcpServerLink, SerialLink, VisaLink, BleLink)
"""Links on which something can be sent."""
