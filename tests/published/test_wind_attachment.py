"""Screw strengths, safety factors and ratings against printed or worked values, each with its source."""

from __future__ import annotations

import pytest

from cleatmark.uplift.factors import (
    LEAST_FACTOR,
    factor_from_scatter,
    fm_rating_needed,
    statistical_factor,
)
from cleatmark.uplift.screws import clip_check, clip_load, pull_out, pull_over, withdrawal


@pytest.mark.parametrize(
    ("diameter", "thickness", "strength", "printed"),
    [
        (0.19, 0.018, 45, 44),
        (0.19, 0.030, 45, 73),
        (0.19, 0.048, 45, 116),
        (0.19, 0.060, 45, 145),
        (0.216, 0.024, 45, 66),
        (0.216, 0.048, 45, 132),
        (0.25, 0.060, 45, 191),
        (0.25, 0.105, 45, 335),
    ],
)
def test_pull_out_as_printed(diameter: float, thickness: float, strength: float, printed: float) -> None:
    """An ICC-ES evaluation report's fastener table, pull-out over 3.0, printed to the pound."""
    assert pull_out(diameter, thickness, strength).allowable_lb == pytest.approx(printed, abs=0.5)


@pytest.mark.parametrize(("strength", "printed"), [(58, 1.29), (65, 1.44)])
def test_pull_out_multiplier(strength: float, printed: float) -> None:
    """The same table's multipliers for other tensile strengths, printed to two decimals."""
    ratio = pull_out(0.19, 0.03, strength).allowable_lb / pull_out(0.19, 0.03, 45).allowable_lb
    assert ratio == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(("head", "thickness", "printed"), [(0.399, 0.030, 805), (0.500, 0.048, 1620)])
def test_pull_over_ultimate(head: float, thickness: float, printed: float) -> None:
    """A fastener table's ultimate values, Fu 45 ksi, printed to 5 lb."""
    assert pull_over(head, thickness, 45).allowable_lb * 3.0 == pytest.approx(printed, abs=3.5)


def test_pull_over_counts_no_head_wider_than_three_quarters() -> None:
    """AISI S100 J4.4."""
    assert pull_over(1.25, 0.048, 45).allowable_lb == pull_over(0.75, 0.048, 45).allowable_lb


@pytest.mark.parametrize(
    ("diameter", "gravity", "per_inch"), [(0.19, 0.50, 135.4), (0.216, 0.42, 108.6), (0.242, 0.55, 208.6)]
)
def test_withdrawal_per_inch(diameter: float, gravity: float, per_inch: float) -> None:
    """NDS 12.2.2, W = 2850 G² D; from memory, and the formula's use printed in a wood science paper."""
    assert withdrawal(diameter, gravity, 1.0).allowable_lb / 1.6 == pytest.approx(per_inch, abs=0.2)


def test_withdrawal_of_one_inch_as_printed() -> None:
    """A reference page's table: No. 10, G 0.45, one inch of thread: 109 lb before the duration factor."""
    assert withdrawal(0.19, 0.45, 1.0).allowable_lb / 1.6 == pytest.approx(109, abs=1)


def test_the_deck_caps_the_thread() -> None:
    """15/32 in plywood, No. 10, G 0.42, CD 1.6: 71.7 lb; worked from NDS 12.2.2."""
    assert withdrawal(0.19, 0.42, 1.5, 15 / 32).allowable_lb == pytest.approx(71.7, abs=0.3)


def test_load_on_a_clip() -> None:
    """Mechanics: 52.5 psf x 16 in x 24 in / 144 = 140 lb; two screws of 71.7 lb hold."""
    assert clip_load(-52.5, 16, 24) == pytest.approx(140.0)
    found = clip_check(52.5, 16, 24, 2, withdrawal(0.19, 0.42, 0.469))
    assert found.capacity_lb == pytest.approx(143.4, abs=0.1)
    assert found.verdict == "holds"
    assert "Advisory" in found.note
    assert clip_check(52.5, 16, 24, 1, withdrawal(0.19, 0.42, 0.469)).verdict == "exceeds"


def test_the_weakest_strength_governs() -> None:
    found = clip_check(20, 16, 24, 2, pull_out(0.19, 0.03, 45), pull_over(0.5, 0.048, 45))
    assert found.governing == "pull-out"
    assert found.capacity_lb == pytest.approx(2 * pull_out(0.19, 0.03, 45).allowable_lb)


def test_statistical_factor_of_anchors() -> None:
    """Worked by hand: n 15, VP 0.05 taken as 0.065: CP 1.244, root 0.2414, phi 0.915, omega 1.75. From memory."""
    found = factor_from_scatter(15, 0.05, "anchor")
    assert found.omega == pytest.approx(1.75, abs=0.005)
    assert found.confidence == "medium"


def test_statistical_factor_has_a_floor() -> None:
    """Worked by hand: the same tests failing in bending give 1.574, and 1.67 is the least (AISI S100 I6.3.1)."""
    assert factor_from_scatter(15, 0.05, "panel").omega == LEAST_FACTOR


def test_fewer_than_three_tests() -> None:
    """AISI S100 I6.3.1, from memory: 2.0."""
    assert statistical_factor([104.0], "panel").omega == 2.0
    assert statistical_factor([104.0, 110.0], "anchor").omega == 2.0
    assert statistical_factor([110.0, 112.0, 114.0, 113.0], "anchor").omega < 2.0


def test_scatter_raises_the_factor() -> None:
    assert factor_from_scatter(6, 0.20, "anchor").omega > factor_from_scatter(6, 0.07, "anchor").omega


@pytest.mark.parametrize(
    ("demand", "rating"),
    [(41, "1-90"), (45, "1-90"), (45.1, "1-105"), (30, "1-60"), (52.5, "1-105"), (10, "1-60"), (75, "1-150")],
)
def test_rating_needed(demand: float, rating: str) -> None:
    """FM 4471 steps of 15 psf, twice the demand, from memory: 2 x 41 = 82 needs 1-90."""
    assert fm_rating_needed(demand).rating == rating
