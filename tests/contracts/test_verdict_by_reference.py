import numpy as np

from waywright.evaluate import straightness
from waywright.uncertainty import Acts, Budget, Contribution, state_straightness
from waywright.verdict import decide_by_reference, depends_on_reference
from waywright.wording import text

X = np.linspace(0.0, 3000.0, 16)
# One full wave: the end points' line keeps both halves, the minimum zone tilts and cuts them.
UM = 10.0 * np.sin(2.0 * np.pi * X / 3000.0)
QUIET = Budget("beam", (Contribution("scatter", Acts.READING, 0.05, "um"),))


def test_a_verdict_that_depends_on_the_line_says_so() -> None:
    belief = state_straightness(X, UM, QUIET, draws=400).belief
    values = {r: straightness(X, UM, r).value_um for r in ("end-points", "minimum-zone")}
    assert values["end-points"] > values["minimum-zone"] + 2.0
    decisions = decide_by_reference(belief, (values["end-points"] + values["minimum-zone"]) / 2.0)
    assert decisions["minimum-zone"].verdict == "conforms"
    assert decisions["end-points"].verdict == "does not conform"
    facts = depends_on_reference(decisions)
    assert facts is not None
    assert "end-points: does not conform" in text("verdict.depends_on_reference", **facts)


def test_far_from_the_limit_it_does_not_matter() -> None:
    belief = state_straightness(X, UM, QUIET, draws=400).belief
    assert depends_on_reference(decide_by_reference(belief, 100.0)) is None
