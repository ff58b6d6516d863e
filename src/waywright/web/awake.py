"""Asks the system not to sleep while a pass is armed: each system in its own way, and none of them must obey."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

_CONTINUOUS, _SYSTEM = 0x80000000, 0x00000001


class Awake:
    """Between :meth:`keep` and :meth:`let`; both are called in the same thread, which Windows counts by."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None

    def keep(self) -> None:
        """Ask the system to stay awake."""
        if sys.platform == "win32":
            _windows(_CONTINUOUS | _SYSTEM)
        elif self._process is None and (command := _command()):
            try:
                quiet = subprocess.DEVNULL
                self._process = subprocess.Popen(command, stdin=quiet, stdout=quiet, stderr=quiet)
            except OSError:
                self._process = None  # the pass goes on all the same; a gap would be named

    def let(self) -> None:
        """The system may sleep again."""
        if sys.platform == "win32":
            _windows(_CONTINUOUS)
        if self._process is not None:
            self._process.terminate()
            self._process.wait()
            self._process = None


def _command() -> list[str] | None:
    """What keeps this system awake for as long as it runs."""
    if sys.platform == "darwin":
        return ["caffeinate", "-i", "-w", str(os.getpid())]
    if shutil.which("systemd-inhibit") and shutil.which("sleep"):
        reason = ["--what=sleep:idle", "--who=Waywright", "--why=a pass is being taken", "--mode=block"]
        return ["systemd-inhibit", *reason, "sleep", "infinity"]
    return None


def _windows(state: int) -> None:
    import ctypes

    ctypes.windll.kernel32.SetThreadExecutionState(state)  # type: ignore[attr-defined, unused-ignore]
