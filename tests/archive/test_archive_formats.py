"""Archives of every format open; newer ones are left alone; older ones are brought up to date or left as they were."""

from __future__ import annotations

import shutil
import sqlite3
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from archive_samples import MOMENT, a_reading, stay
from waywright.archive import format as formats
from waywright.archive import open_archive
from waywright.archive.dialect import sqlite_engine
from waywright.archive.tables import METADATA
from waywright.errors import ArchiveError
from waywright.visit import Person, SetUp

STORED = Path(__file__).parent / "formats"


@pytest.fixture
def first_format(tmp_path: Path) -> Path:
    return Path(shutil.copy(STORED / "1" / "archive.sqlite", tmp_path / "old.sqlite"))


def test_there_is_a_stored_archive_of_every_format() -> None:
    assert {folder.name for folder in STORED.iterdir()} == {str(int(name)) for name in formats.FORMATS}


@pytest.mark.parametrize("released", ["1", "2"])
def test_every_format_opens_with_its_values(released: str, tmp_path: Path) -> None:
    """The numbers are those the archive was made with when the format was released; they never change."""
    known = stay()
    with open_archive(Path(shutil.copy(STORED / released / "archive.sqlite", tmp_path / "old.sqlite"))) as archive:
        (machine,) = archive.machines()
        (visit,) = archive.visits(machine.id)
        (line,) = archive.lines(visit.id)
        (taken,) = archive.passes(line.id)
        readings = archive.readings(taken.id, with_window=True)
        assert archive.check().good
        assert (machine.name, machine.owner, machine.axes.up) == ("HR-6", "Hollin Reach", "-Y")
        assert machine == known.machine
        assert visit.purpose == "levelling «before»"
        assert line.to_mm == 5200.0
        assert (taken.began_utc, taken.outcome) == (MOMENT, "finished")
        assert [reading.position_mm for reading in readings] == [
            -0.504809091769368,
            241.0589193775255,
            480.420729446727,
            719.5567700284197,
            959.8281528249503,
        ]
        assert readings[0].values[0].mean == 39.63917084342979
        assert readings[4].values[1].mean == 39.70859783178059
        assert readings[1].window[1].value[-1] == 40.17385754481805
        assert readings[4].supersedes == readings[0].id
        assert readings[4].hash.hex() == "33be2908b00b92e4afb4bb91dd97c0fd1d8d8fd1b20acccdf23df4fe6631c319"
        assert [exclusion.reading_id for exclusion in archive.exclusions(taken.id)] == [readings[2].id]
        assert archive.events(taken.id)[0].facts == {"channel": "beam.vertical_um", "spread_um": 3.0}
        assert archive.stream(taken.id)[0].value.shape == (50, 2)
        sides = [revision.record.detector_side for revision in archive.history(known.setup.id)]
        assert sides == ["tool", "work"]
        assert archive.load(SetUp, known.setup.id) == replace(known.setup, detector_side="work")
        assert archive.every(Person) == (known.person,)
        assert archive.interpretation(known.setup.id) == known.interpretation
        following = a_reading(taken.id, readings[4])
        archive.keep_reading(following)
        assert archive.readings(taken.id)[-1].id == following.id


def test_the_second_format_says_who_changed_what_why_and_on_which_computer(tmp_path: Path) -> None:
    known = stay()
    with open_archive(Path(shutil.copy(STORED / "2" / "archive.sqlite", tmp_path / "old.sqlite"))) as archive:
        found = archive.history(known.setup.id)
        assert [(each.computer, each.reason, each.recorded_by) for each in found] == [
            ("700faaa8e95d", None, None),
            ("700faaa8e95d", "detector on the bed", known.person.id),
        ]
        assert {each.recorded_utc for each in found} == {datetime(2026, 3, 4, 12, 0, 0, 123456, tzinfo=UTC)}
        (taken,) = archive.passes(known.line.id)
        first, last = archive.readings(taken.id)[0], archive.readings(taken.id)[4]
    second = tmp_path / "old.sqlite"
    assert _rows(second, "SELECT count(*) FROM reading WHERE supersedes IS NOT NULL") == [(1,)]
    assert last.supersedes == first.id
    assert _rows(second, "SELECT version_num FROM alembic_version") == [("0002",)]
    assert _rows(second, "SELECT count(*) FROM content") == [(0,)]


def test_the_migrations_make_the_tables_of_the_program(tmp_path: Path) -> None:
    open_archive(tmp_path / "new.sqlite", create=True).close()
    with sqlite_engine(tmp_path / "new.sqlite").connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []


def test_the_program_knows_the_formats_that_there_are_migrations_for() -> None:
    scripts = ScriptDirectory(str(formats._MIGRATIONS))
    assert tuple(script.revision for script in reversed(list(scripts.walk_revisions()))) == formats.FORMATS


def test_a_newer_format_is_refused_and_left_alone(first_format: Path) -> None:
    _execute(first_format, "UPDATE alembic_version SET version_num = '0417'")
    before = first_format.read_bytes()
    with pytest.raises(ArchiveError, match=r"newer version of this program \(archive format 0417"):
        open_archive(first_format, create=True)
    assert first_format.read_bytes() == before


NEXT = """
import sqlalchemy as sa
from alembic import op
revision = "0003"
down_revision = "0002"
def upgrade():
    op.add_column("pass_event", sa.Column("loudness", sa.Integer))
    {more}
def downgrade():
    op.drop_column("pass_event", "loudness")
"""


def _next_format(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, more: str = "pass") -> None:
    """As if this program were the next one, with one more migration."""
    folder = tmp_path / "100 % migrations"
    shutil.copytree(formats._MIGRATIONS, folder)
    (folder / "versions" / "format_0003.py").write_text(NEXT.format(more=more))
    monkeypatch.setattr(formats, "FORMATS", ("0001", "0002", "0003"))
    monkeypatch.setattr(formats, "_MIGRATIONS", folder)
    monkeypatch.setattr(formats.upgrade, "__defaults__", ("0003",))


def test_an_older_format_is_brought_up_to_date(
    first_format: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _next_format(tmp_path, monkeypatch)
    with open_archive(first_format) as archive:
        assert archive.check().good
        assert archive.check().readings == 5
    assert _rows(first_format, "SELECT version_num FROM alembic_version") == [("0003",)]
    assert _rows(first_format, "SELECT loudness FROM pass_event") == [(None,)]


def test_a_migration_that_fails_leaves_the_archive_as_it_was(
    first_format: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        _next_format(tmp_path, patch, more="op.execute('INSERT INTO nowhere VALUES (1)')")
        with pytest.raises(ArchiveError, match="no such table: nowhere"):
            open_archive(first_format)
    assert _rows(first_format, "SELECT version_num FROM alembic_version") == [("0001",)]
    with open_archive(first_format) as archive:
        assert archive.check().good


def test_there_is_no_way_back_with_readings(first_format: Path, tmp_path: Path) -> None:
    engine = sqlite_engine(first_format, foreign_keys=False)
    with pytest.raises(ArchiveError, match="cannot go back"):
        formats.downgrade(engine, "base")
    engine.dispose()
    with open_archive(first_format) as archive:
        assert archive.check().readings == 5


def test_the_way_back_and_forth_without_readings(tmp_path: Path) -> None:
    path = tmp_path / "empty.sqlite"
    open_archive(path, create=True).close()
    engine = sqlite_engine(path, foreign_keys=False)
    formats.downgrade(engine, "base")
    assert _rows(path, "SELECT name FROM sqlite_master WHERE type = 'table'") == [("alembic_version",)]
    formats.upgrade(engine)
    engine.dispose()
    with open_archive(path) as archive:
        for record in stay().all():
            archive.save(record)
        assert archive.check().good


def _rows(path: Path, question: str) -> list[tuple[object, ...]]:
    raw = sqlite3.connect(path)
    rows = raw.execute(question).fetchall()
    raw.close()
    return rows


def _execute(path: Path, statement: str) -> None:
    raw = sqlite3.connect(path)
    raw.execute(statement)
    raw.commit()
    raw.close()
