"""Starts the servers of :mod:`instrument_servers` as processes of their own."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class Served:
    """A server that is ready on ``port``; orders go to its standard input."""

    def __init__(self, process: subprocess.Popen[str], port: int) -> None:
        self._process = process
        self.port = port

    def order(self, text: str) -> None:
        assert self._process.stdin is not None
        self._process.stdin.write(text + "\n")
        self._process.stdin.flush()

    def kill(self) -> None:
        self._process.kill()
        self._process.wait()


@contextmanager
def served(kind: str, *given: str) -> Iterator[Served]:
    command = [sys.executable, str(Path(__file__).with_name("instrument_servers.py")), kind, *given]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as process:
        try:
            assert process.stdout is not None
            yield Served(process, int(process.stdout.readline()))
        finally:
            process.kill()
