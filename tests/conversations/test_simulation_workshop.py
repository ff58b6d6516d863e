"""The workshop's process as its parent, its clients and a dying parent meet it."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import socket
import subprocess
import sys
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from waywright.errors import BadInput, InstrumentError
from waywright.simulation import Workshop, load_scenario
from waywright.simulation.operator import plan_programme
from waywright.simulation.truth import carriage_form

FACTOR = 20.0
PATIENCE_S = 60.0
needs_pty = pytest.mark.skipif(not hasattr(os, "openpty"), reason="pseudo-terminals exist on POSIX only")


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    with Workshop.start("calm-hall", FACTOR, tmp_path_factory.mktemp("hall")) as running:
        yield running


def connected(workshop: Workshop, name: str) -> socket.socket:
    endpoint = workshop.endpoints[name]
    return socket.create_connection((endpoint.host, int(endpoint.port)), timeout=PATIENCE_S)


def whole_lines(link: socket.socket, number: int) -> list[bytes]:
    """The first whole lines that arrive; fails when the link closes before."""
    data = b""
    while data.count(b"\r\n") < number:
        piece = link.recv(65_536)
        assert piece, "the instrument hung up"
        data += piece
    return data.split(b"\r\n")[:number]


def serial_lines(file: int, number: int) -> list[bytes]:
    os.set_blocking(file, True)
    data = b""
    while data.count(b"\n") < number:
        data += os.read(file, 4096)
    return [line.strip() for line in data.split(b"\n")[:number]]


def opened(workshop: Workshop) -> int:
    import tty

    file = os.open(str(workshop.endpoints["distance"].port), os.O_RDWR | os.O_NOCTTY)
    tty.setraw(file)
    return file


def test_the_truth_it_tells_is_that_of_its_seed_whatever_the_factor(workshop: Workshop) -> None:
    places_mm = [0.0, 1234.5, 5200.0]
    form = carriage_form(load_scenario("calm-hall"))
    with Workshop.start("calm-hall", 1.0) as slow:
        for told in (workshop.truth(places_mm), slow.truth(places_mm)):
            assert np.array_equal(told.height_um, form.at(np.array(places_mm)).height_um)
            assert np.array_equal(told.side_um, form.at(np.array(places_mm)).side_um)
            assert np.array_equal(told.roll_um_per_m, form.at(np.array(places_mm)).roll_um_per_m)
        assert slow.duration_s == workshop.duration_s == plan_programme(slow.scenario).duration_s


def test_it_writes_descriptions_with_the_places_of_the_running_instruments(workshop: Workshop) -> None:
    assert sorted(workshop.descriptions) == ["beam", "distance", "level"]
    for name, path in workshop.descriptions.items():
        described = tomllib.loads(path.read_text(encoding="utf-8"))
        assert (described["format"], described["name"]) == (1, name)
        assert described["link"]["kind"] == workshop.endpoints[name].kind
        assert described["link"]["port"] == workshop.endpoints[name].port


def test_lines_match_their_pattern_and_come_at_their_rate_in_simulated_time(workshop: Workshop) -> None:
    described = tomllib.loads(workshop.descriptions["beam"].read_text(encoding="utf-8"))
    with connected(workshop, "beam") as beam, connected(workshop, "level") as level:
        whole_lines(level, 1)
        began = time.monotonic()
        matches = [re.match(described["stream"]["pattern"], line.decode()) for line in whole_lines(beam, 1500)]
        taken_s = time.monotonic() - began
        assert None not in matches
        stamps_ms = np.array([int(match["t"]) for match in matches if match])
        assert np.median(np.diff(stamps_ms)) == 20.0
        assert (np.diff(stamps_ms) > 0).all()
        # the clock runs at its factor at most; a busy computer makes the world pause, never hurry
        assert np.ptp(stamps_ms) / 1000.0 < 1.1 * FACTOR * taken_s + 5.0
        # 1500 lines at 50 Hz are 30 s, in which the level says 300 lines; its first come without a wait
        assert len(whole_lines(level, 280)) == 280


def test_a_client_that_leaves_or_never_reads_does_not_stop_the_others(workshop: Workshop) -> None:
    with connected(workshop, "beam") as steady, connected(workshop, "beam") as idle:
        idle.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
        leaving = connected(workshop, "beam")
        assert whole_lines(leaving, 5)
        leaving.close()
        lines = whole_lines(steady, 2000)
        stamps_ms = np.array([int(line.split()[0]) for line in lines])
        assert np.median(np.diff(stamps_ms)) == 20.0
        with connected(workshop, "beam") as again:
            first = int(whole_lines(again, 1)[0].split()[0])
        assert first > stamps_ms[-1]


@needs_pty
def test_the_serial_line_can_be_opened_again_and_holds_nothing_stale(workshop: Workshop) -> None:
    first = opened(workshop)
    lines = serial_lines(first, 20)
    assert all(re.fullmatch(rb"[-+]?\d+\.\d+ mm", line) for line in lines[1:])
    os.close(first)
    with connected(workshop, "level") as level:
        # 50 lines of the level: the serial side had 5 s to heap up about as many
        whole_lines(level, 50)
        again = opened(workshop)
        os.set_blocking(again, False)
        try:
            waiting = os.read(again, 65_536)
        except BlockingIOError:
            waiting = b""
        assert waiting.count(b"\n") < 10
        assert serial_lines(again, 3)
        os.close(again)


@needs_pty
def test_the_serial_line_never_cuts_a_line_when_nobody_reads(workshop: Workshop) -> None:
    file = opened(workshop)
    with connected(workshop, "beam") as beam:
        # 150 s of the workshop's time: 1500 lines are more than a line discipline holds
        whole_lines(beam, 7500)
    lines = serial_lines(file, 1200)
    os.close(file)
    assert all(re.fullmatch(rb"[-+]?\d+\.\d+ mm", line) for line in lines[1:])


def test_the_operator_drives_and_then_has_finished(tmp_path: Path) -> None:
    async def driven() -> tuple[float, set[str | None]]:
        directions = set()
        async with Workshop.start("calm-hall", 200.0, tmp_path) as workshop:
            before = workshop.state()
            assert (before.driving, before.finished, before.direction) == (False, False, None)
            workshop.drive()
            while not (state := workshop.state()).finished:
                directions.add(state.direction)
                await asyncio.sleep(0.02)
            await workshop.until_finished()
            return workshop.state().position_mm, directions

    position_mm, directions = asyncio.run(driven())
    assert position_mm == pytest.approx(0.0, abs=2.0)
    assert {"forward", "backward"} <= directions


def test_the_fitter_turns_supports_and_the_truth_moves_with_them() -> None:
    places_mm = np.linspace(0.0, 5200.0, 27)
    with Workshop.start("calm-hall", 400.0) as workshop:
        before = workshop.truth(places_mm)
        workshop.turn({"4": 40.0, "11": 40.0})
        began_s = workshop.state().time_s
        while workshop.state().time_s < began_s + 400.0:
            time.sleep(0.02)
        after = workshop.truth(places_mm)
        change_um = after.height_um - before.height_um
        risen_um = change_um - np.interp(places_mm, places_mm[[0, -1]], change_um[[0, -1]])
        # supports 4 and 11 stand at 3200 mm of the bed, position 2750 of the line
        assert places_mm[np.argmax(risen_um)] == pytest.approx(2750.0, abs=401.0)
        assert 8.0 < np.ptp(risen_um) < 45.0
        with pytest.raises(BadInput, match="support 99"):
            workshop.turn({"99": 10.0})
        workshop.drive("brief")
        with pytest.raises(BadInput, match="being driven"):
            workshop.turn({"4": 10.0})


def test_it_ends_when_told_and_says_so_when_asked_again() -> None:
    workshop = Workshop.start("calm-hall", FACTOR)
    with connected(workshop, "beam") as beam:
        workshop.stop()
        workshop.stop()
        closed = until_closed(beam)
    assert closed
    with pytest.raises(InstrumentError, match="has ended") as raised:
        workshop.finished()
    assert raised.value.facts["exit_code"] == 0


def test_a_workshop_that_was_killed_is_an_error_not_a_wait() -> None:
    with Workshop.start("calm-hall", FACTOR) as workshop:
        os.kill(workshop.pid, signal.SIGTERM)
        with pytest.raises(InstrumentError, match="no longer answers"):
            ask_for_ever(workshop)


def ask_for_ever(workshop: Workshop) -> None:
    while True:
        workshop.state()


def test_it_ends_when_its_parent_is_killed() -> None:
    parent = subprocess.Popen(
        [
            sys.executable,
            "-c",
            "import sys, time; from waywright.simulation import Workshop; w = Workshop.start('calm-hall', 20.0);"
            "print(w.endpoints['beam'].port, flush=True); time.sleep(600)",
        ],
        stdout=subprocess.PIPE,
    )
    with parent, socket.create_connection(("127.0.0.1", port_told(parent)), timeout=PATIENCE_S) as beam:
        assert whole_lines(beam, 10)
        parent.kill()
        parent.wait()
        assert until_closed(beam)


def port_told(parent: subprocess.Popen[bytes]) -> int:
    assert parent.stdout is not None
    return int(parent.stdout.readline())


def until_closed(link: socket.socket) -> bool:
    """Read until the other side hangs up; a time-out is raised by the socket."""
    try:
        while link.recv(65_536):
            pass
    except ConnectionError:
        pass
    return True


def test_what_is_no_command_is_refused_and_the_next_one_answered() -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "waywright.simulation", "--factor", "20"], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    )
    said, _ = process.communicate(b'nonsense\n{"do":"dance"}\n{"do":"state"}\n{"do":"stop"}\n', timeout=PATIENCE_S)
    ready, nonsense, dance, state, stop = said.splitlines()
    assert b'"endpoints"' in ready
    assert b'"problem"' in nonsense
    assert b"dance" in dance
    assert b'"driving":false' in state
    assert stop == b'{"done":true}'
    assert process.returncode == 0


def test_a_scenario_that_does_not_exist_is_said_before_anything_starts(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="calm-hall"):
        Workshop.start(tmp_path / "missing.toml")
    failed = subprocess.run(
        [sys.executable, "-m", "waywright.simulation", "--scenario", "missing"], capture_output=True, check=False
    )
    assert (failed.returncode, failed.stdout) == (1, b"")
    assert b"calm-hall" in failed.stderr


@pytest.mark.skipif(os.name == "nt", reason="Ctrl-C cannot be sent to one process on Windows")
def test_simulate_tells_where_the_instruments_are_drives_on_enter_and_ends_on_ctrl_c(tmp_path: Path) -> None:
    script = (
        "import signal, sys; from pathlib import Path; from waywright.simulation import run_simulate;"
        "signal.signal(signal.SIGINT, signal.default_int_handler);"
        "run_simulate('calm-hall', 20.0, Path(sys.argv[1]), tell=lambda line: print(line, flush=True))"
    )
    command = [sys.executable, "-c", script, str(tmp_path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        opening = [process.stdout.readline() for _ in range(5)]
        process.stdin.write("\n")
        process.stdin.close()
        driving = process.stdout.readline()
        process.send_signal(signal.SIGINT)
        closing = process.stdout.read()
    assert "Hollin Reach (invented)" in opening[0]
    assert sorted(line.split()[0] for line in opening[1:4]) == ["beam", "distance", "level"]
    assert "The operator drives" in driving
    assert "closed" in closing
    assert process.returncode == 0
    assert (tmp_path / "beam.toml").exists()
