"""A full report of 3 lines x 2 passes x 41 stations, and its workbook, against reportlab with matplotlib.

Both sides draw nine curves with two passes and their mean, and print the deviations of every quantity and all readings
in tables. Ours also has the way drawing, the bed in three dimensions, budgets, tags for accessibility (PDF/UA), PDF/A-3
and the attached tables. What is timed is the document from its content, warm: the program is loaded, the content is
another one each time, because the typesetter remembers pages that it has set before.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from uuid import UUID

import numpy as np

from bench.measure import Row, interleaved_s
from waywright.machine import Bed, Machine, Mark, Support
from waywright.quantities import Axes, Direction, code, iso_sign
from waywright.report import (
    BudgetRow,
    LineContent,
    LineValue,
    PassContent,
    PassCurve,
    QuantityContent,
    ReportContent,
    UncertaintyContent,
    VerdictContent,
    pdf_bytes,
    workbook_bytes,
)
from waywright.visit import Column, Line, PositionZero, Profile, SetUp

STATIONS, LINES, PASSES = 41, 3, 2
ROUNDS = 7
AXES = Axes(up="-Y", operator="+X")
QUANTITIES = (("EYZ", Direction.UP), ("EXZ", Direction.TOWARDS), ("ECZ", Direction.OPERATOR_SIDE_UP))
BEGAN = datetime(2026, 3, 4, 7, 30, tzinfo=UTC)
ROWS = tuple(
    BudgetRow(name, 0.3, "um", "normal", 50.0, "assumed", 0.3, 1.0, 0.3)
    for name in ("scatter", "repeatability", "linearity", "air", "drift of offset", "drift of angle", "resolution")
)


def content(number: int = 0) -> ReportContent:
    """Invented readings of an invented lathe, others for each number."""
    supports = tuple(Support(str(n), 200.0 + (n - 1) * 1000.0) for n in range(1, 8))
    machine = Machine(
        UUID(int=1), "HR-6", "roll lathe", AXES, Bed(6400.0, supports, gauge_mm=640.0),
        marks=(Mark("tailstock mark", 6250.0),), owner="Hollin Reach", invented=True,
    )  # fmt: skip
    lines = tuple(_line(LINES * number + each) for each in range(LINES))
    return ReportContent(BEGAN + timedelta(minutes=number), machine, lines, "0.1.0", "1")


def _line(number: int) -> LineContent:
    x = np.linspace(0.0, 5200.0, STATIONS)
    noise = np.random.default_rng(number)
    curves = {
        name: [20.0 * np.sin(x / 900.0 + number) + noise.normal(0.0, 0.5, STATIONS) for _ in range(PASSES)]
        for name, _ in QUANTITIES
    }
    passes = tuple(_pass(x, index, curves, noise) for index in range(PASSES))
    setup = SetUp(UUID(int=9), UUID(int=number % LINES + 2), zero=PositionZero("tailstock mark", 0.0, -1))
    line = Line(UUID(int=number % LINES + 2), UUID(int=7), f"line {number % LINES + 1}", "Z")
    return LineContent(line, setup, tuple(_quantity(x, *each, curves) for each in QUANTITIES), passes)


def _pass(x: np.ndarray, index: int, curves: dict[str, list[np.ndarray]], noise: np.random.Generator) -> PassContent:
    columns = tuple(
        Column(code(name), iso_sign(code(name), shown, AXES) * curves[name][index], noise.uniform(0.3, 0.7, STATIONS),
               np.full(STATIONS, 100.0), shown, iso_sign(code(name), shown, AXES))
        for name, shown in QUANTITIES
    )  # fmt: skip
    direction = ("forward", "backward")[index % 2]
    profile = Profile(x, columns, (direction,) * STATIONS)
    return PassContent(index + 1, direction, BEGAN + timedelta(minutes=20 * index), profile, last_hash="ab" * 32)


def _quantity(x: np.ndarray, name: str, shown: Direction, curves: dict[str, list[np.ndarray]]) -> QuantityContent:
    mean = np.mean(curves[name], axis=0)
    high, low = int(mean.argmax()), int(mean.argmin())
    value = LineValue(
        "least-squares", float(np.ptp(mean)), float(mean[high]), float(x[high]), float(mean[low]), float(x[low])
    )
    stated = UncertaintyContent(
        40.0, (38.0, 42.0), 2.0, 2.0, 0.95, ROWS, 1.0, 50.0, 1.0, 1.5, "beam", (1.0,) * STATIONS
    )
    return QuantityContent(
        code(name), shown, (value,), tuple(x.tolist()), tuple(mean.tolist()),
        tuple(PassCurve(k + 1, "forward", tuple(x.tolist()), tuple(c.tolist())) for k, c in enumerate(curves[name])),
        tuple(mean.tolist()), stated, VerdictContent("0.05", limit=50.0, verdict="conforms"),
    )  # fmt: skip


def by_reportlab(made: ReportContent) -> bytes:
    """The same curves by matplotlib at 150 pixels an inch, the same tables by reportlab."""
    from reportlab.lib import colors
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.styles import getSampleStyleSheet
    from reportlab.platypus import Image, Paragraph, SimpleDocTemplate, Table, TableStyle

    style = TableStyle([("FONTSIZE", (0, 0), (-1, -1), 7), ("LINEBELOW", (0, 0), (-1, -1), 0.4, colors.grey)])
    heading, story = getSampleStyleSheet()["Heading2"], []
    for line in made.lines:
        story.append(Paragraph(line.line.name, heading))
        for quantity in line.quantities:
            story.append(Image(io.BytesIO(_drawn(quantity)), 480, 165))
            rows = [
                ["mm", "um"],
                *([f"{p:.1f}", f"{v:+.2f}"] for p, v in zip(quantity.position_mm, quantity.deviation, strict=True)),
            ]
            story.append(Table(rows, style=style, repeatRows=1))
        for each in line.passes:
            rows = [["mm", *(column.code.text for column in each.profile.columns)]]
            for station in range(STATIONS):
                values = [f"{column.screen[station]:+.2f}" for column in each.profile.columns]
                rows.append([f"{each.profile.position_mm[station]:.1f}", *values])
            story.append(Table(rows, style=style, repeatRows=1))
    target = io.BytesIO()
    SimpleDocTemplate(target, pagesize=A4).build(story)
    return target.getvalue()


def _drawn(quantity: QuantityContent) -> bytes:
    import matplotlib as mpl

    mpl.use("Agg")
    from matplotlib.figure import Figure

    figure = Figure(figsize=(6.66, 2.3), dpi=150)
    axes = figure.subplots()
    for each in quantity.passes:
        axes.plot(each.position_mm, each.deviation, "o--", linewidth=0.8, markersize=3, label=f"pass {each.number}")
    axes.plot(quantity.position_mm, quantity.deviation, "o-", color="black", markersize=3, label="mean")
    axes.axhspan(-25.0, 25.0, alpha=0.1)
    axes.set_xlabel("position, mm")
    axes.legend(fontsize=7)
    target = io.BytesIO()
    figure.savefig(target, format="png")
    return target.getvalue()


def rows() -> Iterator[Row]:
    """The table."""
    for warm in (pdf_bytes, workbook_bytes, by_reportlab):
        warm(content())
    # Made before the clock starts; none is set twice.
    pdfs, others, books = (iter([content(first + each) for each in range(1, ROUNDS + 2)]) for first in (0, 100, 200))
    pdf_s, other_s, book_s = interleaved_s(
        lambda: pdf_bytes(next(pdfs)),
        lambda: by_reportlab(next(others)),
        lambda: workbook_bytes(next(books)),
        rounds=ROUNDS,
    )
    what = f"{LINES} lines x {PASSES} passes x {STATIONS} stations"
    yield Row(f"report as PDF, {what}", pdf_s, other_s, "reportlab and matplotlib", 1.0)
    yield Row(f"report as PDF, {what}", pdf_s, aim=0.5)
    yield Row(f"report as workbook, {what}", book_s, other_s, "reportlab and matplotlib", 1.0)
    yield Row(f"report as workbook, {what}", book_s, aim=0.3)
