"""Files that are built to harm, for every importer of a text that people exchange: refused with a sentence, bounded.

Workbooks, foreign tables and certificates have hostile files of their own beside their tests.
"""

from __future__ import annotations

import random
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import pytest
from hr6_example import report_content

from waywright.errors import BadInput, WaywrightError
from waywright.files import read_table
from waywright.files.budget_file import read_budget
from waywright.files.foreign_table import read_mapping
from waywright.files.machine_file import read_machine
from waywright.files.setup_file import read_setup_file
from waywright.instruments import read_instrument
from waywright.jobs.report_order import data_from
from waywright.jobs.signing import read_strokes
from waywright.report import pdf_bytes
from waywright.report.printed import printed, read_printed

READERS: dict[str, Callable[[Path], object]] = {
    "machine": read_machine,
    "set-up": read_setup_file,
    "budget": read_budget,
    "mapping": read_mapping,
    "instrument": read_instrument,
    "readings": read_table,
    "strokes": read_strokes,
    "report": read_printed,
    "data": lambda path: data_from(path.read_bytes()),
}
HOSTILE = {
    "deep": b"a = " + b"[" * 200_000,
    "deep tables": b"[" + b".".join([b"a"] * 50_000) + b"]\n",
    "braces": b"{" * 200_000,
    "large": b"# " + b"x" * 12_000_000,
    "binary": bytes(range(256)) * 40,
    "zeros": bytes(100_000),
    "empty": b"",
    "huge number": b"format = " + b"9" * 100_000 + b"\n",
    "formula": b"=cmd|'/c calc'!A0\n",
    "half": b'format = 1\n[machine]\nname = "H',
    "surrogate": b'name = "\\ud800"\n',
}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("kind", HOSTILE)
def test_every_importer_refuses_it_with_a_sentence(tmp_path: Path, reader: str, kind: str) -> None:
    file = tmp_path / "file"
    file.write_bytes(HOSTILE[kind])
    tracemalloc.start()
    began = time.process_time()
    with pytest.raises(BadInput) as caught:
        READERS[reader](file)
    assert time.process_time() - began < 10.0
    assert tracemalloc.get_traced_memory()[1] < 150_000_000
    tracemalloc.stop()
    assert 20 < len(str(caught.value)) < 1000


@pytest.mark.parametrize("reader", [name for name in READERS if name != "data"])
def test_a_folder_in_place_of_a_file_is_said(tmp_path: Path, reader: str) -> None:
    with pytest.raises(BadInput):
        READERS[reader](tmp_path)


def test_a_damaged_report_is_read_or_refused_and_never_more() -> None:
    """Bytes of a true report changed, cut and doubled at places that a fixed seed chooses."""
    whole, chance = pdf_bytes(report_content(1)), random.Random(7)
    outcomes = {"read": 0, "refused": 0}
    for number in range(24):
        data = bytearray(whole)
        for _ in range(chance.choice((1, 20, 400))):
            data[chance.randrange(len(data))] = chance.randrange(256)
        if number % 4 == 0:
            data = data[: chance.randrange(len(data))]
        began = time.process_time()
        try:
            printed(bytes(data), "damaged.pdf")
            outcomes["read"] += 1
        except WaywrightError:
            outcomes["refused"] += 1
        assert time.process_time() - began < 30.0
    assert outcomes["read"] + outcomes["refused"] == 24
    assert outcomes["refused"] > 0
