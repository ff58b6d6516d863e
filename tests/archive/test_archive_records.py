"""What is recorded comes back as it was, with who, when and why; nothing is overwritten."""

from __future__ import annotations

import math
import sqlite3
import unicodedata
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

import pytest

from archive_samples import MOMENT, Stay, a_pass, a_reading, fixed_ids, stay
from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock, new_id
from waywright.errors import ArchiveError, BadInput
from waywright.machine import Machine
from waywright.quantities import Axes
from waywright.readings import Reading
from waywright.visit import Exclusion, Interpretation, Line, Pass, PassSettings, Person, SetUp, Visit


class HandClock(SystemClock):
    """A clock that is set by hand."""

    def __init__(self, moment: datetime) -> None:
        self.moment = moment

    def utc(self) -> datetime:
        return self.moment


@pytest.fixture
def clock() -> HandClock:
    return HandClock(datetime.now(UTC) + timedelta(days=1))


@pytest.fixture
def archive(tmp_path: Path, clock: HandClock) -> Archive:
    return open_archive(tmp_path / "an archive.sqlite", create=True, clock=clock)


@pytest.fixture
def known(archive: Archive) -> Stay:
    made = stay()
    for record in made.all():
        archive.save(record)
    return made


def test_every_kind_of_record_comes_back(archive: Archive, known: Stay) -> None:
    with open_archive(archive.path) as again:
        for record in known.all():
            assert again.load(type(record), record.id) == record


def test_not_recorded_comes_back_as_not_recorded(archive: Archive) -> None:
    bare = (
        Machine(new_id(), "M", "lathe", Axes("+Z", "-Y")),
        Person(new_id(), "P"),
        Visit(new_id(), new_id(), None, MOMENT),
        Line(new_id(), new_id(), "L", "X"),
        SetUp(new_id(), new_id()),
        Interpretation(new_id(), new_id(), ()),
        Pass(new_id(), new_id(), new_id(), 0, "backward", "", (), MOMENT, PassSettings(0.2, 0.1, 1.0)),
        Exclusion(new_id(), new_id(), "", MOMENT),
    )
    for record in bare:
        archive.save(record)
        assert archive.load(type(record), record.id) == record


def test_moments_keep_their_microseconds(archive: Archive, clock: HandClock) -> None:
    clock.moment = datetime(2031, 12, 31, 23, 59, 59, 999_999, tzinfo=UTC)
    person = Person(new_id(), "P")
    archive.save(person)
    assert archive.history(person.id)[0].recorded_utc == clock.moment


def test_text_is_kept_composed(archive: Archive) -> None:
    decomposed = unicodedata.normalize("NFD", "Värmölå, ÅÄÖ é")
    assert decomposed != unicodedata.normalize("NFC", decomposed)
    person = Person(new_id(), decomposed, "测量 ∅ 📏")
    archive.save(person)
    found = archive.load(Person, person.id)
    assert found.name == unicodedata.normalize("NFC", decomposed)
    assert found.role == person.role


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_a_number_without_a_value_is_refused(archive: Archive, number: float) -> None:
    machine = replace(stay().machine, travels=(replace(stay().machine.travels[0], to_mm=number),))
    with pytest.raises(BadInput, match="infinite or not a number"):
        archive.save(machine)
    assert archive.machines() == ()


def test_a_change_is_a_new_revision_with_who_and_why(archive: Archive, known: Stay, clock: HandClock) -> None:
    first = archive.history(known.setup.id)
    clock.moment += timedelta(hours=1)
    mended = replace(known.setup, detector_side="work")
    archive.save(mended, by=known.person.id, reason="the detector stood on the bed")
    history = archive.history(known.setup.id)
    assert history[:1] == first
    assert [revision.record.detector_side for revision in history] == ["tool", "work"]
    assert (history[1].recorded_by, history[1].reason) == (known.person.id, "the detector stood on the bed")
    assert history[1].recorded_utc == clock.moment
    assert history[1].replaces == history[0].id
    assert archive.load(SetUp, known.setup.id) == mended
    assert archive.setups(known.line.id) == (mended,)


def test_saying_the_same_again_adds_nothing_unless_a_reason_is_given(archive: Archive, known: Stay) -> None:
    only = archive.history(known.line.id)[0].id
    assert archive.save(known.line) == only
    assert len(archive.history(known.line.id)) == 1
    assert archive.save(known.line, reason="confirmed on site") != only
    assert len(archive.history(known.line.id)) == 2


def test_the_last_word_holds_when_the_clock_is_set_back(archive: Archive, known: Stay, clock: HandClock) -> None:
    """A laptop that travels: the order of recording decides, the recorded moment stays what the clock said."""
    clock.moment -= timedelta(days=40)
    archive.save(replace(known.line, state="as-left"))
    history = archive.history(known.line.id)
    assert archive.load(Line, known.line.id).state == "as-left"
    assert history[1].recorded_utc == clock.moment < history[0].recorded_utc
    assert history[1].id > history[0].id


def test_a_withdrawn_record_no_longer_holds_and_stays_in_the_history(archive: Archive, known: Stay) -> None:
    reading = _one_reading(archive, known)
    exclusion = Exclusion(new_id(), reading.id, "walked through the beam", MOMENT, known.person.id)
    archive.save(exclusion)
    assert archive.exclusions(known.taken.id) == (exclusion,)
    archive.withdraw(exclusion.id, by=known.person.id, reason="it was the station before")
    assert archive.exclusions(known.taken.id) == ()
    with pytest.raises(ArchiveError, match="holds no exclusion"):
        archive.load(Exclusion, exclusion.id)
    assert [revision.record for revision in archive.history(exclusion.id)] == [exclusion, None]
    assert archive.readings(known.taken.id)[0].id == reading.id


def test_lists_go_from_machine_to_passes(archive: Archive, known: Stay) -> None:
    other = replace(known.machine, id=new_id(), name="HR-2")
    later = replace(known.visit, id=new_id(), began_utc=MOMENT + timedelta(days=100))
    elsewhere = replace(known.visit, id=new_id(), machine_id=other.id)
    second = replace(known.line, id=new_id(), name="tailstock")
    segment = replace(known.setup, id=new_id(), segment=2)
    back = replace(a_pass(new_id(), known.line, known.setup), number=2, direction="backward")
    for record in (other, later, elsewhere, second, segment, back):
        archive.save(record)
    assert archive.machines() == (other, known.machine)
    assert archive.people() == (known.person,)
    assert archive.visits(known.machine.id) == (known.visit, later)
    assert archive.visits(other.id) == (elsewhere,)
    assert len(archive.visits()) == 3
    assert archive.lines(known.visit.id) == (known.line, second)
    assert archive.setups(known.line.id) == (known.setup, segment)
    assert archive.passes(known.line.id) == (known.taken, back)
    assert archive.passes(second.id) == ()


def test_the_interpretation_recorded_last_holds(archive: Archive, known: Stay) -> None:
    assert archive.interpretation(known.setup.id) == known.interpretation
    mended = replace(known.interpretation, id=new_id(), position_sense=1, reason="counted from the wrong end")
    archive.save(mended)
    assert archive.interpretation(known.setup.id) == mended
    archive.save(known.interpretation, reason="it was right after all")
    assert archive.interpretation(known.setup.id) == known.interpretation
    assert archive.interpretation(new_id()) is None


def test_what_is_not_there_is_named(archive: Archive, known: Stay) -> None:
    missing = fixed_ids(99, 1)[0]
    with pytest.raises(ArchiveError, match=f"holds no visit with the id {missing}"):
        archive.load(Visit, missing)
    with pytest.raises(ArchiveError, match=f"holds no machine with the id {known.visit.id}"):
        archive.load(Machine, known.visit.id)
    assert archive.history(missing) == ()


def test_a_thing_stays_of_its_kind(archive: Archive, known: Stay) -> None:
    with pytest.raises(ArchiveError, match="is a machine in this archive; it cannot become a person"):
        archive.save(Person(known.machine.id, "P"))
    assert archive.load(Machine, known.machine.id) == known.machine


def test_only_records_of_known_kinds_are_kept(archive: Archive) -> None:
    class Other:
        id = UUID(int=1)

    with pytest.raises(BadInput, match="no records of the kind Other"):
        archive.save(Other())


def test_nothing_can_be_changed_or_removed(archive: Archive, known: Stay) -> None:
    """With a plain connection too: the file itself refuses."""
    _one_reading(archive, known)
    archive.close()
    raw = sqlite3.connect(archive.path)
    for table in ("subject", "record", "reading"):
        for statement in (f"DELETE FROM {table}", f"UPDATE {table} SET id = x'00'"):
            with pytest.raises(sqlite3.IntegrityError, match=f"{table} is append-only"):
                raw.execute(statement)
    raw.close()
    assert open_archive(archive.path).check().good


def test_a_replacing_insert_is_refused_too(archive: Archive, known: Stay) -> None:
    _one_reading(archive, known)
    with archive._engine.connect() as connection, pytest.raises(Exception, match="reading is append-only"):
        connection.exec_driver_sql("INSERT OR REPLACE INTO reading SELECT * FROM reading")


def _one_reading(archive: Archive, known: Stay) -> Reading:
    archive.begin_pass(known.taken)
    reading = a_reading(known.taken.id, None)
    archive.keep_reading(reading)
    return reading
