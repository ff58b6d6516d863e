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
    lan: Annotated[bool, Parameter(negative="")] = False,
    certificate: Path | None = None,
    key: Path | None = None,
    tls: bool = True,
) -> None:
    """Open the pages in this computer's browser; nobody else reaches them unless `--lan` says so.

    Ctrl-c ends it and keeps everything.

    Parameters
    ----------
    port
        The port to listen on; 0 takes a free one.
    browser
        Open the browser.
    archive
        The archive file; without it the one in your user data folder.
    lan
        Let phones in the same network in (at the next port, by https), each paired by a code that the page "Phones"
        shows.
    certificate
        A certificate file (PEM) of your own for them; without it one is made here, and phones ask whether to trust it.
    key
        Its key file (PEM), where that is not in the certificate file.
    tls
        `--no-tls` serves phones without encryption, where a hall's network carries nothing else.
    """
    from waywright.jobs.remember import archive_path
    from waywright.web.door import Serving, serve
    from waywright.wording import text

    serving = Serving(
        archive=archive_path(archive), port=port, browser=browser, lan=lan, certificate=certificate, key=key,
        tls=tls,
    )  # fmt: skip
    serve(serving, lambda key, said: print(text(key, address=said), flush=True))
