"""Make the stored visit file of the present version: ``python tests/archive/make_visit_file.py``.

Run once when a version is released and commit the file; later versions of the program must read it for ever. The schema
beside the docs is written too.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from archive_samples import stay
from waywright.archive import open_archive
from waywright.files.visit_file import VERSION, schema, write_visit_file

FOLDER = Path(__file__).parent
SCHEMA = FOLDER.parents[1] / "docs" / "reference" / "visit-file.schema.json"

if __name__ == "__main__":
    SCHEMA.write_text(json.dumps(schema(), indent=2) + "\n", encoding="utf-8")
    target = FOLDER / "visit_files" / f"{VERSION}.json.gz"
    target.parent.mkdir(exist_ok=True)
    if target.exists():
        sys.exit(f"{target} is there already: a released version is never made again.")
    with open_archive(FOLDER / "formats" / "2" / "archive.sqlite") as archive, archive.part(stay().visit.id) as part:
        write_visit_file(part.as_file("visit", stay().visit.id, "waywright 0.1.0"), target)
