"""Propagation of distributions by Monte Carlo (JCGM 101:2008) through any model of arrays.

Trials come in fixed blocks; the normal draws of an input are a function of seed, input and trial alone. So the same
seed gives the same bits for any number of threads, and the adaptive procedure stops at the same trial.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from os import cpu_count
from typing import Literal, TypeAlias

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.correlation import Correlation, mixing
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.inputs import Input
from waywright.uncertainty.outcome import Outcome, numerical_tolerance

Model: TypeAlias = Callable[..., FloatArray]
"""Called with the inputs as keyword arguments, arrays (draws,) or (n, draws); returns values (draws,)."""

TRIALS_PER_BLOCK = 10_000
MOST_TRIALS = 10_000_000
_ADAPTIVE_PROBABILITY = 0.95


def monte_carlo(
    model: Model,
    inputs: Mapping[str, Input],
    draws: int | Literal["adaptive"] = "adaptive",
    seed: int = 1,
    *,
    correlation: Correlation | None = None,
    digits: int = 2,
    threads: int | None = None,
) -> Outcome:
    """Distribution of a model's value.

    ``inputs`` in a fixed order (it numbers the streams); per-trial inputs reach the model as (draws,), per-reading
    inputs and inputs with a mean (n,) as (n, draws). ``correlation`` holds coefficients of pairs of per-trial inputs.
    "adaptive" adds blocks until mean, standard uncertainty and the 95 % interval are stable in ``digits``
    significant digits of the standard uncertainty (JCGM 101, 7.9). Raises BadInput for inputs that do not fit the
    model and coefficients that no inputs can have.
    """
    if not inputs:
        raise BadInput("uncertainty.no_inputs")
    run = _Run(model, dict(inputs), seed, mixing(inputs, correlation or {}))
    if draws == "adaptive":
        values, stable = _adaptive(run, digits, threads)
    elif draws >= 1:
        values, stable = run.values(int(draws), threads), None
    else:
        raise BadInput("uncertainty.too_few_draws", draws=draws, needed=1)
    return Outcome(draws=values, nominal=run.nominal(), seed=seed, stable=stable)


@dataclass(frozen=True, slots=True)
class _Run:
    model: Model
    inputs: dict[str, Input]
    seed: int
    mixing: FloatArray | None
    names: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "names", tuple(self.inputs))

    def nominal(self) -> float:
        """The model at the means of the inputs."""
        zeros = {
            name: item.drawn(np.zeros((item.readings, 1) if item.readings else 1)) for name, item in self.inputs.items()
        }
        return float(self._checked(self.model(**zeros), 1)[0])

    def block(self, first: int, count: int) -> FloatArray:
        """Values of ``count`` trials from trial number ``first`` on."""
        drawn = {}
        for stream, (name, item) in enumerate(self.inputs.items()):
            drawn[name] = item.drawn(self._normals(stream, item, first, count))
        return self._checked(self.model(**drawn), count)

    def _normals(self, stream: int, item: Input, first: int, count: int) -> FloatArray:
        if item.readings:
            n = item.readings
            flat = standard_normals(count * n, self.seed, stream=stream, first=first * n, threads=1)
            return np.ascontiguousarray(flat.reshape(count, n).T)
        if self.mixing is None:
            return standard_normals(count, self.seed, stream=stream, first=first, threads=1)
        mixed = np.zeros(count)
        for other, weight in enumerate(self.mixing[stream, : stream + 1].tolist()):
            if weight:
                mixed += weight * standard_normals(count, self.seed, stream=other, first=first, threads=1)
        return mixed

    def _checked(self, value: FloatArray, count: int) -> FloatArray:
        value = np.asarray(value, dtype=np.float64)
        if value.shape != (count,):
            raise BadInput("uncertainty.model_shape", shape=value.shape, needed=(count,))
        return value

    def values(self, trials: int, threads: int | None) -> FloatArray:
        """Values of trials 0 to ``trials - 1``."""
        edges = range(0, trials, TRIALS_PER_BLOCK)
        return np.concatenate(list(self._mapped(edges, trials, threads)))

    def blocks(self, threads: int | None) -> Iterator[FloatArray]:
        """Full blocks one after the other, worked on some ahead."""
        ahead = max(2, threads or cpu_count() or 1)
        for wave in range(0, MOST_TRIALS, ahead * TRIALS_PER_BLOCK):
            last = min(wave + ahead * TRIALS_PER_BLOCK, MOST_TRIALS)
            yield from self._mapped(range(wave, last, TRIALS_PER_BLOCK), last, threads)

    def _mapped(self, edges: range, end: int, threads: int | None) -> Iterator[FloatArray]:
        workers = min(len(edges), threads or cpu_count() or 1)
        if workers <= 1:
            yield from (self.block(a, min(TRIALS_PER_BLOCK, end - a)) for a in edges)
            return
        with ThreadPoolExecutor(workers) as pool:
            yield from pool.map(lambda a: self.block(a, min(TRIALS_PER_BLOCK, end - a)), edges)


def _adaptive(run: _Run, digits: int, threads: int | None) -> tuple[FloatArray, bool]:
    """JCGM 101, 7.9.4: stop when twice the standard deviation of every block average is below the tolerance."""
    blocks: list[FloatArray] = []
    results: list[tuple[float, float, float, float]] = []
    for block in run.blocks(threads):
        blocks.append(block)
        part = Outcome(draws=block, nominal=0.0, seed=run.seed)
        low, high = part.interval(_ADAPTIVE_PROBABILITY)
        results.append((part.mean, part.standard_uncertainty, low, high))
        if len(blocks) < 2:
            continue
        table = np.array(results)
        spread = table.std(axis=0, ddof=1) / np.sqrt(len(blocks))
        u = float(np.std(np.concatenate(blocks), ddof=1)) if len(blocks) < 20 else float(table[:, 1].mean())
        if u == 0.0 or (2.0 * spread <= numerical_tolerance(u, digits)).all():
            return np.concatenate(blocks), True
    return np.concatenate(blocks), False
