"""Visit files, backups, blanked names, attached files: nothing lost, nothing overwritten, nothing left behind."""

from __future__ import annotations

import gzip
import json
import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import jsonschema
import msgspec
import pytest
from sqlalchemy import select

from archive_samples import Stay, a_block, an_event, ended, some_readings, stay
from waywright.archive import Archive, open_archive
from waywright.archive.copying import back_up, restore
from waywright.archive.tables import METADATA
from waywright.clocks import SystemClock, new_id
from waywright.errors import ArchiveError, BadInput
from waywright.files.visit_file import VERSION, VisitFile, read_visit_file, schema, write_visit_file
from waywright.visit import Attachment, Exclusion, Person, Visit

STORED = Path(__file__).parent / "visit_files"
SCHEMA = Path(__file__).parents[2] / "docs" / "reference" / "visit-file.schema.json"


def quiet(what: str, done: int, total: int) -> None:
    """Nobody looks."""


@pytest.fixture
def mine(tmp_path: Path) -> Archive:
    archive = open_archive(tmp_path / "mine.sqlite", create=True)
    fill(archive, stay())
    other = stay(9)
    fill(archive, replace(other, machine=replace(other.machine, name="another", serial="1")))
    return archive


def fill(archive: Archive, known: Stay) -> None:
    for record in known.all():
        archive.save(record)
    readings = some_readings(known.taken.id, 4)
    archive.begin_pass(known.taken)
    for reading in readings:
        archive.keep_reading(reading)
    archive.keep_stream(a_block(known.taken.id))
    archive.note(an_event(known.taken.id))
    archive.note(replace(an_event(known.taken.id), id=new_id(), facts={"spread_um": float("nan")}))
    archive.end_pass(ended(known.taken))
    archive.save(Exclusion(new_id(), readings[1].id, "a fork-lift", known.taken.began_utc, known.person.id))
    archive.save(replace(known.visit, purpose="acceptance"), by=known.person.id, reason="said later")
    digest = archive.keep_content(known.machine.id.bytes)
    archive.save(Attachment(new_id(), known.machine.id, "bed.jpg", "image/jpeg", 16, digest, "photo"))


def rows(archive: Archive) -> dict[str, list[tuple[object, ...]]]:
    with archive._engine.connect() as connection:
        return {
            name: sorted((tuple(row) for row in connection.execute(select(table))), key=repr)
            for name, table in METADATA.tables.items()
        }


def exported(archive: Archive, path: Path) -> VisitFile:
    with archive.part(stay().visit.id) as part:
        file = part.as_file("visit", stay().visit.id, "test")
    write_visit_file(file, path)
    return file


@pytest.mark.parametrize("name", ["visit.json", "visit.json.gz"])
def test_a_visit_goes_out_and_comes_back_without_loss(mine: Archive, tmp_path: Path, name: str) -> None:
    written = exported(mine, tmp_path / name)
    read = read_visit_file(tmp_path / name)
    assert read == written
    with mine.part(stay().visit.id) as part, Archive.of_file(read, name, SystemClock()) as back:
        assert rows(back) == rows(part)
    with open_archive(tmp_path / "other.sqlite", create=True) as other:
        other.receive(Archive.of_file(read, name, SystemClock()))
        assert other.check().good
        assert [machine.name for machine in other.machines()] == ["HR-6"]
        assert other.load(Visit, stay().visit.id).purpose == "acceptance"
        here, there = (each.readings(stay().taken.id, with_window=True) for each in (mine, other))
        assert [reading.hash for reading in here] == [reading.hash for reading in there]
        assert [each.value.tobytes() for each in mine.stream(stay().taken.id)] == [
            each.value.tobytes() for each in other.stream(stay().taken.id)
        ]
        assert len(other.exclusions(stay().taken.id)) == 1
        assert other.content(other.every(Attachment)[0].sha256) == stay().machine.id.bytes
        assert other.receive(Archive.of_file(read, name, SystemClock())).added == {}


def test_a_machine_goes_out_with_all_its_visits_and_nothing_of_others(mine: Archive) -> None:
    with mine.part(stay().machine.id) as part:
        assert [machine.id for machine in part.machines()] == [stay().machine.id]
        assert [visit.id for visit in part.visits()] == [stay().visit.id]
        assert part.check().readings == 4


def test_every_quantity_has_value_unit_and_uncertainty_and_the_file_fits_its_schema(
    mine: Archive, tmp_path: Path
) -> None:
    exported(mine, tmp_path / "v.json")
    told = json.loads((tmp_path / "v.json").read_text())
    jsonschema.validate(told, json.loads(SCHEMA.read_text()))
    value = told["passes"][0]["readings"][0]["values"][0]
    assert value["mean"] == {
        "value": mine.readings(stay().taken.id)[0].values[0].mean,
        "unit": "um",
        "expanded_uncertainty": None,
        "coverage_factor": None,
        "probability": None,
    }
    assert told["passes"][0]["readings"][0]["position"]["unit"] == "mm"
    told["passes"][0]["readings"][0]["position"] = 3.0
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(told, json.loads(SCHEMA.read_text()))


def test_the_published_schema_is_that_of_the_program() -> None:
    assert json.loads(SCHEMA.read_text()) == json.loads(json.dumps(schema()))


def test_every_format_of_the_file_is_read_for_ever(tmp_path: Path) -> None:
    """The stored file was written when its format was made; the figures are those it was made with."""
    assert {path.name.removesuffix(".json.gz") for path in STORED.iterdir()} == {VERSION}
    file = read_visit_file(STORED / "1.0.0.json.gz")
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        archive.receive(Archive.of_file(file, "stored", SystemClock()))
        assert archive.check().good
        (machine,), (visit,) = archive.machines(), archive.visits()
        (line,) = archive.lines(visit.id)
        (taken,) = archive.passes(line.id)
        readings = archive.readings(taken.id, with_window=True)
        assert (machine.name, machine.owner, visit.purpose) == ("HR-6", "Hollin Reach", "levelling «before»")
        assert [reading.position_mm for reading in readings][:2] == [-0.504809091769368, 241.0589193775255]
        assert readings[4].hash.hex() == "33be2908b00b92e4afb4bb91dd97c0fd1d8d8fd1b20acccdf23df4fe6631c319"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda told: told.update(format="other"), "no visit file"),
        (lambda told: told.update(version="2.0.0"), "version 2.0.0"),
        (lambda told: told["records"][0].update(id="x"), "cannot be read as a visit file"),
    ],
)
def test_what_cannot_be_read_is_said(mine: Archive, tmp_path: Path, change, said: str) -> None:  # type: ignore[no-untyped-def]
    exported(mine, tmp_path / "v.json")
    told = json.loads((tmp_path / "v.json").read_text())
    change(told)
    (tmp_path / "v.json").write_text(json.dumps(told))
    with pytest.raises(BadInput, match=said):
        read_visit_file(tmp_path / "v.json")


def test_a_later_minor_version_with_more_in_it_is_read(mine: Archive, tmp_path: Path) -> None:
    exported(mine, tmp_path / "v.json")
    told = json.loads((tmp_path / "v.json").read_text())
    told["version"], told["weather"] = "1.7.0", "fair"
    (tmp_path / "v.json.gz").write_bytes(gzip.compress(json.dumps(told).encode()))
    assert read_visit_file(tmp_path / "v.json.gz").version == "1.7.0"


def test_a_reading_changed_in_the_file_is_refused(mine: Archive, tmp_path: Path) -> None:
    exported(mine, tmp_path / "v.json")
    told = json.loads((tmp_path / "v.json").read_text())
    told["passes"][0]["readings"][2]["values"][0]["mean"]["value"] += 0.1
    with pytest.raises(ArchiveError, match="does not match its hash"):
        Archive.of_file(msgspec.convert(told, VisitFile), "v.json", SystemClock())


def test_a_backup_is_whole_and_is_put_back_without_losing_what_was_there(mine: Archive, tmp_path: Path) -> None:
    said: list[str] = []
    mine.begin_pass(stay().taken)  # it may be in use
    back_up(mine.path, tmp_path / "b.sqlite", lambda what, done, total: said.append(what))
    assert said[0] == "copy"
    with open_archive(tmp_path / "b.sqlite") as copy:
        assert rows(copy) == rows(mine)
    with pytest.raises(ArchiveError, match="nothing was written over"):
        back_up(mine.path, tmp_path / "b.sqlite", quiet)
    mine.close()
    with open_archive(mine.path) as archive:
        archive.save(Person(new_id(), "Later"))
        later = rows(archive)
    with pytest.raises(ArchiveError, match="is there already"):
        restore(tmp_path / "b.sqlite", mine.path, quiet, replace=False, stamp="x")
    aside = restore(tmp_path / "b.sqlite", mine.path, quiet, replace=True, stamp="x")
    assert aside is not None
    with open_archive(aside) as before, open_archive(mine.path) as now, open_archive(tmp_path / "b.sqlite") as copy:
        assert rows(before) == later
        assert rows(now) == rows(copy)
    assert not list(tmp_path.glob("*.part"))


def test_a_backup_that_is_not_sound_is_neither_made_nor_put_back(mine: Archive, tmp_path: Path) -> None:
    mine.close()
    shutil.copy(mine.path, tmp_path / "bad.sqlite")
    raw = sqlite3.connect(tmp_path / "bad.sqlite")
    raw.execute("DROP TRIGGER reading_no_update")
    raw.execute("UPDATE reading SET hash = zeroblob(32) WHERE number = 2")
    raw.commit()
    raw.close()
    with pytest.raises(ArchiveError, match="The copy is not sound"):
        back_up(tmp_path / "bad.sqlite", tmp_path / "copy.sqlite", quiet)
    with pytest.raises(ArchiveError, match="The copy is not sound"):
        restore(tmp_path / "bad.sqlite", mine.path, quiet, replace=True, stamp="x")
    assert {path.name for path in tmp_path.glob("*.*") if path.suffix == ".sqlite"} == {"mine.sqlite", "bad.sqlite"}
    assert not [*tmp_path.glob("*.part"), *tmp_path.glob("*.restored"), *tmp_path.glob("*.before*")]
    with open_archive(mine.path) as archive:
        assert archive.check().good


def test_a_blanked_name_is_nowhere_in_the_file_and_every_seal_holds(mine: Archive) -> None:
    person = stay().person
    other = stay(9).person
    mine.save(replace(person, name="Ottilie Seltenname"), reason="married")
    mine.blank(person.id, by=other.id, reason="asked to")
    assert {revision.record.name for revision in mine.history(person.id)} == {""}
    last = mine.history(person.id)[-1]
    assert (last.reason, last.recorded_by, last.record.blanked) == ("asked to", other.id, True)
    assert mine.load(Visit, stay().visit.id).technician_id == person.id
    assert mine.check().good
    mine.close()
    files = b"".join(path.read_bytes() for path in mine.path.parent.glob("mine.sqlite*"))
    assert b"Seltenname" not in files
    assert b"another" in files


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE record SET body = json_set(body, '$.name', '')",
        "UPDATE record SET body = NULL WHERE subject IN (SELECT id FROM subject WHERE kind = 'person')",
        "UPDATE record SET reason = 'x' WHERE subject IN (SELECT id FROM subject WHERE kind = 'person')",
        "UPDATE record SET body = json_set(body, '$.name', '') "
        "WHERE subject IN (SELECT id FROM subject WHERE kind = 'person')",  # no event says that anybody is blanked
    ],
)
def test_nothing_else_can_be_changed(mine: Archive, statement: str) -> None:
    mine.close()
    raw = sqlite3.connect(mine.path)
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        raw.execute(statement)
    raw.close()


def test_an_attached_file_is_kept_once_and_checked(mine: Archive) -> None:
    first, second = mine.keep_content(b"the same"), mine.keep_content(b"the same")
    assert first == second
    assert mine.content(first) == b"the same"
    mine.close()
    raw = sqlite3.connect(mine.path)
    raw.execute("DROP TRIGGER content_no_update")
    raw.execute("UPDATE content SET body = x'00' WHERE sha256 = ?", (bytes.fromhex(first),))
    raw.commit()
    raw.close()
    with open_archive(mine.path) as archive:
        assert [finding.key for finding in archive.check().findings] == ["archive.check_content"]
        with pytest.raises(ArchiveError, match="is damaged"):
            archive.content(first)


def test_nothing_is_kept_for_a_pass_that_would_be_refused(mine: Archive) -> None:
    mine.begin_pass(stay().taken)
    with open_archive(mine.path) as second, pytest.raises(ArchiveError, match="already capturing"), second.claimed():
        pytest.fail("the right to capture is taken")
