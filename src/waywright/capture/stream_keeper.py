"""The raw stream of a pass, cut into blocks of about ten seconds per source."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

import numpy as np

from waywright.instruments import SampleBatch
from waywright.readings import StreamBlock

BLOCK_S = 10.0


class StreamKeeper:
    """Collects batches (times since the start of the pass). ``first_numbers``: the next block number per source."""

    def __init__(self, pass_id: UUID, first_numbers: Mapping[str, int]) -> None:
        self._pass_id = pass_id
        self._numbers = dict(first_numbers)
        self._waiting: dict[str, list[SampleBatch]] = {}

    def add(self, batch: SampleBatch) -> StreamBlock | None:
        """The block that is full with this batch, if one is."""
        waiting = self._waiting.setdefault(batch.source, [])
        waiting.append(batch)
        if batch.time_s[-1] - waiting[0].time_s[0] < BLOCK_S:
            return None
        return self._block(batch.source)

    def rest(self) -> list[StreamBlock]:
        """What is not in a block yet."""
        return [self._block(source) for source, waiting in self._waiting.items() if waiting]

    def _block(self, source: str) -> StreamBlock:
        waiting = self._waiting[source]
        self._waiting[source] = []
        number = self._numbers.get(source, 0)
        self._numbers[source] = number + 1
        times = np.concatenate([batch.time_s for batch in waiting])
        values = np.concatenate([batch.value for batch in waiting])
        return StreamBlock(self._pass_id, source, number, waiting[0].channels, times, values)
