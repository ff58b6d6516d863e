"""The live figures over a WebSocket of their own: the newest picture at most forty times a second.

Nothing queues up: a browser that is slow gets fewer pictures, never old ones.
"""

from __future__ import annotations

import asyncio
import contextlib
import math
from typing import Any

from fastapi import WebSocket, WebSocketDisconnect

from waywright.jobs.figures import Meaning
from waywright.web.desk import Desk
from waywright.web.display import PLACES, display, place, place_unit, unit_for
from waywright.web.state import MeasuringState
from waywright.wording import text

EVERY_S = 0.025
STILL_S = 0.5
"""A picture that stays the same is sent again after so long: a page may have new places for it by then."""


async def serve_live(desk: Desk, socket: WebSocket) -> None:
    """Send pictures until the browser leaves."""
    await socket.accept()
    leaving = asyncio.create_task(_until_left(socket))
    sent: dict[str, Any] = {}
    quiet_s = 0.0
    try:
        while not leaving.done():
            picture = picture_of(desk.state, desk.revision) | desk.adjusting.picture(desk.state)
            quiet_s += EVERY_S
            if picture != sent or quiet_s >= STILL_S:
                await socket.send_json(picture)
                sent, quiet_s = picture, 0.0
            await asyncio.sleep(EVERY_S)
    except (WebSocketDisconnect, RuntimeError):
        return
    finally:
        leaving.cancel()
        await asyncio.gather(leaving, return_exceptions=True)


async def _until_left(socket: WebSocket) -> None:
    with contextlib.suppress(WebSocketDisconnect):
        while True:
            await socket.receive_text()


def picture_of(now: MeasuringState, revision: int) -> dict[str, Any]:
    """A state as plain values; figures positive as the screen says. None where there is nothing to show."""
    places = PLACES[display().place]
    return {
        "revision": revision,
        "phase": now.phase,
        "line": str(now.line_id) if now.line_id else None,
        "motion": now.live.state,
        "words": words_of(now),
        "progress": round(now.live.progress, 3),
        "position_mm": _shown(now.position_mm, 2),
        "readings": now.taken.readings if now.taken else 0,
        "pass": now.taken.number if now.taken else None,
        "direction": now.taken.direction if now.taken else None,
        "last_mm": _shown(now.last_mm, 1),
        "again": again_words(now),
        "place": {"per": places.per, "digits": places.decimals},
        "figures": [_figure(now, item) for item in now.meanings],
        "health": [
            {
                "channel": item.channel,
                "rate_hz": round(item.rate_hz, 1),
                "expected_hz": item.expected_hz,
                "age_s": _shown(item.age_s, 1),
                "scatter": _shown(item.scatter, 2),
            }
            for item in now.figures
        ],
    }


def _figure(now: MeasuringState, meaning: Meaning) -> dict[str, Any]:
    """A value in um or um/m, with how this person sees it."""
    unit = unit_for(meaning.code)
    value = _shown(_value(now, meaning.channel, meaning.factor), 2)
    return {"code": meaning.code.text, "value": value, "per": unit.per, "digits": unit.decimals}


def words_of(now: MeasuringState) -> str:
    """What happens now, in words."""
    if now.phase == "armed":
        return text(f"web.now_{now.live.state}", silent=", ".join(now.live.silent))
    if now.phase == "failed":
        return now.sentence
    if now.unheard:
        return text("unheard.waiting", titles=", ".join(silent.title for silent in now.unheard))
    return text(f"web.phase_{now.phase}")


def again_words(now: MeasuringState) -> str:
    """Which stations of the pass that runs are to be taken again, in words; nothing where there are none."""
    if now.phase != "armed" or not now.again_mm:
        return ""
    return text("phones.again", places=", ".join(map(place, now.again_mm)), unit=place_unit())


def _value(now: MeasuringState, channel: str, factor: float) -> float | None:
    value = now.live.latest.get(channel)
    return None if value is None else factor * value


def _shown(value: float | None, digits: int) -> float | None:
    return round(value, digits) if value is not None and math.isfinite(value) else None
