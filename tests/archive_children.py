"""Processes that capture into an archive, for the tests that kill them, starve them or set them beside each other.

They are forked from a server that has imported everything once, so that one costs milliseconds.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import sys
import time
from collections.abc import Callable, Iterator
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from uuid import UUID

from archive_samples import Stay, a_block, a_reading, an_event, ended, stay
from waywright.archive import open_archive
from waywright.errors import WaywrightError

NO_FORK = "a process is not forked on Windows; SQLite makes the same promise there"


@contextlib.contextmanager
def child(target: Callable[..., None], *facts: object) -> Iterator[tuple[BaseProcess, Connection]]:
    """A running process and what it says; it is killed at the end if it still runs."""
    if sys.platform == "win32":
        context = multiprocessing.get_context("spawn")
    else:
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(
            ["waywright.archive", "alembic.command", "alembic.config", "pytest", "numpy.random"]
        )
    hears, says = context.Pipe(duplex=False)
    process = context.Process(target=target, args=(says, *facts), daemon=True)
    process.start()
    says.close()
    try:
        yield process, hears
    finally:
        process.kill()
        process.join()
        hears.close()


def all_heard(hears: Connection) -> tuple[bytes, ...]:
    """Everything a process that has ended had said."""
    heard = []
    with contextlib.suppress(EOFError):
        while True:
            heard.append(hears.recv_bytes())
    return tuple(heard)


def capture_for_ever(says: Connection, path: Path, pass_id: UUID) -> None:
    """Go on with a pass as fast as the disk allows; say each reading's id once the archive has returned."""
    archive = open_archive(path)
    last = max(archive.readings(pass_id), key=lambda reading: reading.number, default=None)
    says.send_bytes(b"ready")
    blocks = os.getpid() * 1_000
    while True:
        last = a_reading(pass_id, last)
        archive.keep_reading(last)
        says.send_bytes(last.id.bytes)
        if last.number % 5 == 4:
            archive.keep_stream(a_block(pass_id, number=blocks))
            archive.note(an_event(pass_id))
            blocks += 1


def capture_until_it_fails(says: Connection, path: Path, pass_id: UUID, largest_file: int) -> None:
    """Capture with a limit on the size of files (0: none); say every id, then the sentence of what went wrong."""
    archive = open_archive(path)
    if largest_file:
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (largest_file, resource.RLIM_INFINITY))
    last = None
    try:
        while True:
            last = a_reading(pass_id, last, samples=200)
            archive.keep_reading(last)
            says.send_bytes(last.id.bytes)
    except WaywrightError as error:
        says.send_bytes(f"{error.key}: {error}".encode())


def hold(says: Connection, path: Path, known: Stay) -> None:
    """Begin a pass, say so, and wait."""
    archive = open_archive(path)
    archive.begin_pass(known.taken)
    says.send_bytes(b"holding")
    while True:
        time.sleep(1.0)


def as_somebody_else(says: Connection, path: Path) -> None:
    """As a user without rights: say how many readings can be shown, then the keys of what is refused."""
    if os.getuid() == 0:
        os.setgid(65_534)
        os.setuid(65_534)
    known = stay()
    steps: tuple[Callable[[], object], ...] = (
        lambda: len(open_archive(path).readings(known.taken.id, with_window=True)),
        lambda: open_archive(path).check().good,
        lambda: open_archive(path).save(known.machine),
        lambda: open_archive(path).begin_pass(known.taken),
        lambda: open_archive(path).end_pass(ended(known.taken)),
        lambda: open_archive(path.with_name("new.sqlite"), create=True),
    )
    for step in steps:
        says.send_bytes(_outcome(step).encode())


def _outcome(step: Callable[[], object]) -> str:
    try:
        return str(step())
    except WaywrightError as error:
        return error.key
