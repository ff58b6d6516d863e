"""Records in, SVG text out: the way drawing and the deviation curve, the same on every page and in the report."""

from waywright.drawing.band import Band, fitted_band
from waywright.drawing.curve import curve
from waywright.drawing.fonts import FAMILY, font_folder
from waywright.drawing.lettering import plain_number, signed
from waywright.drawing.palette import DARK, LIGHT, PRINT, VARIABLES, Palette
from waywright.drawing.scene import CurveScene, Series, Shown, Units, WayScene
from waywright.drawing.way import way

__all__ = [
    "DARK",
    "FAMILY",
    "LIGHT",
    "PRINT",
    "VARIABLES",
    "Band",
    "CurveScene",
    "Palette",
    "Series",
    "Shown",
    "Units",
    "WayScene",
    "curve",
    "fitted_band",
    "font_folder",
    "plain_number",
    "signed",
    "way",
]
