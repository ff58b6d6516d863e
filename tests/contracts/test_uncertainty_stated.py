"""A stated straightness: what its rows, its interval and its bed mean."""

import math

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.uncertainty import Acts, BedShapes, Believer, Budget, Contribution, Correlated, state_straightness
from waywright.uncertainty.stated import SAMPLING
from waywright.verdict import decide

X = np.linspace(0.0, 4000.0, 17)
RNG = np.random.default_rng(4)
BOW = 30.0 * (1.0 - (X / 2000.0 - 1.0) ** 2) + 0.6 * RNG.normal(size=17)
SCATTER = Contribution("scatter", Acts.READING, 0.6, "um", degrees_of_freedom=12)
AIR = Contribution("air", Acts.AIR_GRADIENT, 0.5, "K/m", "rectangular")
DRIFT = Contribution("drift", Acts.DRIFT_ANGLE, 2.0, "um/m")


def budget(*more: Contribution, **options: object) -> Budget:
    return Budget("beam", (SCATTER, *more), **options)  # type: ignore[arg-type]


def test_rows_are_the_law_of_propagation() -> None:
    stated = state_straightness(X, BOW, budget(AIR, DRIFT), "end-points", draws=500)
    rows = {row.name: row for row in stated.rows}
    top = int(BOW.argmax())
    # Value by hand: the top over the line through the ends, for one unit of each contribution.
    air = 0.93 * (X / 1e3) ** 2 / 2.0
    share = X / 4000.0
    expected = air[top] - share[top] * air[-1]
    assert rows["air"].sensitivity == pytest.approx(expected, rel=1e-6)
    assert rows["air"].contribution == pytest.approx(abs(expected) * 0.5 / math.sqrt(3.0), rel=1e-6)
    drift = share * X / 1e3
    assert rows["drift"].sensitivity == pytest.approx(drift[top] - share[top] * drift[-1], rel=1e-6)
    assert rows["scatter"].sensitivity == pytest.approx(
        math.sqrt(1.0 + share[top] ** 2 + (1.0 - share[top]) ** 2), rel=1e-6
    )
    total = math.sqrt(sum(row.contribution**2 for row in stated.rows))
    assert stated.combined == pytest.approx(total)
    assert stated.degrees_of_freedom == pytest.approx(total**4 / (rows["scatter"].contribution ** 4 / 12))
    assert list(rows)[-1] == SAMPLING


def test_a_drifting_beam_angle_bends_the_line_by_a_quarter_of_it() -> None:
    # Angle drifting evenly by theta during one pass: bow of theta L / 4.
    stated = state_straightness(X, BOW, budget(DRIFT), "end-points", draws=500)
    row = next(row for row in stated.rows if row.name == "drift")
    assert abs(row.sensitivity) == pytest.approx(4.0 / 4.0, rel=0.02)


def test_correlation_is_kept() -> None:
    both = (AIR, DRIFT)
    plain, together, against = (
        state_straightness(X, BOW, budget(*both, correlation=pairs), "end-points", draws=500)
        for pairs in ((), (Correlated("air", "drift", 1.0),), (Correlated("air", "drift", -1.0),))
    )
    rows = {row.name: row.contribution for row in plain.rows}
    expected = plain.combined**2 + 2.0 * rows["air"] * rows["drift"]
    assert together.combined**2 == pytest.approx(expected, rel=1e-2)
    assert against.expanded < plain.expanded < together.expanded


def test_a_slope_is_no_part_of_straightness() -> None:
    tilt = Contribution("zero", Acts.TILT, 50.0, "um/m")
    plain, tilted = (state_straightness(X, BOW, budget(*more), draws=16_000) for more in ((), (tilt,)))
    assert tilted.rows[1].contribution == pytest.approx(0.0, abs=1e-6)
    # Two runs of 16 000 draws agree in their standard deviation to 0.8 %.
    assert tilted.outcome.standard_uncertainty == pytest.approx(plain.outcome.standard_uncertainty, rel=0.025)


def test_more_passes_and_less_scatter_make_it_narrower() -> None:
    one, four = (state_straightness(X, BOW, budget(), passes=passes, draws=2000) for passes in (1, 4))
    assert four.rows[0].contribution == pytest.approx(one.rows[0].contribution / 2.0)
    assert four.expanded < 0.8 * one.expanded


def test_noise_alone_is_not_stated_as_a_crooked_axis() -> None:
    flat = RNG.normal(size=17) * 0.6
    stated = state_straightness(X, flat, budget())
    assert stated.value > 1.2
    assert stated.interval[0] < 0.6
    assert stated.best < stated.value
    assert stated.floor is not None
    assert stated.floor.upper_95_um > stated.value * 0.7


def test_the_shape_is_recognised() -> None:
    assert state_straightness(X, BOW, budget(), draws=400).family["bow"] > 0.9
    step = np.where(X > 1900.0, 20.0, 0.0) + 0.6 * RNG.normal(size=17)
    assert state_straightness(X, step, budget(), draws=400).family["step"] > 0.8


def test_same_seed_same_bits_and_the_outcome_decides() -> None:
    one, two = (state_straightness(X, BOW, budget(AIR), seed=5) for _ in range(2))
    assert one.outcome.draws.tobytes() == two.outcome.draws.tobytes()
    decision = decide(one.outcome, 40.0)
    assert decision.verdict == "conforms"
    assert decide(one.outcome, one.best).verdict == "undecided"


def test_level_and_tilt_of_the_readings_do_not_matter() -> None:
    plain = state_straightness(X, BOW, budget(AIR), draws=1000)
    moved = state_straightness(X, BOW + 5000.0 + 0.3 * X, budget(AIR), draws=1000)
    assert moved.interval == (
        pytest.approx(plain.interval[0], rel=1e-6),
        pytest.approx(plain.interval[1], rel=1e-6),
    )


def test_drawn_profiles_agree_with_the_readings_within_their_noise() -> None:
    belief = state_straightness(X, BOW, budget(), draws=4000).belief
    at = np.searchsorted(belief.grid_mm, X)
    missing = belief.profile[at] - BOW[:, None]
    assert missing.std(axis=1).max() < 0.62
    assert np.abs(missing.mean(axis=1)).max() < 3 * 0.6


def test_deviation_at_a_station_has_the_readings_uncertainty() -> None:
    wild = BedShapes(bow=0.0, wave=0.0, step=1.0, plateau=0.0, roughness=1.0, roughness_length_mm=50.0)
    believer = Believer(X, 0.6**2 * np.eye(17), wild)
    outcome = believer.belief(BOW, 4000).deviation(2000.0, "end-points")
    # A population that says next to nothing about neighbours leaves the readings alone: end points' line by hand.
    assert outcome.standard_uncertainty == pytest.approx(0.6 * math.sqrt(1.0 + 0.5), rel=0.06)
    assert outcome.mean == pytest.approx(float(straightness(X, BOW, "end-points").deviation_um[8]), abs=0.15)


@pytest.mark.parametrize(
    ("contributions", "key"),
    [
        ((AIR,), "uncertainty.bad_covariance"),
        ((SCATTER, Contribution("roll", Acts.ROLL, 1.0, "mrad")), "uncertainty.contribution_needs"),
        ((SCATTER, Contribution("abbe", Acts.ABBE, 1.0, "mm")), "uncertainty.contribution_needs"),
    ],
)
def test_a_budget_that_does_not_fit_is_refused(contributions: tuple[Contribution, ...], key: str) -> None:
    with pytest.raises(BadInput) as caught:
        state_straightness(X, BOW, Budget("beam", contributions), draws=100)
    assert caught.value.key == key
    assert str(caught.value)


def test_same_bits_for_any_number_of_threads_of_the_linear_algebra() -> None:
    from threadpoolctl import threadpool_limits

    def stated_with(threads: int) -> bytes:
        with threadpool_limits(limits=threads, user_api="blas"):
            return state_straightness(X, BOW, budget(AIR), draws=2000).outcome.draws.tobytes()

    assert stated_with(1) == stated_with(2)
