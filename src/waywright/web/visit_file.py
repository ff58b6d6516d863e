"""The press that makes the file of a whole visit: how far it is stands on it until the browser has the file."""

from __future__ import annotations

import tempfile
from pathlib import Path
from uuid import UUID

from nicegui import run, ui

from waywright.errors import WaywrightError
from waywright.jobs.sharing import export
from waywright.web.desk import Desk
from waywright.web.elements import Press, note
from waywright.wording import text

_LOOK_S = 0.3


class _HowFar:
    """What the thread that makes the file has said last."""

    def __init__(self) -> None:
        self.words = ""

    def told(self, what: str, done: int, total: int) -> None:
        self.words = f"{text(f'progress.{what}')} {done} / {total}"


def visit_file_press(desk: Desk, visit: UUID, classes: str = "") -> None:
    """A press that makes the visit file and gives it to the browser; results are computed, so it may take a while."""

    async def make() -> None:
        far = _HowFar()
        press.allow(False)
        problem.set_visibility(False)
        looking = ui.timer(_LOOK_S, lambda: press.set_text(far.words or text("prove.visit_file")))
        try:
            made = await run.io_bound(_made, desk.archive_path, visit, far)
        except WaywrightError as error:
            problem.set_text(str(error))
            problem.set_visibility(True)
        else:
            if made is None:  # the program is being closed
                return
            ui.download.content(made, f"visit-{visit}.json.gz", "application/gzip")
        finally:
            looking.deactivate()
            press.set_text(text("prove.visit_file"))
            press.allow(True)

    press = Press(text("prove.visit_file"), make, classes)
    problem = note("", "bad")
    problem.set_visibility(False)


def _made(archive: Path, visit: UUID, far: _HowFar) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / f"{visit}.json.gz"
        export(archive, str(visit), None, place, far.told)
        return place.read_bytes()
