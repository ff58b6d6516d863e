"""B612 (SIL Open Font License 1.1, see OFL.txt): drawn to be read in cockpits, all figures of one width."""

from __future__ import annotations

from pathlib import Path

FAMILY = "B612"


def font_folder() -> Path:
    """The folder that holds the font files and their licence."""
    return Path(__file__).parent
