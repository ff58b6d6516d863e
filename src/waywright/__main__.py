"""``python -m waywright`` is the command ``waywright``."""

import sys

from waywright.cli import main

sys.exit(main())
