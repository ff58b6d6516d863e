"""Properties of tolerance rules: printing and reading, monotony, and that nothing crashes the reader."""

import math
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from waywright.errors import BadInput
from waywright.verdict import Rule, tolerance
from waywright.verdict.rule_records import (
    Angle,
    Fixed,
    Further,
    Lean,
    Limit,
    Ratio,
    Shape,
    Slope,
    Step,
    Steps,
    Trim,
)

amounts = st.floats(1e-5, 10.0)
lengths = st.floats(1.0, 1e5)
maybe = st.none() | amounts
places = st.sampled_from(["the tool", "the operator", "the headstock", "rear way", "spindle's nose", "Bettschlitten"])
directions = st.sampled_from(["up", "down", "towards the operator", "away from the operator", "towards the tool"])


@st.composite
def trims(draw: st.DrawFn) -> Trim:
    floor, ceiling = draw(maybe), draw(maybe)
    if floor is not None and ceiling is not None:
        floor, ceiling = sorted((floor, ceiling))
    return Trim(draw(st.none() | st.floats(0.1, 10.0)), draw(maybe), floor, ceiling)


@st.composite
def steps(draw: st.DrawFn) -> Steps:
    count = draw(st.integers(1, 5))
    limits = sorted(draw(st.lists(amounts, min_size=count, max_size=count)))
    ends = sorted(draw(st.lists(lengths, min_size=count, max_size=count, unique=True)))
    further = st.builds(Further, amounts, lengths, st.booleans())
    return Steps(tuple(map(Step, limits, ends)), draw(st.none() | further))


single = st.builds(Fixed, amounts) | st.builds(Ratio, amounts, lengths)
angles = st.builds(Angle, st.floats(0.01, 1e4), st.sampled_from(["arcsec", "um/m", "urad", "mm/m", "mrad", "deg"]))
limits = st.builds(Limit, single | angles | steps(), st.none(), trims())
local = st.builds(Limit, single | angles, lengths, trims())
sided = (
    st.builds(Shape, st.booleans())
    | st.builds(Slope, st.booleans(), places.filter(str.islower))
    | st.builds(Lean, directions)
)
rules = st.lists(limits | local | sided, min_size=1, max_size=4).map(lambda parts: Rule(tuple(parts)))


@given(rules)
@settings(max_examples=400)
def test_a_printed_rule_reads_back_as_the_same_rule(rule: Rule) -> None:
    assert tolerance(str(rule)) == rule


@given(rules)
def test_the_normal_form_is_its_own_normal_form_and_capitals_do_not_matter(rule: Rule) -> None:
    assert str(tolerance(str(rule))) == str(rule)
    assert tolerance(str(rule).upper()) == rule


@given(limits, lengths, lengths)
@settings(max_examples=400)
def test_a_longer_line_is_never_allowed_less(limit: Limit, a: float, b: float) -> None:
    shorter, longer = sorted((a, b))
    rule = tolerance(str(limit))
    try:
        wider = rule.limit_um(longer)
    except BadInput:  # beyond the last step
        return
    assert rule.limit_um(shorter) <= wider + 1e-9 * wider
    assert math.isfinite(wider)
    assert wider >= 0.0


@given(limits, lengths, st.floats(1.0, 4.0))
def test_a_wider_class_never_allows_less(limit: Limit, length: float, factor: float) -> None:
    rule = Limit(limit.base, None, Trim(1.0, limit.trim.nearest_mm, limit.trim.at_least_mm, limit.trim.max_mm))
    wider = Limit(limit.base, None, Trim(factor, limit.trim.nearest_mm, limit.trim.at_least_mm, limit.trim.max_mm))
    try:
        assert Rule((rule,)).limit_um(length) <= Rule((wider,)).limit_um(length) * (1 + 1e-9)
    except BadInput:
        return


@given(limits, lengths, maybe.filter(bool), maybe.filter(bool))
def test_floor_and_ceiling_hold(limit: Limit, length: float, a: float, b: float) -> None:
    floor, ceiling = sorted((a, b))
    rule = Rule((Limit(limit.base, None, Trim(None, limit.trim.nearest_mm, floor, ceiling)),))
    try:
        assert floor * 1e3 * (1 - 1e-12) <= rule.limit_um(length) <= ceiling * 1e3 * (1 + 1e-12)
    except BadInput:
        return


@given(limits, limits, lengths)
def test_of_several_limits_the_smallest_counts(one: Limit, other: Limit, length: float) -> None:
    try:
        both = Rule((one, other)).limit_um(length)
    except BadInput:
        return
    assert both == min(Rule((one,)).limit_um(length), Rule((other,)).limit_um(length))


@given(st.text(max_size=60))
@settings(max_examples=1000)
def test_no_text_crashes_the_reader(text: str) -> None:
    _read(text)


_WORDS = """
0.02 1000 500 .5 0 9e9 , , + / ( ) ; and up to over any per further or part max at least the nearest class factor
convex concave only rising falling towards leaning tool mm um µm arcsec um/m mm/m in - § ″
"""


def test_a_hundred_thousand_texts_of_trade_words_never_crash_the_reader() -> None:
    words = [*_WORDS.split(), "to the nearest", "over any", "up to", "per further"]
    pick = random.Random(20)
    rules_read = 0
    for _ in range(100_000):
        text = " ".join(pick.choices(words, k=pick.randrange(1, 9)))
        rules_read += _read(text)
    assert rules_read > 500  # the words do make rules, so the round trip above is tried too


def _read(text: str) -> bool:
    """Whether the text is a rule; a refusal must show its place within the text, a rule must read back."""
    try:
        rule = tolerance(text)
    except BadInput as refusal:
        position = refusal.facts.get("position")
        assert position is None or (isinstance(position, int) and 1 <= position <= len(text) + 1)
        return False
    assert tolerance(str(rule)) == rule
    return True
