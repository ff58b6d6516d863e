"""Pairs of edges: compiled and plain agree to the bit, and the picks follow the weights."""

import numpy as np

from waywright.uncertainty import edge_pairs
from waywright.uncertainty.edge_pairs import REACH, PairDraw, PairTables, flat_weight

RNG = np.random.default_rng(5)
SCALES, EDGES = 3, 40
TABLES = PairTables.of(
    RNG.normal(size=(12, EDGES)),
    1.0 / RNG.uniform(1.0, 3.0, (SCALES, 12)),
    np.array([0.5, 2.0, 8.0]),
    np.log(RNG.uniform(1e-5, 1e-3, (EDGES, EDGES))),
)
INNER = RNG.normal(0.0, 3.0, (SCALES, EDGES))
GROUND = np.array([0.0, -1.0, -np.inf])


def evidence() -> np.ndarray:
    """By hand, in double precision: (scales, edges, edges) above the diagonal, else -inf."""
    difference = INNER[:, :, np.newaxis] - INNER[:, np.newaxis, :]
    value = difference**2 * TABLES.gain - TABLES.cost + GROUND[:, np.newaxis, np.newaxis]
    return np.where(np.triu(np.ones((EDGES, EDGES)), 1) > 0.0, value, -np.inf)


def test_the_best_pair_and_the_weights_are_those_of_the_formula() -> None:
    pairs, by_hand = PairDraw(TABLES, INNER, GROUND), evidence()
    assert pairs.best == np.float32(by_hand.max()) or abs(pairs.best - by_hand.max()) < 1e-4
    total = pairs.weigh(pairs.best)
    expected = flat_weight(np.maximum(by_hand - by_hand.max(), -2.0 * REACH))
    assert abs(total - expected.sum()) < 1e-3 * expected.sum()


def test_picks_follow_the_weights() -> None:
    pairs = PairDraw(TABLES, INNER, GROUND)
    total = pairs.weigh(pairs.best)
    found, weight = pairs.pick((np.arange(20_000) + 0.5) / 20_000 * total)
    assert (found[1] < found[2]).all()
    assert (found[0] < 2).all()  # the third scale has no chance
    expected = flat_weight(np.maximum(evidence() - evidence().max(), -2.0 * REACH))
    assert np.allclose(weight, expected[tuple(found)], rtol=1e-3)
    counted = np.bincount(np.ravel_multi_index(tuple(found), expected.shape), minlength=expected.size) / 20_000
    # Systematic picks differ from the shares by less than two picks each.
    assert np.abs(counted - expected.ravel() / expected.sum()).max() < 2.0 / 20_000


def test_plain_and_compiled_have_the_same_bits() -> None:
    best = np.full((2, SCALES, EDGES), -np.inf, np.float32)
    weight = np.zeros((2, SCALES, EDGES, EDGES), np.float32)
    inner, ground = INNER.astype(np.float32), GROUND.astype(np.float32)
    picks = np.zeros((2, 3, 500), np.int64)
    for k, form in enumerate(("plain", "compiled")):
        row_best, weights, pick = (
            getattr(each, form) for each in (edge_pairs._row_best, edge_pairs._weights, edge_pairs._pick)
        )
        assert row_best is not None
        row_best(inner, TABLES.gain, TABLES.cost, ground, best[k])
        weights(inner, TABLES.gain, TABLES.cost, ground, best[k], best[k].max(), weight[k])
        row = weight[k].sum(axis=2)
        pick(weight[k], row, (np.arange(500) + 0.5) / 500 * float(row.sum(dtype=np.float64)), picks[k])
    assert best[0].tobytes() == best[1].tobytes()
    assert weight[0].tobytes() == weight[1].tobytes()
    assert picks[0].tobytes() == picks[1].tobytes()
