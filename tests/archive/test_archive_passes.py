"""The archive as the sink of a pass: sealed readings, chains, streams, events, and a check that finds tampering."""

from __future__ import annotations

import math
import sqlite3
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from archive_samples import Stay, a_block, a_reading, an_event, ended, same, some_readings, stay
from waywright import wording
from waywright.archive import Archive, open_archive
from waywright.clocks import new_id
from waywright.errors import ArchiveError, BadInput
from waywright.readings import Reading, Trace, seal, standing
from waywright.visit import Pass, ReadingSink


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return open_archive(tmp_path / "archive.sqlite", create=True)


@pytest.fixture
def known(archive: Archive) -> Stay:
    made = stay()
    for record in made.all():
        archive.save(record)
    return made


@pytest.fixture
def readings(archive: Archive, known: Stay) -> tuple[Reading, ...]:
    made = some_readings(known.taken.id, 6)
    _take(archive, known.taken, made)
    return made


def _take(sink: ReadingSink, taken: Pass, readings: tuple[Reading, ...]) -> None:
    """As capture does it; the archive is a ReadingSink."""
    sink.begin_pass(taken)
    for reading in readings:
        sink.keep_reading(reading)
    sink.keep_stream(a_block(taken.id))
    sink.note(an_event(taken.id))
    sink.end_pass(ended(taken))


def test_the_settings_that_durability_rests_on(archive: Archive) -> None:
    """PRAGMA synchronous: 2 is FULL (https://www.sqlite.org/pragma.html#pragma_synchronous)."""
    settings = archive.settings()
    assert settings["journal_mode"] == "wal"
    assert settings["synchronous"] == 2
    assert settings["foreign_keys"] == 1
    assert settings["busy_timeout"] == 5000
    assert settings["recursive_triggers"] == 1


def test_readings_come_back_bit_for_bit(archive: Archive, known: Stay, readings: tuple[Reading, ...]) -> None:
    with open_archive(archive.path) as again:
        found = again.readings(known.taken.id, with_window=True)
        assert len(found) == len(readings)
        assert all(same(one, two) for one, two in zip(found, readings, strict=True))
        assert found[3].values == readings[3].values
        assert found[3].began_utc == readings[3].began_utc
        assert all(reading.window == () for reading in again.readings(known.taken.id))


def test_each_reading_is_there_for_others_when_the_call_returns(archive: Archive, known: Stay) -> None:
    raw = sqlite3.connect(archive.path)
    archive.begin_pass(known.taken)
    previous = None
    for count in range(1, 5):
        previous = a_reading(known.taken.id, previous)
        archive.keep_reading(previous)
        assert raw.execute("SELECT count(*), max(number) FROM reading").fetchone() == (count, count - 1)
    raw.close()


def test_a_reading_without_values_or_window_is_kept(archive: Archive, known: Stay) -> None:
    archive.begin_pass(known.taken)
    bare = a_reading(known.taken.id, None, values=(), window=(), direction=None, taken_by="typed")
    archive.keep_reading(bare)
    found = archive.readings(known.taken.id, with_window=True)[0]
    assert (found.direction, found.values, found.window, found.taken_by) == (None, (), (), "typed")
    assert archive.check().good


def test_a_repeat_supersedes_and_the_first_stays(archive: Archive, known: Stay) -> None:
    archive.begin_pass(known.taken)
    first, second = some_readings(known.taken.id, 2)
    repeat = a_reading(known.taken.id, second, supersedes=first.id)
    for reading in (first, second, repeat):
        archive.keep_reading(reading)
    found = archive.readings(known.taken.id)
    assert [reading.id for reading in found] == [first.id, second.id, repeat.id]
    assert [reading.id for reading in standing(found)] == [second.id, repeat.id]


def test_stream_and_events_come_back(archive: Archive, known: Stay) -> None:
    pass_id = known.taken.id
    archive.begin_pass(known.taken)
    blocks = (a_block(pass_id, "beam", 0), a_block(pass_id, "beam", 1), a_block(pass_id, "level", 0))
    for block in (blocks[2], blocks[0], blocks[1]):
        archive.keep_stream(block)
    late, early = an_event(pass_id, 60.0), an_event(pass_id, 1.0)
    for event in (late, early):
        archive.note(event)
    found = archive.stream(pass_id)
    assert [(block.source, block.number, block.channels) for block in found] == [
        (block.source, block.number, block.channels) for block in blocks
    ]
    for one, two in zip(found, blocks, strict=True):
        np.testing.assert_array_equal(one.value, two.value)
        np.testing.assert_array_equal(one.time_s, two.time_s)
    assert archive.events(pass_id) == (early, late)
    assert archive.stream(new_id()) == ()


def test_an_event_with_a_number_that_is_none_does_not_stop_the_pass(archive: Archive, known: Stay) -> None:
    archive.begin_pass(known.taken)
    archive.note(replace(an_event(known.taken.id), facts={"spread_um": math.nan, "channel": "beam"}))
    facts = archive.events(known.taken.id)[0].facts
    assert facts["channel"] == "beam"
    assert isinstance(facts["spread_um"], float)
    assert math.isnan(facts["spread_um"])


def test_the_end_is_a_new_revision(archive: Archive, known: Stay, readings: tuple[Reading, ...]) -> None:
    history = archive.history(known.taken.id)
    assert [revision.record.outcome for revision in history] == [None, "finished"]
    assert archive.passes(known.line.id) == (ended(known.taken),)


@pytest.mark.parametrize(
    "wrong",
    [
        pytest.param(lambda last: a_reading(last.pass_id, a_reading(last.pass_id, last)), id="one left out"),
        pytest.param(lambda last: last, id="the same again"),
        pytest.param(lambda last: seal(replace(a_reading(last.pass_id, last), number=0), None), id="from the start"),
        pytest.param(lambda last: seal(a_reading(last.pass_id, last), None), id="no previous hash"),
        pytest.param(lambda last: a_reading(last.pass_id, replace(last, hash=bytes(range(32)))), id="another chain"),
    ],
)
def test_what_does_not_continue_the_pass_is_refused(
    archive: Archive, known: Stay, readings: tuple[Reading, ...], wrong: Callable[[Reading], Reading]
) -> None:
    with pytest.raises(ArchiveError, match="does not continue this pass"):
        archive.keep_reading(wrong(readings[-1]))
    assert len(archive.readings(known.taken.id)) == 6
    following = a_reading(known.taken.id, readings[-1])
    archive.keep_reading(following)
    assert archive.readings(known.taken.id)[-1].id == following.id


def test_an_unsealed_or_changed_reading_is_refused(archive: Archive, known: Stay) -> None:
    archive.begin_pass(known.taken)
    reading = a_reading(known.taken.id, None)
    for wrong in (replace(reading, hash=b""), replace(reading, position_mm=reading.position_mm + 1e-9)):
        with pytest.raises(ArchiveError, match="does not match its own hash"):
            archive.keep_reading(wrong)
    assert archive.readings(known.taken.id) == ()


def test_a_window_with_a_missing_time_is_refused(archive: Archive, known: Stay) -> None:
    archive.begin_pass(known.taken)
    uneven = (Trace("beam.side_um", np.zeros(3), np.zeros(4)),)
    with pytest.raises(BadInput, match="not as many times as values"):
        archive.keep_reading(a_reading(known.taken.id, None, window=uneven))


def test_a_pass_that_was_never_begun_is_refused(archive: Archive, known: Stay) -> None:
    stranger = new_id()
    for call in (
        lambda: archive.keep_reading(a_reading(stranger, None)),
        lambda: archive.keep_stream(a_block(stranger)),
        lambda: archive.note(an_event(stranger)),
        lambda: archive.keep_reading(a_reading(known.line.id, None)),
    ):
        with pytest.raises(ArchiveError, match="holds no pass"):
            call()


@pytest.mark.parametrize("announced", [True, False])
def test_a_pass_goes_on_after_it_ended(
    archive: Archive, known: Stay, readings: tuple[Reading, ...], announced: bool
) -> None:
    archive.close()
    with open_archive(archive.path) as again:
        if announced:
            again.begin_pass(known.taken)
        previous = again.readings(known.taken.id)[-1]
        for reading in some_readings(known.taken.id, 3, previous):
            again.keep_reading(reading)
        again.end_pass(ended(known.taken))
        assert [reading.number for reading in again.readings(known.taken.id)] == list(range(9))
        assert again.check().good


def test_a_sound_archive_has_no_findings(archive: Archive, readings: tuple[Reading, ...]) -> None:
    found = archive.check()
    assert found.good
    assert (found.readings, found.blocks, found.events) == (6, 1, 1)
    assert found.records == 9  # seven of the stay, the end of the pass and its tally


# What a tamperer does with a plain connection once the trigger is away, the key of what the check says, and where.
TAMPERINGS = {
    "a byte of a reading": (
        "UPDATE reading SET body = CAST(substr(body, 1, 44) || x'ff' || substr(body, 46) AS BLOB) WHERE number = 2",
        {"archive.check_seal"},
        2,
    ),
    "a listed position": (
        "UPDATE reading SET position_mm = position_mm + 1 WHERE number = 3",
        {"archive.check_columns"},
        3,
    ),
    "a reading left out": ("DELETE FROM reading WHERE number = 2", {"archive.check_chain"}, 3),
    "the last reading left out": ("DELETE FROM reading WHERE number = 5", {"archive.check_tally"}, None),
    "all readings left out": ("DELETE FROM reading", {"archive.check_tally"}, None),
    "other samples": (
        "UPDATE reading SET window = (SELECT window FROM reading WHERE number = 0) WHERE number = 4",
        {"archive.check_window"},
        4,
    ),
    "no samples": ("UPDATE reading SET window = NULL WHERE number = 4", {"archive.check_window"}, 4),
    "garbled samples": ("UPDATE reading SET window = x'0102' WHERE number = 4", {"archive.check_window"}, 4),
    "a reading as text": (
        "UPDATE reading SET body = CAST(body AS TEXT) WHERE number = 1",
        {"archive.check_unreadable"},
        1,
    ),
    "samples as text": (
        "UPDATE reading SET window = CAST(window AS TEXT) WHERE number = 4",
        {"archive.check_window"},
        4,
    ),
    "an end cut off": (
        "UPDATE reading SET body = substr(body, 1, 60) WHERE number = 1",
        {"archive.check_unreadable"},
        1,
    ),
    "a broken record": (
        "UPDATE record SET body = '{\"id\": 3}' WHERE body LIKE '%HR-6%'",
        {"archive.unreadable_record"},
        None,
    ),
    "a broken stream": ("UPDATE stream_block SET value = x'0102'", {"archive.check_stream"}, 0),
    "a broken event": ("UPDATE pass_event SET body = '[]'", {"archive.unreadable_record"}, None),
    "a lost reference": (
        "UPDATE record SET subject = x'00' WHERE body LIKE '%HR-6%'",
        {"archive.check_reference"},
        None,
    ),
}


@pytest.mark.parametrize("tampering", TAMPERINGS)
def test_tampering_is_found_and_placed(archive: Archive, readings: tuple[Reading, ...], tampering: str) -> None:
    statement, keys, number = TAMPERINGS[tampering]
    archive.close()
    _tamper(archive.path, statement)
    with open_archive(archive.path) as again:
        findings = again.check().findings
    assert {finding.key for finding in findings} == keys
    assert findings[0].facts.get("number") == number
    for finding in findings:
        assert "{" not in wording.text(finding.key, **finding.facts)


def test_a_reading_resealed_by_a_forger_breaks_the_chain_behind_it(
    archive: Archive, known: Stay, readings: tuple[Reading, ...]
) -> None:
    from waywright.readings import canonical_bytes

    forged = seal(replace(readings[2], position_mm=0.0), readings[1])
    archive.close()
    _tamper(
        archive.path,
        "UPDATE reading SET body = ?, hash = ?, position_mm = 0.0 WHERE number = 2",
        (canonical_bytes(forged), forged.hash),
    )
    with open_archive(archive.path) as again:
        findings = again.check().findings
    assert [(finding.key, finding.facts["number"]) for finding in findings] == [("archive.check_chain", 3)]


def test_a_changed_reading_is_never_handed_out(archive: Archive, known: Stay, readings: tuple[Reading, ...]) -> None:
    archive.close()
    _tamper(archive.path, TAMPERINGS["a byte of a reading"][0])
    with open_archive(archive.path) as again, pytest.raises(ArchiveError, match="reading 2 does not match its hash"):
        again.readings(known.taken.id)


def _tamper(path: Path, statement: str, values: tuple[bytes, ...] = ()) -> None:
    raw = sqlite3.connect(path)
    for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        raw.execute(f"DROP TRIGGER {name}")
    assert raw.execute(statement, values).rowcount > 0
    raw.commit()
    raw.close()
