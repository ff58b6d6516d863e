"""Mend: a wrong sign, swapped channels or a wrong size found afterwards, by an interpretation that supersedes.

Raw readings stay as they are; every result is computed from them anew.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from waywright.archive import open_archive
from waywright.clocks import SystemClock, new_id
from waywright.errors import BadInput
from waywright.jobs.measured import find_line
from waywright.jobs.people import who
from waywright.jobs.remember import archive_place
from waywright.machine import Machine
from waywright.quantities import Direction, code_along
from waywright.visit import ChannelMeaning, Interpretation, Visit


@dataclass(frozen=True, slots=True, kw_only=True)
class Mending:
    """What a channel really means; None leaves a part as it was. ``by`` is the name of whoever says so."""

    channel: str
    positive: str | None = None
    factor: float | None = None
    reason: str
    by: str | None = None


def mend(line: str | None, mending: Mending, path: Path | str | None = None) -> tuple[Interpretation, ...]:
    """Keep a new interpretation for every set-up of a line and return them.

    Raises BadInput for a channel that no set-up has or a direction that does not exist.
    """
    with open_archive(archive_place(path)) as archive:
        found = find_line(archive, line)
        visit = archive.load(Visit, found.visit_id)
        axes = archive.load(Machine, visit.machine_id).axes
        by, now, mended = who(archive, mending.by), SystemClock().utc(), []
        for setup in archive.setups(found.id):
            before = archive.interpretation(setup.id)
            if before is None:
                continue
            meanings = _replaced(before.meanings, mending, lambda way: code_along(way, found.axis, axes).text)
            after = replace(before, id=new_id(), meanings=meanings, reason=mending.reason, made_utc=now, made_by=by)
            archive.save(after, by=by, reason=mending.reason)
            mended.append(after)
    return tuple(mended)


def _replaced(
    meanings: tuple[ChannelMeaning, ...], mending: Mending, code_of: Callable[[Direction], str]
) -> tuple[ChannelMeaning, ...]:
    if mending.channel not in [meaning.channel for meaning in meanings]:
        known = ", ".join(meaning.channel for meaning in meanings)
        raise BadInput("jobs.no_such_channel", channel=mending.channel, known=known or "-")
    return tuple(_mended(item, mending, code_of) if item.channel == mending.channel else item for item in meanings)


def _mended(meaning: ChannelMeaning, mending: Mending, code_of: Callable[[Direction], str]) -> ChannelMeaning:
    factor = meaning.factor if mending.factor is None else mending.factor
    if mending.positive is None:
        return replace(meaning, factor=factor)
    if mending.positive not in [way.value for way in Direction]:
        allowed = ", ".join(way.value for way in Direction)
        raise BadInput("jobs.no_such_direction", direction=mending.positive, allowed=allowed)
    positive = Direction(mending.positive)
    return replace(meaning, positive=positive, code=code_of(positive), factor=factor)
