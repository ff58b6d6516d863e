"""``python -m waywright.simulation``: the process that :class:`waywright.simulation.Workshop` starts."""

from __future__ import annotations

import argparse
import sys

from waywright import wording
from waywright.errors import WaywrightError
from waywright.simulation.process import run
from waywright.simulation.scenario import load_scenario


def main() -> int:
    """Serve a scenario at a factor; commands on stdin, answers on stdout, problems on stderr."""
    parser = argparse.ArgumentParser(prog="python -m waywright.simulation")
    parser.add_argument("--scenario", default="calm-hall")
    parser.add_argument("--factor", type=float, default=1.0)
    parser.add_argument("--further", action="append", default=[])
    asked = parser.parse_args()
    try:
        run(load_scenario(asked.scenario), asked.factor, asked.further)
    except WaywrightError as problem:
        print(wording.sentence_of(problem), file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
