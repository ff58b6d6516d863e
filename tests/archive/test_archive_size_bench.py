"""The rows that the size benchmark writes in bulk are what the archive itself would keep; a cut filling goes on."""

from pathlib import Path

import pytest
from bench import size_fill
from bench.size import Ours, Plain

from waywright.archive import open_archive


@pytest.fixture
def filled(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setitem(size_fill.fill.__globals__, "VISITS", 2)
    monkeypatch.setitem(size_fill.fill.__globals__, "PATTERNS", 4)
    place = tmp_path / "a.sqlite"
    size_fill.fill(place, 20, 3)
    return place


def test_rows_made_in_bulk_are_as_the_archive_would_keep_them(filled: Path) -> None:
    with open_archive(filled) as archive:
        assert archive.check().findings == ()
        (machine,) = archive.machines()
        (visit, _) = archive.visits(machine.id)
        line = archive.lines(visit.id)[0]
        ours, plain = Ours(archive), Plain(filled)
        assert (ours.line(line.id), plain.line(line.id)) == (15, 15)
        assert (ours.trend(machine.id), plain.trend(machine.id)) == (4, 4)


def test_a_filling_that_was_cut_goes_on(filled: Path) -> None:
    size_fill.fill(filled, 40, 3)
    size_fill.fill(filled, 40, 3)
    with open_archive(filled) as archive:
        assert len(archive.machines()) == 2
        assert archive.check().readings == 120
