"""A line in one or several segments at common stations."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from waywright.evaluate.passes import JoinedPasses, Traverse, join_passes
from waywright.evaluate.segments import JoinedSegments, Segment, join_segments
from waywright.readings import Floats


@dataclass(frozen=True, slots=True, eq=False)
class PartOfLine:
    """The passes of one segment; ``number`` is the segment's."""

    number: int
    passes: tuple[Traverse, ...]


def parts_of(passes: Sequence[tuple[int, Traverse]]) -> tuple[PartOfLine, ...]:
    """Passes grouped by the number of their segment, in its order."""
    groups: dict[int, list[Traverse]] = {}
    for segment, traverse in passes:
        groups.setdefault(segment, []).append(traverse)
    return tuple(PartOfLine(number, tuple(groups[number])) for number in sorted(groups))


def joined_parts(parts: Sequence[PartOfLine]) -> JoinedPasses:
    """Passes brought together; with several segments their means joined by offset and tilt (no reversal then)."""
    if len(parts) == 1:
        return join_passes(parts[0].passes)
    segments, each = segments_of(parts)
    whole = join_segments(segments)
    nothing = np.full(whole.position_mm.size, np.nan)
    return JoinedPasses(
        position_mm=whole.position_mm,
        mean=whole.value_um,
        reversal=nothing,
        repeatability=nothing,
        measured_by=np.ones(whole.position_mm.size, dtype=np.int64),
        passes=sum(joined.passes for joined in each),
        left_out=sum(joined.left_out for joined in each),
        each=whole.value_um[None, :],
    )


def whole_line(parts: Sequence[PartOfLine]) -> JoinedSegments:
    """The segments joined, with overlaps and covariance."""
    return join_segments(segments_of(parts)[0])


def segments_of(parts: Sequence[PartOfLine]) -> tuple[list[Segment], list[JoinedPasses]]:
    """The mean of the passes of each part as a segment, with the uncertainty of that mean where it is known."""
    each = [join_passes(part.passes) for part in parts]
    pairs = zip(parts, each, strict=True)
    return [Segment(joined.position_mm, joined.mean, _uncertainty(part, joined)) for part, joined in pairs], each


def _uncertainty(part: PartOfLine, joined: JoinedPasses) -> Floats | None:
    """Of the mean of passes: from the readings' standard deviations, or None."""
    spreads = [one.standard_deviation for one in part.passes]
    usual = [float(np.sqrt(np.mean(np.square(np.asarray(sd))))) for sd in spreads if sd is not None]
    if len(usual) < len(spreads) or not all(np.isfinite(usual)) or not all(sd > 0.0 for sd in usual):
        return None
    of_mean = float(np.sqrt(np.sum(np.square(usual)))) / len(usual)
    return np.full(joined.position_mm.size, of_mean)
