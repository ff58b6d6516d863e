"""What the workshop's process and its parent say to each other: one JSON object a line, over stdin and stdout.

The process speaks first (:class:`Ready`); then it answers every command with one line. It ends when its input closes,
so it never outlives its parent.
"""

from __future__ import annotations

import msgspec


class Endpoint(msgspec.Struct, frozen=True, omit_defaults=True):
    """Where an instrument is.

    ``tcp`` has host and port number, ``udp`` the port of this computer that it sends to, ``serial`` device name and
    baud, ``mqtt`` the broker's host and port and the topic, ``opcua`` the server's address in ``url``.
    """

    kind: str
    port: int | str
    host: str | None = None
    baud: int | None = None
    topic: str | None = None
    url: str | None = None

    @property
    def place(self) -> str:
        """For people."""
        match self.kind:
            case "serial":
                return f"{self.port} ({self.baud} baud)"
            case "opcua":
                return str(self.url)
            case "udp":
                return f"udp {self.port}"
        return " ".join(filter(None, (f"{self.host}:{self.port}", self.topic)))


class Ready(msgspec.Struct, frozen=True):
    """The first line: the instruments can be opened. ``duration_s`` is how long the operator's programme takes."""

    endpoints: dict[str, Endpoint]
    duration_s: float


class Drive(msgspec.Struct, frozen=True, tag_field="do", tag="drive"):
    """Let the operator begin a programme, "whole" or "brief"; without effect while he drives."""

    programme: str = "whole"


class Turn(msgspec.Struct, frozen=True, tag_field="do", tag="turn"):
    """Let the fitter turn a support, raising positive; refused while the operator drives."""

    support: str
    move_um: float


class Go(msgspec.Struct, frozen=True, tag_field="do", tag="go"):
    """Let the operator drive to a position (None: where his programmes begin); refused while he drives."""

    position_mm: float | None = None


class Shift(msgspec.Struct, frozen=True, tag_field="do", tag="shift"):
    """Let somebody shim or push the detector to so far from where it sat at first: up, towards the operator."""

    up_um: float
    towards_um: float


class Leave(msgspec.Struct, frozen=True, tag_field="do", tag="leave"):
    """Let the machine stand alone for a time, which passes at once; refused while the operator drives."""

    duration_s: float


class Truth(msgspec.Struct, frozen=True, tag_field="do", tag="truth"):
    """Ask for the truth at positions of the line."""

    position_mm: list[float]


class State(msgspec.Struct, frozen=True, tag_field="do", tag="state"):
    """Ask how far the operator is."""


class Stop(msgspec.Struct, frozen=True, tag_field="do", tag="stop"):
    """End the process."""


Command = Drive | Turn | Leave | Go | Shift | Truth | State | Stop


class Done(msgspec.Struct, frozen=True):
    """Answer to drive, turn, leave and stop."""

    done: bool


class TrueForm(msgspec.Struct, frozen=True):
    """Answer to truth: up, towards the operator and operator's side up are positive; each as long as asked."""

    height_um: list[float]
    side_um: list[float]
    roll_um_per_m: list[float]


class WorkshopState(msgspec.Struct, frozen=True):
    """Answer to state. ``time_s`` is the workshop's own time; ``direction`` the pass being driven, if any."""

    driving: bool
    finished: bool
    position_mm: float
    direction: str | None
    time_s: float


class Refused(msgspec.Struct, frozen=True):
    """Answer to a line that is no command."""

    problem: str


Answer = Done | TrueForm | WorkshopState | Refused
