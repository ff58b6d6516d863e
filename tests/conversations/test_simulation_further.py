"""The workshop's further instruments over their real links, read by the code that reads real ones."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from instrument_hearing import heard, run, samples, values
from waywright.clocks import ScaledClock
from waywright.errors import BadInput
from waywright.instruments import InstrumentSource, read_instrument
from waywright.instruments.link_records import MqttLink, OpcUaLink, TcpLink, UdpLink, VisaLink
from waywright.simulation import FURTHER, Workshop, check_further, load_scenario
from waywright.simulation.truth import carriage_form

FACTOR = 10.0
ENOUGH = 8


@pytest.fixture(scope="module")
def hall(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    with Workshop.start("calm-hall", FACTOR, tmp_path_factory.mktemp("hall"), FURTHER) as running:
        yield running


def read(path: Path) -> np.ndarray:
    """The first values of an instrument, (samples, channels)."""
    said: list[np.ndarray] = []

    async def conversation() -> None:
        source = InstrumentSource(read_instrument(path), ScaledClock(FACTOR))
        batches, _ = await heard(source, lambda items: samples(items) >= ENOUGH)
        assert source.tally.malformed == 0
        said.append(values(batches))

    run(conversation())
    return said[0]


@pytest.mark.parametrize("name", ["thermometers", "climate"])
def test_thermometers_by_datagram_and_by_broker(hall: Workshop, name: str) -> None:
    kind = {"thermometers": UdpLink, "climate": MqttLink}[name]
    assert isinstance(read_instrument(hall.descriptions[name]).description.link, kind)
    # a calm hall without gradient: air and bed at their usual temperatures, 0.01 K of noise
    np.testing.assert_allclose(read(hall.descriptions[name])[:ENOUGH].mean(axis=0), [19.6, 19.6, 19.2, 19.2], atol=0.02)


@pytest.mark.parametrize("name", ["indicator", "indicator-visa"])
def test_the_indicator_answers_over_a_plain_socket_and_over_visa(hall: Workshop, name: str) -> None:
    kind = {"indicator": TcpLink, "indicator-visa": VisaLink}[name]
    assert isinstance(read_instrument(hall.descriptions[name]).description.link, kind)
    # the carriage stands at the tailstock end, off the straightedge
    assert np.isnan(read(hall.descriptions[name])).all()


def test_a_question_in_pieces_is_answered_once_and_an_unknown_one_not_at_all(hall: Workshop) -> None:
    place = hall.endpoints["indicator"]
    with socket.create_connection((str(place.host), int(place.port)), timeout=30.0) as link:
        for piece in (b"NONSENSE\n*ID", b"N?", b"\r\nREAD?\n"):
            link.sendall(piece)
        answers = link.makefile("rb")
        assert answers.readline().startswith(b"HOLLIN REACH (INVENTED)")
        assert answers.readline() == b"9.9E37\r\n"


def test_the_autocollimator_is_asked_and_says_pitch_and_yaw_where_the_carriage_stands(hall: Workshop) -> None:
    tilt, turn = read(hall.descriptions["autocollimator"])[:ENOUGH].mean(axis=0)
    scenario = load_scenario("calm-hall")
    place_mm = hall.state().position_mm + np.array([-20.0, 20.0])
    seen = carriage_form(scenario).at(place_mm)
    # positions grow to the left: right side up is the height falling with them
    height_step, side_step = np.diff(seen.height_um)[0], np.diff(seen.side_um)[0]
    # 40 mm apart; mean of eight readings with 0.45 um/m of air and its own noise, three standard errors and the arcsec
    assert tilt == pytest.approx(-height_step / 0.040 + 38.0, abs=0.8)
    assert turn == pytest.approx(side_step / 0.040 - 21.0, abs=0.8)


def test_the_controller_tells_the_position_and_takes_none(hall: Workshop) -> None:
    asyncua = pytest.importorskip("asyncua")
    description = read_instrument(hall.descriptions["controller"]).description
    assert isinstance(description.link, OpcUaLink)
    said = read(hall.descriptions["controller"])
    assert said[-1, 0] == pytest.approx(hall.state().position_mm, abs=0.02)

    async def write() -> None:
        async with asyncua.Client(description.link.url) as client:
            with pytest.raises(asyncua.ua.UaStatusCodeError):
                await client.get_node(description.channel[0].group).write_value(1.0)

    run(write())


def test_an_instrument_that_there_is_not_is_refused_with_the_names_of_those_there_are() -> None:
    with pytest.raises(BadInput) as refusal:
        check_further(["sextant"])
    assert refusal.value.key == "simulation.no_instrument"
    assert "autocollimator" in str(refusal.value)
