"""``waywright serve``: the whole job in the browser."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def serve(
    *,
    port: int = 8230,
    browser: bool = True,
    archive: Annotated[Path | None, Parameter(name=["--archive", "-a"])] = None,
) -> None:
    """Open the pages in this computer's browser; nobody else reaches them. Ctrl-c ends it, and keeps everything.

    Parameters
    ----------
    port
        The port to listen on; 0 takes a free one.
    browser
        Open the browser.
    archive
        The archive file; without it the one in your user data folder.
    """
    from waywright.jobs.remember import archive_path
    from waywright.web.run import Serving, serve
    from waywright.wording import text

    serving = Serving(archive=archive_path(archive), port=port, browser=browser)
    serve(serving, lambda address: print(text("web.serving", address=address), flush=True))
