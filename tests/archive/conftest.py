"""One PostgreSQL for all tests of a run that need one; each makes databases of its own in it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from archive_servers import Server, running_server


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    with running_server() as found:
        yield found
