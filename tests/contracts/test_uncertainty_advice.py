import numpy as np

from waywright.uncertainty import Acts, Budget, Contribution, Measured, what_would_help
from waywright.wording import text

X = np.linspace(0.0, 5000.0, 16)
BOW = 25.0 * (1.0 - (X / 2500.0 - 1.0) ** 2) + 0.3 * np.random.default_rng(8).normal(size=16)
SCATTER = Contribution("scatter", Acts.READING, 0.3, "um")


def test_the_largest_contribution_is_named_first() -> None:
    air = Contribution("air", Acts.AIR_GRADIENT, 1.0, "K/m", "rectangular")
    actions = what_would_help(Measured(X, BOW), Budget("beam", (SCATTER, air)), draws=2000)
    assert actions[0].key == "uncertainty.help_air"
    assert actions[0].expanded_after_um < 0.6 * actions[0].expanded_before_um
    assert [a.expanded_after_um for a in actions] == sorted(a.expanded_after_um for a in actions)


def test_scatter_is_helped_by_passes_or_averaging_and_every_action_has_a_sentence() -> None:
    noisy = Budget("beam", (Contribution("scatter", Acts.READING, 3.0, "um"),))
    actions = what_would_help(Measured(X, BOW), noisy, averaging_s=2.0, draws=2000)
    assert {"uncertainty.help_passes", "uncertainty.help_averaging"} <= {action.key for action in actions}
    for action in actions:
        assert action.expanded_after_um < action.expanded_before_um
        assert text(action.key, **action.facts).endswith(".")
