"""Standard normal draws from a counter: draw number i of a seed is a function of the two and of nothing else.

Any part of a stream can therefore be drawn anywhere, in any order and on any number of threads, with the same bits.

Bits: SplitMix64 (Steele, Lea, Flood, OOPSLA 2014): a Weyl counter through Stafford's 64-bit mix 13; the seed is
spread over the counter's start by numpy's SeedSequence. Shape: the ziggurat of 256 layers (Marsaglia and Tsang,
J. Stat. Soft. 5 (2000) 8) with 8 bits for the layer, one for the sign and 53 others for the place (Doornik 2005: the
same bits must not serve twice), Marsaglia's tail (Technometrics 6 (1964) 101).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from itertools import count as counter
from os import cpu_count

import numpy as np

from waywright.compiled import kernel
from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray

BLOCK = 1 << 18
"""Draws (or points of profiles) that one thread takes at a time."""

_LAYERS = 256
_RIGHT = 3.6541528853610088  # where the tail begins, for 256 layers
_PER_STEP = 2.0**-53

_STEP = np.uint64(0x9E3779B97F4A7C15)
_MIX_1 = np.uint64(0xBF58476D1CE4E5B9)
_MIX_2 = np.uint64(0x94D049BB133111EB)
_SHIFT_1, _SHIFT_2, _SHIFT_3 = np.uint64(30), np.uint64(27), np.uint64(31)
_LAYER_BITS, _SIGN_BIT, _PLACE_SHIFT = np.uint64(255), np.uint64(256), np.uint64(11)
_ONE = np.uint64(1)


def _ziggurat() -> tuple[FloatArray, FloatArray]:
    """Right edges of the layers from the widest (0, tail included) to the top, and the density there."""
    tail = math.sqrt(math.pi / 2) * math.erfc(_RIGHT / math.sqrt(2))
    density = math.exp(-0.5 * _RIGHT**2)
    area = _RIGHT * density + tail
    edge = [area / density, _RIGHT]
    while len(edge) < _LAYERS:
        density += area / edge[-1]
        edge.append(math.sqrt(-2.0 * math.log(density)))
    edge.append(0.0)
    edges = np.array(edge)
    return edges, np.exp(-0.5 * edges**2)


_EDGE, _DENSITY = _ziggurat()


@kernel("uint64(uint64)")
def _mixed(state: np.uint64) -> np.uint64:
    """64 bits that all depend on all bits of ``state``, one to one."""
    state = (state ^ (state >> _SHIFT_1)) * _MIX_1
    state = (state ^ (state >> _SHIFT_2)) * _MIX_2
    return state ^ (state >> _SHIFT_3)


@kernel("float64(uint64)")
def _uniform(bits: np.uint64) -> float:
    """A number between 0 and 1, both excluded."""
    return (float(np.int64(bits >> _PLACE_SHIFT)) + 0.5) * _PER_STEP


@kernel("float64(uint64, int64, float64)")
def _rare(bits: np.uint64, layer: np.int64, place: float) -> float:
    """Size of a draw that did not fall inside its layer's box (about 1 % of them)."""
    state = bits
    while True:
        state += _STEP
        if layer == 0:
            beyond = -math.log(_uniform(_mixed(state))) / _RIGHT
            state += _STEP
            if -2.0 * math.log(_uniform(_mixed(state))) >= beyond * beyond:
                return _RIGHT + float(beyond)
            continue
        low, high = _DENSITY[layer], _DENSITY[layer + 1]
        if low + _uniform(_mixed(state)) * (high - low) < math.exp(-0.5 * place * place):
            return float(place)
        state += _STEP
        more = _mixed(state)
        layer = np.int64(more & _LAYER_BITS)
        place = float(np.int64(more >> _PLACE_SHIFT)) * _PER_STEP * _EDGE[layer]
        if place < _EDGE[layer + 1]:
            return place


@kernel("float64(uint64, uint64)")
def normal(start: np.uint64, index: np.uint64) -> float:
    """Draw number ``index`` of the stream that begins at ``start``."""
    bits = _mixed(start + (index + _ONE) * _STEP)
    layer = np.int64(bits & _LAYER_BITS)
    place = float(np.int64(bits >> _PLACE_SHIFT)) * _PER_STEP * _EDGE[layer]
    if place >= _EDGE[layer + 1]:
        place = _rare(bits, layer, place)
    return float(-place if bits & _SIGN_BIT else place)


@kernel("void(uint64, int64, float64[::1])")
def _fill(start: np.uint64, first: int, out: FloatArray) -> None:
    for i in range(out.size):
        out[i] = normal(start, np.uint64(first + i))


def stream_start(seed: int, stream: int = 0) -> np.uint64:
    """Where the counter of a stream begins; different streams of a seed are independent."""
    if seed < 0 or stream < 0:
        raise BadInput("uncertainty.negative_seed", seed=seed, stream=stream)
    return np.uint64(np.random.SeedSequence(seed, spawn_key=(stream,)).generate_state(1, np.uint64)[0])


def standard_normals(
    count: int, seed: int, *, stream: int = 0, first: int = 0, threads: int | None = None
) -> FloatArray:
    """Standard normal draws number ``first`` to ``first + count - 1`` of a stream, shape (count,).

    The same seed and stream give the same bits for any number of threads (all processors unless given).
    """
    out = np.empty(count)
    start, fill = stream_start(seed, stream), _fill.choose(count)
    in_blocks(count, BLOCK, threads, lambda a, b: fill(start, first + a, out[a:b]))
    return out


def in_blocks(count: int, block: int, threads: int | None, work: Callable[[int, int], None]) -> None:
    """Call ``work(first, last)`` for the blocks of ``range(count)``, on several threads.

    The caller is one of them, and nobody is told of a finished block: a thread more than there are processors, woken
    for each block, holds the interpreter just when another thread needs it for its next block.
    """
    blocks = -(-count // block)
    workers = min(blocks, threads or cpu_count() or 1)
    turns = counter()

    def take_turns() -> None:
        with np.errstate(over="ignore"):  # the plain form of the counter wraps around, on purpose
            while (turn := next(turns)) < blocks:
                work(turn * block, min((turn + 1) * block, count))

    if workers <= 1:
        take_turns()
        return
    with ThreadPoolExecutor(workers - 1) as pool:
        others = [pool.submit(take_turns) for _ in range(workers - 1)]
        take_turns()
    for other in others:
        other.result()
