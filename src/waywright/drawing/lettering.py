"""Numbers as people read them, and how wide words will be."""

from __future__ import annotations

import math

from waywright.wording import with_mark

MINUS = "\N{MINUS SIGN}"

# Advance widths of B612 Regular 1.008 in em, from the font file; anything else is taken as wide as a capital M.
_EM = {
    sign: width
    for width, signs in {
        0.2: "'|", 0.25: ",;·", 0.3: ".:Iij°²", 0.35: " !l", 0.4: '"frt', 0.45: "()-J[s", 0.5: "=]cz↑↓", 0.525: "a",
        0.55: "$*/?FLS\\_`ekvxy−–✓äé", 0.6: "+CEKPTYZbdghnopqu}±öü", 0.65: "{0123456789<>ABDGRVXµ≤≥Äß", 0.7: "&HUÜ",
        0.75: "N^w~…→←½¼¾⅜", 0.8: "OQ×Ö", 0.85: "#", 0.9: "%Mm", 0.95: "W", 1.0: "@", 1.05: "—",
    }.items()
    for sign in signs
}  # fmt: skip
_WIDEST_COMMON = 0.9


def width_of(text: str, size: float) -> float:
    """How wide a text set in B612 will be, in the unit of ``size``."""
    return size * sum(_EM.get(sign, _WIDEST_COMMON) for sign in text)


def signed(value: float, decimals: int = 1) -> str:
    """A deviation: always with its sign, minus as a true minus; zero has none.

    A value that rounds to zero says 0.0, so that no sign claims what the digits do not show.
    """
    if not math.isfinite(value):
        return "–"
    text = f"{value:+.{decimals}f}"
    if float(text) == 0:
        return with_mark(text[1:])
    return with_mark(text.replace("-", MINUS))


def plain_number(value: float, decimals: int = 0) -> str:
    """A number without plus: positions, values, standard deviations; a dash where there is none."""
    if not math.isfinite(value):
        return "–"
    text = f"{value:.{decimals}f}"
    return with_mark((text.lstrip("-") if float(text) == 0 else text).replace("-", MINUS))
