"""The look in one place: the colours of the drawings as variables, the typeface, the toolkit's own look put away."""

from __future__ import annotations

from dataclasses import asdict
from functools import cache
from pathlib import Path

from waywright.drawing import DARK, LIGHT, Palette

STATIC = Path(__file__).with_name("static")


@cache
def style_sheet() -> str:
    """The whole style sheet: light, dark where the system or the person wants it, then everything else."""
    fonts = "".join(
        f'@font-face {{ font-family: "B612"; font-weight: {weight}; font-display: block; '
        f'src: url("/fonts/B612-{name}.otf") format("opentype"); }}\n'
        for weight, name in ((400, "Regular"), (700, "Bold"))
    )
    light, dark = _variables(LIGHT), _variables(DARK)
    chosen = (
        f":root {{ {light} }}\n"
        f'@media (prefers-color-scheme: dark) {{ :root:not([data-light="light"]) {{ {dark} }} }}\n'
        f':root[data-light="dark"] {{ {dark} }}\n'
    )
    return fonts + chosen + (STATIC / "theme.css").read_text(encoding="utf-8")


def _variables(palette: Palette) -> str:
    return " ".join(f"--{name}: {value};" for name, value in asdict(palette).items())
