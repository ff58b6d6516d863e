"""The deviation curve over position: stations marked, passes told apart by marker and line, extremes named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from waywright.drawing.band import fitted_band
from waywright.drawing.lettering import plain_number, signed, width_of
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.scale import decimals_of, room_for, ticks
from waywright.drawing.scene import CurveScene, Series
from waywright.drawing.svg import Sheet, document, element, group, label, line, path, polyline
from waywright.errors import BadInput
from waywright.wording import ENGLISH, text

SMALL, NORMAL = 11.0, 13.0
LEFT, RIGHT, TOP, BOTTOM = 58.0, 16.0, 48.0, 42.0
_DASHES = ("5 3", "1.5 3", "9 3 1.5 3", "12 4")


@dataclass(frozen=True, slots=True)
class Plot:
    """The scales of a curve."""

    scene: CurveScene
    palette: Palette
    language: str
    width: float
    height: float
    x_range: tuple[float, float]
    y_range: tuple[float, float]

    def x(self, position_mm: float) -> float:
        """Where a position stands."""
        low, high = self.x_range
        share = (position_mm - low) / (high - low)
        return LEFT + (1 - share if self.scene.grows_left else share) * (self.width - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """The level of a value."""
        low, high = self.y_range
        return TOP + (high - value) / (high - low) * (self.height - TOP - BOTTOM)


def curve(
    scene: CurveScene,
    *,
    palette: Palette = LIGHT,
    width: float = 760.0,
    height: float = 270.0,
    language: str = ENGLISH,
    ident: str = "curve",
) -> str:
    """The curve as SVG text. Raises BadInput where there is no series or a series is empty or of uneven length."""
    _checked(scene)
    plot = _plot(scene, palette, language, width, height)
    body = [*_heading(plot), *_axes(plot), *_tolerance(plot), *_ribbons(plot), *_reference(plot), *_curves(plot)]
    body += _extremes(plot)
    title = text("drawing.curve_title", language, quantity=scene.quantity_word, code=scene.code)
    return document(Sheet(width, height, title, _in_words(scene, language), ident), palette, body)


def main_series(scene: CurveScene) -> Series:
    """The series whose extremes count: the mean, or the only one."""
    return next((series for series in scene.series if series.mean), scene.series[0])


def _checked(scene: CurveScene) -> None:
    if not scene.series:
        raise BadInput("drawing.no_series")
    for series in scene.series:
        if not series.position_mm or len(series.position_mm) != len(series.deviation):
            raise BadInput("drawing.lengths", positions=len(series.position_mm), values=len(series.deviation))
        if series.spread and len(series.spread) != len(series.position_mm):
            raise BadInput("drawing.lengths", positions=len(series.position_mm), values=len(series.spread))


def _plot(scene: CurveScene, palette: Palette, language: str, width: float, height: float) -> Plot:
    positions = [place for series in scene.series for place in series.position_mm]
    values = [value for series in scene.series for edge in _edges(series) for value in edge] + [0.0]
    if scene.tolerance:
        band = fitted_band(main_series(scene).deviation, scene.tolerance)
        values += [band.low, band.high]
    low, high = min(values), max(values)
    # room for the names of the extremes, above the largest and below the smallest
    air = 26.0 / (height - TOP - BOTTOM - 52.0) * max(high - low, 1e-3)
    span = max(max(positions) - min(positions), 1.0)
    x_range = (min(positions) - 0.015 * span, max(positions) + 0.015 * span)
    return Plot(scene, palette, language, width, height, x_range, (low - air, high + air))


def _edges(series: Series) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Upper and lower edge of what is drawn of a curve: itself, or its ribbon."""
    spread = series.spread or (0.0,) * len(series.deviation)
    pairs = list(zip(series.deviation, spread, strict=True))
    return tuple(value + more for value, more in pairs), tuple(value - more for value, more in pairs)


def _heading(plot: Plot) -> Iterator[str]:
    scene, mute = plot.scene, plot.palette.mute
    head = f"{scene.quantity_word} ({scene.code})"
    yield label(LEFT, 17, head, plot.palette.ink, NORMAL)
    tail = text("drawing.positive", plot.language, direction=scene.direction_word)
    both = f"{tail} · {scene.reference_word}"
    x = LEFT + width_of(head, NORMAL) + 12
    yield label(x, 17, both if x + width_of(both, SMALL) < plot.width - RIGHT else tail, mute, SMALL)
    yield from _legend(plot)


def _legend(plot: Plot) -> Iterator[str]:
    x, y = LEFT, 32.0
    for index, series in enumerate(plot.scene.series):
        if x + 34 + width_of(series.name, SMALL) > plot.width - RIGHT:
            return
        yield line(x, y, x + 26, y, _ink(plot, series), _weight(series), _dash(plot, index))
        yield _marker(plot, index, x + 13, y)
        yield label(x + 33, y + 4, series.name, plot.palette.ink, SMALL)
        x += 33 + width_of(series.name, SMALL) + 22


def _axes(plot: Plot) -> Iterator[str]:
    mute, hair = plot.palette.mute, plot.palette.hairline
    bottom, right = plot.height - BOTTOM, plot.width - RIGHT
    levels = ticks(*plot.y_range, about=5)
    decimals = decimals_of(levels)
    yield group(line(LEFT, plot.y(v), right, plot.y(v), hair, 0.6) for v in levels)
    yield group(label(LEFT - 8, plot.y(v) + 4, signed(v, decimals), mute, SMALL, "end") for v in levels)
    yield path(f"M{LEFT} {TOP}V{bottom}H{right}", plot.palette.ink, 1)
    yield label(LEFT - 8, TOP - 10, plot.scene.unit, mute, SMALL, "end")
    place = plot.scene.place
    low, high = plot.x_range
    marks = ticks(low * place.per, high * place.per, about=10)
    places = [(plot.x(v / place.per), plain_number(v, decimals_of(marks))) for v in marks]
    yield group(line(x, bottom, x, bottom + 5, plot.palette.ink) for x, _ in places)
    yield group(label(x, bottom + 17, words, mute, SMALL, "middle") for x, words in room_for(places, SMALL))
    key = "drawing.axis_grows_left" if plot.scene.grows_left else "drawing.axis_grows_right"
    yield label((LEFT + right) / 2, plot.height - 8, text(key, plot.language, unit=place.word), mute, SMALL, "middle")


def _tolerance(plot: Plot) -> Iterator[str]:
    if not plot.scene.tolerance:
        return
    main = main_series(plot.scene)
    band = fitted_band(main.deviation, plot.scene.tolerance)
    x1, x2 = sorted((plot.x(min(main.position_mm)), plot.x(max(main.position_mm))))
    top, low = plot.y(band.high), plot.y(band.low)
    yield element("rect", x=x1, y=top, width=x2 - x1, height=low - top, fill=plot.palette.inside, fill_opacity="0.11",
                  class_="band")  # fmt: skip
    yield from (line(x1, y, x2, y, plot.palette.inside, 0.75) for y in (top, low))


def _ribbons(plot: Plot) -> Iterator[str]:
    """What the true deviation may be, around every curve that says so."""
    for series in plot.scene.series:
        if not series.spread:
            continue
        upper, lower = _edges(series)
        rows = sorted(zip(series.position_mm, upper, lower, strict=True))
        there = [(plot.x(place), plot.y(value)) for place, value, _ in rows]
        back = [(plot.x(place), plot.y(value)) for place, _, value in reversed(rows)]
        outline = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in there + back) + "Z"
        yield element("path", d=outline, fill=plot.palette.ink, fill_opacity="0.12", class_="ribbon")


def _reference(plot: Plot) -> Iterator[str]:
    yield line(LEFT, plot.y(0), plot.width - RIGHT, plot.y(0), plot.palette.mute, 1, "7 3")


def _curves(plot: Plot) -> Iterator[str]:
    for index, series in enumerate(plot.scene.series):
        points = sorted((plot.x(p), plot.y(v)) for p, v in zip(series.position_mm, series.deviation, strict=True))
        yield group(
            (
                polyline(points, _ink(plot, series), _weight(series), _dash(plot, index)),
                *(_marker(plot, index, x, y) for x, y in points),
            ),
            class_="series",
            data_series=series.name,
        )


def _extremes(plot: Plot) -> Iterator[str]:
    """The largest value named above its station, the smallest below."""
    main = main_series(plot.scene)
    pairs = list(zip(main.deviation, main.position_mm, strict=True))
    for key, (value, position), rise in (("largest", max(pairs), -1), ("smallest", min(pairs), 1)):
        words = f"{signed(value, plot.scene.decimals)} {text(f'drawing.{key}', plot.language)}"
        half = width_of(words, SMALL) / 2
        x = min(max(plot.x(position), LEFT + half + 4), plot.width - RIGHT - half)
        y = plot.y(value) + (-9 if rise < 0 else 17)
        yield label(x, y, words, plot.palette.ink, SMALL, "middle", bold=True)


def _ink(plot: Plot, series: Series) -> str:
    return plot.palette.mute if series.pale else plot.palette.ink


def _weight(series: Series) -> float:
    return 1.9 if series.mean else 0.9


def _dash(plot: Plot, index: int) -> str | None:
    if plot.scene.series[index].mean or len(plot.scene.series) == 1:
        return None
    return _DASHES[index % len(_DASHES)]


def _marker(plot: Plot, index: int, x: float, y: float) -> str:
    """Filled circle for the mean; hollow shapes for passes: circle, square, triangle, diamond."""
    ink, panel = _ink(plot, plot.scene.series[index]), plot.palette.panel
    if plot.scene.series[index].mean:
        return element("circle", cx=x, cy=y, r=3, fill=ink)
    shapes = (
        "m-3 0a3 3 0 1 0 6 0a3 3 0 1 0 -6 0Z",
        "m-2.8 -2.8h5.6v5.6h-5.6Z",
        "m0 -3.6l3.6 6.4h-7.2Z",
        "m0 -3.8l3.8 3.8l-3.8 3.8l-3.8 -3.8Z",
    )
    return path(f"M{x:.1f} {y:.1f}{shapes[index % len(shapes)]}", ink, 0.9, panel)


def _in_words(scene: CurveScene, language: str) -> str:
    main = main_series(scene)
    pairs = list(zip(main.deviation, main.position_mm, strict=True))
    (low, low_at), (high, high_at) = min(pairs), max(pairs)
    return text(
        "drawing.words_extremes", language, unit=scene.unit,
        quantity=f"{scene.quantity_word} ({scene.code}), "
        + text("drawing.positive", language, direction=scene.direction_word),
        largest=signed(high, scene.decimals), largest_at=_in_place(scene, high_at),
        smallest=signed(low, scene.decimals), smallest_at=_in_place(scene, low_at), place=scene.place.word,
    )  # fmt: skip


def _in_place(scene: CurveScene, position_mm: float) -> str:
    return plain_number(position_mm * scene.place.per, scene.place.decimals)
