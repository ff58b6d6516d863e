"""An archive opened a second time in one process, as pages do, must not give up what the first one holds.

POSIX drops every lock a process has on a file as soon as the process closes any handle of it (SQLite, How To Corrupt An
SQLite Database File, 2.2). Another program that then closes the archive thinks itself alone and takes the log away.
"""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

from waywright.archive import open_archive
from waywright.clocks import new_id
from waywright.visit import Person

OTHER = "import sys; from pathlib import Path; from waywright.archive import open_archive\nwith open_archive(Path(sys.argv[1])) as a: print(len(a.people()))"  # noqa: E501


def somebody(name: str) -> Person:
    return Person(new_id(datetime.now(UTC)), name)


def test_another_program_leaves_the_log_alone(tmp_path: Path) -> None:
    path = tmp_path / "a.sqlite"
    with open_archive(path, create=True) as first:
        first.save(somebody("one"))
        with open_archive(path) as second:
            second.save(somebody("two"))
        said = subprocess.run([sys.executable, "-c", OTHER, str(path)], capture_output=True, text=True, check=True)
        assert said.stdout.strip() == "2"
        assert path.with_name("a.sqlite-wal").exists()  # still ours
        first.save(somebody("three"))
        assert len(first.people()) == 3
    with open_archive(path) as again:
        assert len(again.people()) == 3
        assert again.check().good
