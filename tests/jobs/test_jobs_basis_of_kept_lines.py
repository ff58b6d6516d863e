"""What results of kept readings rest on: passes, segments, readings left out, physical direction."""

from __future__ import annotations

from pathlib import Path

from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.jobs.measured import measured_line, results_of_line


def test_kept_results_name_their_passes_and_direction(tmp_path: Path) -> None:
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        begun = begin_line(archive, tmp_path)
        take_pass(archive, begun, 1)
        take_pass(archive, begun, 2, offset_um=2.0)
        found = results_of_line(measured_line(archive, begun.line), "end-points", None)
        bases = [each.basis for each in found if each.code == "EYZ"]
        assert [each.passes for each in bases if each is not None] == [(1,), (2,), (1, 2)]
        for each in bases:
            assert each is not None
            assert each.reference == "end-points"
            assert each.segments == (1,)
            assert each.excluded == 0
            assert each.positive == {"EYZ": "up"}
            assert each.functional_point_mm == begun.setup.functional_point_mm
