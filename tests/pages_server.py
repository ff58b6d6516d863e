"""A server of its own process, as a technician starts it."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path


class Server:
    """``waywright serve`` on a free port; ``address`` ends in a slash."""

    def __init__(self, archive: Path, *options: str) -> None:
        command = [sys.executable, "-m", "waywright", "serve", "--port", "0", "--no-browser", "--archive", str(archive)]
        self.process = subprocess.Popen([*command, *options], stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        self.said = [self.process.stdout.readline()]
        if "--lan" in options:
            self.said.append(self.process.stdout.readline())
        self.line = self.visit = ""
        self.address = next(word for word in self.said[0].split() if word.startswith("http"))

    def kill(self) -> None:
        """As a dying computer does."""
        self.process.kill()
        self.process.wait()

    def stop(self) -> int:
        """As ctrl-c does; returns the exit code."""
        if os.name == "nt":
            self.process.terminate()
        else:
            self.process.send_signal(signal.SIGINT)
        return self.process.wait(30)


@contextlib.contextmanager
def server(archive: Path, *options: str) -> Iterator[Server]:
    """A server that is ended whatever happens."""
    made = Server(archive, *options)
    try:
        yield made
    finally:
        if made.process.poll() is None:
            made.kill()
        if made.process.stdout is not None:
            made.process.stdout.close()
