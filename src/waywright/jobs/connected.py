"""Connected: instruments that stay open before, between and during passes, with their figures all the time."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Sequence
from dataclasses import dataclass
from types import TracebackType
from typing import Any, Self

from waywright.archive import Archive
from waywright.clocks import Clock
from waywright.instruments import Happening, InstrumentSource, SampleBatch, Source
from waywright.jobs.begin import Begun
from waywright.jobs.figures import Figure, Health
from waywright.jobs.sources import KeptOpen, OpenInstruments
from waywright.jobs.take import PassPlan, Taking
from waywright.visit import Pass

Look = Callable[[str, SampleBatch | Happening], None]


@dataclass(frozen=True, slots=True)
class Unheard:
    """An instrument that has said nothing so far; ``said`` is the last that its link told."""

    title: str
    said: Happening | None


class Tapped:
    """A source that lets somebody look at every item on its way."""

    def __init__(self, source: Source, look: Look) -> None:
        self.name = source.name
        self.channels = source.channels
        self.rate_hz = source.rate_hz
        self._source = source
        self._look = look

    async def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        """What the source hands on."""
        async for item in self._source:
            self._look(self.name, item)
            yield item


class Connected:
    """The instruments of a line, listened to from entering to leaving; an asynchronous context manager."""

    def __init__(self, begun: Begun, clock: Clock, on_item: Look | None = None) -> None:
        self._begun = begun
        self._clock = clock
        self._on_item = on_item
        rates = {item.name: item.description.stream.rate_hz for item in begun.instruments}
        self.health = Health(rates)
        sources = [Tapped(InstrumentSource(item, clock), self._look) for item in begun.instruments]
        self._opened = OpenInstruments(sources)

    async def __aenter__(self) -> Self:
        await self._opened.__aenter__()
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None
    ) -> None:
        await self._opened.__aexit__(kind, error, at)

    def figures(self) -> tuple[Figure, ...]:
        """Every channel now."""
        return self.health.figures(self._clock.monotonic_s())

    def unheard(self) -> tuple[Unheard, ...]:
        """The instruments that have said nothing so far."""
        heard = self.health.heard
        return tuple(
            Unheard(item.description.title, self.health.said.get(item.name))
            for item in self._begun.instruments
            if item.name not in heard
        )

    def failure(self) -> Exception | None:
        """Why an instrument cannot be listened to any more, where that is so."""
        return next((source.failure for source in self._opened.sources if source.failure is not None), None)

    def taking(self, archive: Archive, plans: Sequence[PassPlan], **told: Any) -> Taking:
        """The passes of these plans, to be run on the open instruments; ``told`` as for :class:`Taking`."""
        return _TakingOpened(self._opened.sources, archive, self._begun, plans, self._clock, **told)

    def _look(self, source: str, item: SampleBatch | Happening) -> None:
        self.health.look(source, item)
        if self._on_item:
            self._on_item(source, item)


class _TakingOpened(Taking):
    """Takes passes from instruments that are open already and stay so."""

    def __init__(self, sources: Sequence[KeptOpen], *given: Any, **told: Any) -> None:
        super().__init__(*given, **told)
        self._sources = sources

    async def run(self) -> tuple[Pass, ...]:
        """Take the passes; those after a stopped one are not begun. Returns the ended records."""
        ended: list[Pass] = []
        for plan in self._plans:
            if self._stopped:
                break
            self._capture = self._armed(plan, self._sources)
            ended.append(await self._capture.run())
            self._stopped = self._stopped or ended[-1].outcome != "finished"
        return tuple(ended)
