"""The parent's handle of a running workshop."""

from __future__ import annotations

import asyncio
import queue
import subprocess
import sys
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import IO, TypeVar

import msgspec
import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput, InstrumentError
from waywright.machine import Machine
from waywright.readings.records import Floats
from waywright.simulation import protocol
from waywright.simulation.descriptions import write_descriptions
from waywright.simulation.further_peers import check_further
from waywright.simulation.protocol import Endpoint, WorkshopState
from waywright.simulation.scenario import Scenario, load_scenario
from waywright.visit import PositionZero, SourceStand
from waywright.visit.lines import Offset

_PATIENCE_S = 60.0

Reply = TypeVar("Reply")


@dataclass(frozen=True, slots=True, eq=False)
class CarriageTruth:
    """The truth at positions (n,) of the line; height and side in um, roll in um/m, all (n,).

    It is what the detector meets at this moment: height and side in the frame of the source, which stands on the bed
    and goes with it; roll against gravity. Up, towards the operator and operator's side up are positive.
    """

    position_mm: Floats
    height_um: Floats
    side_um: Floats
    roll_um_per_m: Floats


class Workshop:
    """A workshop in its own process, with its description files; a context manager, also an asynchronous one.

    Every call but ``until_finished`` answers within milliseconds and may come from any thread. Raises InstrumentError
    when the process has ended by itself.
    """

    def __init__(self, scenario: Scenario, factor: float, process: subprocess.Popen[bytes]) -> None:
        self.scenario = scenario
        self.factor = factor
        self._process = process
        self._lock = threading.Lock()
        self._lines: queue.Queue[bytes] = queue.Queue()
        threading.Thread(target=self._read, daemon=True, name="workshop").start()

    @classmethod
    def start(
        cls,
        scenario: str | Path = "calm-hall",
        factor: float = 1.0,
        folder: Path | None = None,
        further: Sequence[str] = (),
    ) -> Workshop:
        """Start the process and wait until the instruments can be opened.

        ``folder`` receives beam.toml, distance.toml, level.toml and one for each of the ``further`` instruments (see
        ``FURTHER``); None writes nothing. Raises BadInput for a scenario that cannot be used or an instrument that
        there is not, MissingPart where one needs the part ``practice``, InstrumentError where the process does not
        start.
        """
        check_further(further)
        loaded = load_scenario(scenario)
        arguments = [
            sys.executable,
            "-m",
            "waywright.simulation",
            "--scenario",
            str(scenario),
            "--factor",
            repr(factor),
            *(argument for name in further for argument in ("--further", name)),
        ]
        process = subprocess.Popen(arguments, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        workshop = cls(loaded, factor, process)
        try:
            workshop._open(folder)
        except BaseException:
            workshop.stop()
            raise
        return workshop

    def _open(self, folder: Path | None) -> None:
        ready = self._hear(protocol.Ready, "simulation.did_not_start")
        self.endpoints: dict[str, Endpoint] = ready.endpoints
        self.duration_s: float = ready.duration_s
        self.descriptions: dict[str, Path] = {}
        if folder is not None:
            self.descriptions = write_descriptions(folder, self.scenario, self.endpoints)

    @property
    def machine(self) -> Machine:
        """The machine of the scenario, marked as invented."""
        return self.scenario.machine

    @property
    def zero(self) -> PositionZero:
        """Position zero of the line; the distance meter reads positions directly."""
        return self.scenario.zero

    @property
    def source(self) -> SourceStand:
        """Where the source of the beam stands."""
        return self.scenario.source

    @property
    def detector_offset_mm(self) -> Offset:
        """The detector from the position read: along the bed, up, towards the operator."""
        return self.scenario.detector_offset_mm

    @property
    def pid(self) -> int:
        """Process id of the workshop."""
        return self._process.pid

    def drive(self, programme: str = "whole") -> None:
        """The operator begins a programme; without effect while he drives.

        "whole" is forward and back with all that happens on the floor, "brief" one quiet forward pass and home.
        """
        self._ask(protocol.Drive(programme), protocol.Done)

    def turn(self, moves_um: Mapping[str, float]) -> None:
        """The fitter turns supports one after the other, raising positive, as well as a fitter can.

        Raises BadInput for a support that the workshop does not have or while the operator drives; what stands
        before it in the mapping has been turned.
        """
        for support, move_um in moves_um.items():
            if not self._ask(protocol.Turn(support, float(move_um)), protocol.Done).done:
                raise BadInput("simulation.not_turned", support=support)

    def drive_to(self, position_mm: float | None) -> bool:
        """The operator drives to a position (None: where his programmes begin); False while he drives."""
        return self._ask(protocol.Go(position_mm), protocol.Done).done

    async def until_standing(self, every_s: float = 0.1) -> None:
        """Wait until nobody drives."""
        while (await asyncio.to_thread(self.state)).driving:
            await asyncio.sleep(every_s)

    def shift_detector(self, up_um: float, towards_um: float) -> None:
        """Somebody shims or pushes the detector to so far from where it sat at first."""
        self._ask(protocol.Shift(float(up_um), float(towards_um)), protocol.Done)

    def leave(self, duration_s: float) -> None:
        """Everybody leaves the machine alone; in the workshop that time passes at once.

        Raises BadInput while the operator drives.
        """
        if not self._ask(protocol.Leave(duration_s), protocol.Done).done:
            raise BadInput("simulation.not_left")

    def truth(self, position_mm: npt.ArrayLike | Sequence[float]) -> CarriageTruth:
        """The truth at positions of the line."""
        place = np.atleast_1d(np.asarray(position_mm, dtype=np.float64))
        told = self._ask(protocol.Truth(place.tolist()), protocol.TrueForm)
        return CarriageTruth(place, np.array(told.height_um), np.array(told.side_um), np.array(told.roll_um_per_m))

    def state(self) -> WorkshopState:
        """How far the operator is."""
        return self._ask(protocol.State(), WorkshopState)

    def finished(self) -> bool:
        """The operator has driven his whole programme."""
        return self.state().finished

    async def until_finished(self, every_s: float = 0.2) -> None:
        """Wait for the operator; ``every_s`` is how often to look, in seconds of the wall clock."""
        while not await asyncio.to_thread(self.finished):
            await asyncio.sleep(every_s)

    def wait(self) -> None:
        """Block while the process runs. Raises InstrumentError when it has ended, which it does not by itself."""
        self._process.wait()
        raise self._gone("simulation.ended")

    def stop(self) -> None:
        """End the process; harmless when it has ended."""
        _close(self._process.stdin)
        try:
            self._process.wait(5.0)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()

    def __enter__(self) -> Workshop:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, raised: BaseException | None, at: TracebackType | None
    ) -> None:
        self.stop()

    async def __aenter__(self) -> Workshop:
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, raised: BaseException | None, at: TracebackType | None
    ) -> None:
        await asyncio.to_thread(self.stop)

    def _ask(self, command: protocol.Command, answer: type[Reply]) -> Reply:
        with self._lock:
            try:
                self._pipe.write(msgspec.json.encode(command) + b"\n")
                self._pipe.flush()
            except (OSError, ValueError) as problem:
                raise self._gone("simulation.ended") from problem
            return self._hear(answer, "simulation.ended")

    def _hear(self, expected: type[Reply], key: str) -> Reply:
        try:
            line = self._lines.get(timeout=_PATIENCE_S)
        except queue.Empty as problem:
            raise self._gone(key) from problem
        if not line:
            raise self._gone(key)
        return msgspec.json.decode(line, type=expected)

    def _gone(self, key: str) -> InstrumentError:
        _close(self._process.stdin)
        try:
            self._process.wait(1.0)
        except subprocess.TimeoutExpired:
            self._process.kill()
        return InstrumentError(key, exit_code=self._process.wait())

    @property
    def _pipe(self) -> IO[bytes]:
        if self._process.stdin is None:
            raise ValueError("stdin")
        return self._process.stdin

    def _read(self) -> None:
        """Pass the answers on; an empty line says that the process has ended."""
        if self._process.stdout is not None:
            with self._process.stdout as answers:
                for line in answers:
                    self._lines.put(line)
        self._lines.put(b"")


def _close(pipe: IO[bytes] | None) -> None:
    if pipe is not None:
        try:
            pipe.close()
        except OSError:
            # the process ended before it had read everything; the pipe is closed all the same
            return
