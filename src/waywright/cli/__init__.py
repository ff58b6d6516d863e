"""The command line: parses, calls one verb of ``jobs``, shows the answer.

Exit code 0 done, 2 bad use, 1 anything else that failed, with the reason on stderr.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    from cyclopts import CycloptsError

    from waywright.cli.app import app
    from waywright.errors import WaywrightError

    tokens = list(sys.argv[1:] if arguments is None else arguments)
    try:
        outcome = app(tokens, exit_on_error=False, result_action="return_value")
    except CycloptsError:  # the parser has said on stderr what is wrong
        return 2
    except WaywrightError as error:
        print(error, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:  # the reader of our output has gone
        sys.stderr.close()
        return 0
    return outcome if isinstance(outcome, int) else 0
