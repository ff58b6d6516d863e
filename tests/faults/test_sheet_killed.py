"""Killed while a sheet is being filled: whatever was acknowledged is there, and the sheet goes on where it stood."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.jobs.sheet_fill import SheetFill
from waywright.jobs.sheet_keep import find_sheet, values_of

TYPIST = """
import sys
from pathlib import Path
from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.files.sheet_file import template
from waywright.jobs.sheet_fill import SheetFill
from waywright.jobs.sheet_keep import SheetOrder, begin_sheet

clock = SystemClock()
with open_archive(Path(sys.argv[1]), create=True) as archive:
    fill = SheetFill(archive, begin_sheet(archive, template("lathe"), SheetOrder(), clock), clock)
    for number in range(42):
        fill.enter(str(number % 7), sure=True)
        print(number + 1, flush=True)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs kill -9")
def test_kill_9_loses_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    for number, lines in enumerate((1, 9, 23)):
        path = tmp_path / f"{number}.sqlite"
        typist = subprocess.Popen([sys.executable, "-c", TYPIST, str(path)], stdout=subprocess.PIPE, text=True)
        assert typist.stdout is not None
        said = 0
        for _ in range(lines):
            said = int(typist.stdout.readline())
        os.kill(typist.pid, signal.SIGKILL)
        typist.wait()
        typist.stdout.close()
        with open_archive(path) as archive:
            sheet = find_sheet(archive, None)
            kept = len(values_of(archive, sheet))
            assert kept in (said, said + 1)  # the next one may have been committed but not said
            assert archive.check().good
            fill = SheetFill(archive, sheet, SystemClock())
            assert fill.here is not None
            assert fill.here.index == kept
            fill.enter("3", sure=True)
            assert len(values_of(archive, sheet)) == kept + 1
