import numpy as np

from waywright.evaluate import straightness
from waywright.uncertainty import Acts, Budget, Contribution, state_straightness
from waywright.verdict import decide_straightness, tolerance
from waywright.wording import text

X = np.linspace(0.0, 3000.0, 16)
# One full wave: the end points' line keeps both halves, the minimum zone tilts and cuts them.
UM = 10.0 * np.sin(2.0 * np.pi * X / 3000.0)
QUIET = Budget("beam", (Contribution("scatter", Acts.READING, 0.05, "um"),))
BELIEF = state_straightness(X, UM, QUIET, draws=400).belief


def test_a_verdict_that_depends_on_the_line_says_so() -> None:
    values = {r: float(straightness(X, UM, r).value_um) for r in ("end-points", "minimum-zone")}
    assert values["end-points"] > values["minimum-zone"] + 2.0
    rule = tolerance(f"{(values['end-points'] + values['minimum-zone']) / 2e3:.5f}")
    by_zone, by_ends = (decide_straightness(rule, BELIEF, name) for name in ("minimum-zone", "end-points"))
    assert by_zone.decision is not None
    assert by_zone.decision.verdict == "conforms"
    assert by_ends.decision is not None
    assert by_ends.decision.verdict == "does not conform"
    for found in (by_zone, by_ends):
        assert found.warning is not None
        assert "end-points: does not conform" in text(found.warning.key, **found.warning.facts)


def test_far_from_the_limit_it_does_not_matter() -> None:
    assert decide_straightness(tolerance("0.1"), BELIEF, "end-points").warning is None


def test_a_rule_that_needs_the_curve_gets_a_probability_too() -> None:
    # In a window of 600 mm, a fifth of the wave, the curve bends by at most 10 um (1 - cos 36 deg) = 1.9 um.
    tight, even, wide = (
        decide_straightness(tolerance(f"{limit} over any 600"), BELIEF, "end-points").decision
        for limit in (0.0015, 0.0019, 0.0025)
    )
    assert tight is not None
    assert even is not None
    assert wide is not None
    assert (tight.verdict, wide.verdict) == ("does not conform", "conforms")
    assert tight.probability_of_conformity <= even.probability_of_conformity <= wide.probability_of_conformity


def test_several_parts_are_judged_together_and_one_that_cannot_be_is_named() -> None:
    both = decide_straightness(tolerance("0.1 and convex only"), BELIEF, "end-points", positive="up")
    assert both.decision is not None
    assert both.decision.verdict == "does not conform"  # half of a full wave lies below its ends
    unknown = decide_straightness(tolerance("0.1 and convex only"), BELIEF, "end-points")
    assert unknown.decision is None
    assert [reason.key for reason in unknown.unjudged] == ["verdict.not_judged_needs_direction"]
    leading = decide_straightness(tolerance("0.1, rising towards the tool"), BELIEF, "end-points", positive="up")
    assert [reason.key for reason in leading.unjudged] == ["verdict.not_judged_needs_slope"]


def test_a_bow_is_convex_where_the_readings_prove_it() -> None:
    bow = 20.0 * (1.0 - (X / 1500.0 - 1.0) ** 2)
    clear = state_straightness(X, bow, QUIET, draws=400).belief
    found = decide_straightness(tolerance("convex only"), clear, "end-points", positive="up").decision
    assert found is not None
    assert found.verdict == "conforms"
    assert found.probability_of_conformity > 0.99
    turned = decide_straightness(tolerance("convex only"), clear, "end-points", positive="down").decision
    assert turned is not None
    assert turned.verdict == "does not conform"
