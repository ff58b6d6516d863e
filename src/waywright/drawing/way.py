"""The way drawing: the one picture a technician carries in the head; everything else hangs on it.

The bed in side view (or seen from above), drawn long, as the operator sees it: left is the operator's left.
Stations are ticks on its upper edge, supports stand below with their painted numbers, the deviation is exaggerated
above it.
"""

from __future__ import annotations

from waywright.drawing.lettering import signed
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.scene import WayScene
from waywright.drawing.svg import Sheet, document
from waywright.drawing.way_above import above
from waywright.drawing.way_again import again
from waywright.drawing.way_frame import WayFrame, laid_out
from waywright.drawing.way_moves import move_words
from waywright.drawing.way_parts import caption, caption_words, deviations, foot, in_place
from waywright.drawing.way_side import side
from waywright.errors import BadInput
from waywright.machine import Machine
from waywright.wording import ENGLISH, text

VIEWS = {"side": side, "above": above}


def way(
    machine: Machine,
    scene: WayScene,
    *,
    view: str = "side",
    palette: Palette = LIGHT,
    width: float = 1384.0,
    language: str = ENGLISH,
    ident: str = "way",
) -> str:
    """The way drawing as SVG text, ``width`` pixels wide; words keep their size, so give the width it will be seen at.

    ``view`` is "side" or "above". ``ident`` makes ids unique where several drawings share a page. Supports, stations
    and points carry ``data-support`` and ``data-position-mm``. Raises BadInput for lists of different length, an
    unknown mark, support or view.
    """
    if view not in VIEWS:
        raise BadInput("drawing.unknown_view", view=view, allowed=", ".join(VIEWS))
    frame = laid_out(machine, scene, palette, language, width, view)
    body = [*caption(frame), *VIEWS[view](frame), *deviations(frame), *again(frame, worded=view == "side")]
    body += foot(frame, frame.height - 8)
    sheet = Sheet(width, frame.height, _title(frame), way_in_words(frame), ident)
    return document(sheet, palette, body)


def way_in_words(frame: WayFrame) -> str:
    """The drawing for those who hear it: bed, supports, stations, extremes, moves."""
    scene, language = frame.scene, frame.language
    supports = len(frame.bed.supports)
    parts = [text("drawing.words_bed", language, length_m=frame.bed.length_mm / 1e3, supports=supports)]
    taken = [(v, p) for p, v in zip(scene.position_mm, scene.deviation, strict=True) if v is not None]
    parts.append(text("drawing.words_stations", language, taken=len(taken), stations=len(scene.position_mm)))
    if taken and scene.quantity is not None:
        (low, low_at), (high, high_at) = min(taken), max(taken)
        unit, place = scene.units.of(scene.quantity), scene.units.place
        parts.append(text(
            "drawing.words_extremes", language, quantity=" ".join(caption_words(frame)), unit=unit.word,
            largest=signed(high * unit.per, unit.decimals), largest_at=in_place(frame, high_at),
            smallest=signed(low * unit.per, unit.decimals), smallest_at=in_place(frame, low_at), place=place.word,
        ))  # fmt: skip
    for name, move in scene.moves_um.items():
        turns = scene.turns.get(name)
        amount = move_words(frame, move) + (f" ({turns})" if turns else "")
        parts.append(text("drawing.words_move", language, support=name, move=amount))
    parts += [text("drawing.words_again", language, place=in_place(frame, at), unit=scene.units.place.word)
              for at in scene.again_mm]  # fmt: skip
    return " ".join(parts)


def _title(frame: WayFrame) -> str:
    return text("drawing.way_title", frame.language, machine=frame.machine.name, kind=frame.machine.kind)
