import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.minimum_zone import width_from_pairs, zone
from waywright.uncertainty import monte_carlo, normal
from waywright.uncertainty.trials import trial_values

X = np.linspace(0.0, 3000.0, 15)
BOW = 12.0 * np.sin(X / 1000.0)
COLUMNS = np.stack([(X / 3000.0) ** 2 * 2.0, np.cos(X / 400.0)])


@pytest.mark.parametrize("reference", ["end-points", "least-squares", "minimum-zone"])
def test_the_compiled_pass_is_the_model_of_the_evaluation(reference: str) -> None:
    fast = trial_values(X, BOW, 0.7, COLUMNS, reference, 100_000, seed=3)
    slow = monte_carlo(
        lambda y, a, b: straightness(X, y + np.outer(COLUMNS[0], a) + np.outer(COLUMNS[1], b), reference).value_um,
        {"y": normal(BOW, 0.7, per_reading=True), "a": normal(0.0, 1.0), "b": normal(0.0, 1.0)},
        100_000,
        seed=4,
    )
    u = slow.standard_uncertainty
    assert fast.mean() == pytest.approx(slow.mean, abs=5.0 * u * (2.0 / 100_000) ** 0.5)
    assert fast.std() == pytest.approx(u, rel=0.015)
    for probability in (0.025, 0.975):
        assert np.quantile(fast, probability) == pytest.approx(np.quantile(slow.draws, probability), abs=0.05 * u)


def test_same_bits_for_any_number_of_threads() -> None:
    one, two = (trial_values(X, BOW, 0.7, COLUMNS, "minimum-zone", 20_000, seed=3, threads=t) for t in (1, 3))
    assert one.tobytes() == two.tobytes()


def test_without_errors_every_trial_is_the_value() -> None:
    values = trial_values(X, BOW, 0.0, (), "least-squares", 10)
    assert values == pytest.approx(straightness(X, BOW).value_um)


def test_what_does_not_fit_is_refused() -> None:
    for arguments in ({"reference": "best"}, {"draws": 0}, {"columns": [[1.0, 2.0]]}):
        with pytest.raises(BadInput):
            trial_values(X, BOW, 0.7, **arguments)  # type: ignore[arg-type]


def test_the_width_does_not_depend_on_the_pairs_it_begins_with() -> None:
    rng = np.random.default_rng(9)
    for _ in range(300):
        x = np.cumsum(rng.uniform(50.0, 200.0, 12))
        y = rng.normal(size=12) + 3.0 * np.sin(x / 400.0)
        i, j = np.sort(rng.choice(12, 2, replace=False))
        from_pairs = width_from_pairs.plain(x, y, j, i, i, j)
        assert from_pairs == pytest.approx(zone.plain(x, y, *np.empty((2, 12), np.int64))[1], rel=1e-12)
