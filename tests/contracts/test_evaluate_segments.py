"""Segments of a line joined: the truth comes back, and the uncertainty grows along the chain as it does in fact."""

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.links import slope_of_line
from waywright.evaluate.segments import Segment, join_segments

SD_UM = 0.5
# Three set-ups; the stations of the second stand 7 mm from those of the others.
PLACES = (np.linspace(0, 5000, 21), np.linspace(4000, 9000, 21) + 7.0, np.linspace(8000, 13000, 21))
OFFSETS, TILTS = (0.0, 41.0, -77.0), (0.0, -11.0, 23.0)


def truth_um(x_mm: np.ndarray) -> np.ndarray:
    return 20 * np.sin(x_mm / 4000) + 10 * np.cos(x_mm / 6000)


def segments(
    rng: np.random.Generator | None = None, draws: int | None = None, sd: float | None = SD_UM
) -> list[Segment]:
    """Each with an offset at its middle and a tilt about it, to be found and taken out."""
    found = []
    for x, offset, tilt in zip(PLACES, OFFSETS, TILTS, strict=True):
        y = truth_um(x) - offset - tilt * (x - x.mean()) / 1000
        if draws is not None:
            y = y[:, None] + np.zeros(draws)
        noise = 0.0 if rng is None else rng.normal(0, SD_UM, y.shape)
        found.append(Segment(x, y + noise, sd))
    return found


def test_offsets_tilts_and_profile_come_back() -> None:
    """To what straight interpolation over 7 mm of a curve with |y''| < 1.6e-6 um/mm2 and 250 mm steps leaves."""
    joined = join_segments(segments())
    assert joined.offset_um == pytest.approx(OFFSETS, abs=0.02)
    assert joined.tilt_um_per_m == pytest.approx(TILTS, abs=0.02)
    assert joined.value_um == pytest.approx(truth_um(joined.position_mm), abs=0.1)
    assert joined.middle_mm == pytest.approx([2500.0, 6507.0, 10500.0])
    assert joined.agree
    assert [(each.first, each.second) for each in joined.overlaps] == [(1, 2), (2, 3)]
    assert all(each.rms_um < 0.01 for each in joined.overlaps)


def test_a_curved_line_in_segments_has_the_straightness_of_the_whole() -> None:
    joined = join_segments(segments())
    whole = straightness(joined.position_mm, truth_um(joined.position_mm)).value_um
    assert straightness(joined.position_mm, joined.value_um).value_um == pytest.approx(whole, abs=0.1)


def test_the_covariance_is_what_happens() -> None:
    """3000 draws: a standard deviation of 3000 scatters by 1.3 %."""
    many = join_segments(segments(np.random.default_rng(1), 3000))
    seen = np.cov(many.value_um)
    assert many.covariance_um2 is not None
    assert many.standard_uncertainty_um is not None
    assert np.sqrt(np.diag(seen)) == pytest.approx(many.standard_uncertainty_um, rel=0.06)
    far = seen[25, 50] / np.sqrt(seen[25, 25] * seen[50, 50])
    said = many.covariance_um2[25, 50] / np.sqrt(many.covariance_um2[25, 25] * many.covariance_um2[50, 50])
    assert far == pytest.approx(said, abs=0.05)
    assert many.tilt_um_per_m.std(axis=1)[1:] == pytest.approx(many.tilt_sd_um_per_m[1:], rel=0.06)
    assert many.offset_um.std(axis=1)[1:] == pytest.approx(many.offset_sd_um[1:], rel=0.06)


def test_uncertainty_grows_along_the_chain() -> None:
    joined = join_segments(segments())
    spread = joined.standard_uncertainty_um
    assert spread is not None
    assert spread[0] == pytest.approx(SD_UM)
    beyond = spread[joined.position_mm > 9300]
    assert np.all(np.diff(beyond) > 0)
    assert beyond[-1] > 10 * SD_UM
    assert joined.tilt_sd_um_per_m[2] > joined.tilt_sd_um_per_m[1] > joined.tilt_sd_um_per_m[0] == 0.0


def test_about_the_end_points_no_frame_matters() -> None:
    joined = join_segments(segments())
    turned = join_segments(list(reversed(segments())))
    about = joined.covariance_about_end_points_um2()
    other = turned.covariance_about_end_points_um2()
    assert about is not None
    assert about == pytest.approx(other, abs=1e-9)
    assert np.sqrt(np.diag(about)).max() > 4 * SD_UM
    first = straightness(joined.position_mm, joined.value_um, "end-points").deviation_um
    assert first == pytest.approx(straightness(turned.position_mm, turned.value_um, "end-points").deviation_um)


def test_slope_of_the_joined_line_carries_the_covariance() -> None:
    many = join_segments(segments(np.random.default_rng(4), 3000))
    slope = slope_of_line(many.position_mm, many.value_um, many.covariance_um2)
    assert np.std(slope.value_um_per_m) == pytest.approx(slope.standard_uncertainty_um_per_m, rel=0.06)
    naive = slope_of_line(many.position_mm, many.value_um, SD_UM**2)
    assert slope.standard_uncertainty_um_per_m > 5 * naive.standard_uncertainty_um_per_m


def test_overlaps_that_disagree_are_said_to() -> None:
    bad = segments(np.random.default_rng(2))
    bent = np.array(bad[1].value_um)
    bent[:5] += np.array([0, 4.0, -4.0, 4.0, 0])
    joined = join_segments([bad[0], Segment(bad[1].position_mm, bent, SD_UM), bad[2]])
    assert joined.agree is False
    assert joined.overlaps[0].rms_um > 2 * joined.overlaps[1].rms_um


def test_sound_overlaps_are_called_bad_as_rarely_as_stated() -> None:
    """1 % of 120 is 1.2; more than 6 has a chance of 3e-4."""
    rng = np.random.default_rng(7)
    assert sum(join_segments(segments(rng)).agree is False for _ in range(120)) <= 6


def test_without_standard_deviations_the_overlaps_say_the_scatter() -> None:
    joined = join_segments(segments(np.random.default_rng(3), sd=None))
    assert joined.agree is None
    assert joined.standard_uncertainty_um is not None
    assert 0.15 < joined.standard_uncertainty_um[0] < 1.2
    assert joined.standard_uncertainty_um[0] == pytest.approx(joined.residual_sd)


def test_a_short_overlap_is_refused_by_name() -> None:
    apart = [Segment(PLACES[0], PLACES[0] * 0), Segment(PLACES[0] + 4950.0, PLACES[0] * 0)]
    with pytest.raises(BadInput, match=r"Segment 2 \(4950 to 9950 mm\) shares 1 stations"):
        join_segments(apart)
    with pytest.raises(BadInput, match="shares 0 stations"):
        join_segments([Segment(PLACES[0], PLACES[0] * 0), Segment(PLACES[2], PLACES[2] * 0)])


def test_one_segment_is_itself() -> None:
    joined = join_segments(segments()[:1])
    assert joined.value_um == pytest.approx(truth_um(PLACES[0]))
    assert joined.overlaps == ()
    assert joined.standard_uncertainty_um == pytest.approx(np.full(21, SD_UM))


def test_what_cannot_be_joined_is_refused() -> None:
    with pytest.raises(BadInput, match="no segment"):
        join_segments([])
    with pytest.raises(BadInput, match="above zero"):
        join_segments([Segment(PLACES[0], PLACES[0], 0.0)])
    with pytest.raises(BadInput, match="different numbers of draws"):
        join_segments([Segment(PLACES[0], PLACES[0]), Segment(PLACES[1], np.zeros((21, 4)))])
