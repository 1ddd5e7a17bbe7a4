"""The level of pressures that another sentence tells, and sentences that tell it of something else."""

from __future__ import annotations

import pytest
from reading_build import clause, found, read, told


@pytest.mark.parametrize(
    "text",
    [
        "Wind uplift: 76 psf. The figures are already at the allowable stress level.",
        "Wind uplift: 76 psf. These are ASD pressures.",
        "Wind uplift: 76 psf. Values are at service level and are not to be reduced.",
    ],
)
def test_the_sentence_behind_tells_the_level(text: str) -> None:
    assert found(text) == {"uplift.pressure equal -76 psf allowable"}


def test_a_paragraph_tells_the_level_of_the_others_of_its_article() -> None:
    read_ = read(clause("Wind uplift: 76 psf."), clause("Pressures are ultimate (LRFD).", ordinal=1))
    assert [told(item) for item in read_.stated] == ["uplift.pressure equal -76 psf strength"]


@pytest.mark.parametrize(
    "other",
    [
        "Hose tower: 40 psf of wind. Those are ultimate (strength level) pressures.",
        "Safety factor of 1.67 for allowable loads when tested according to ASTM E1592.",
        "Wind speed: 115 mph ultimate.",
    ],
)
def test_what_is_told_of_something_else_is_not_told_of_the_pressures(other: str) -> None:
    read_ = read(clause("Wind uplift: 76 psf."), clause(other, ordinal=1))
    assert told(read_.stated[0]).removesuffix(" !conflict") == "uplift.pressure equal -76 psf"


def test_a_paragraph_may_tell_the_level_of_the_pressures_above_beside_its_own() -> None:
    behind = "The pressures above are for allowable stress design. Toward the roof, use 16 psf."
    read_ = read(clause("Wind uplift: 76 psf."), clause(behind, ordinal=1))
    assert told(read_.stated[0]) == "uplift.pressure equal -76 psf allowable"


@pytest.mark.parametrize(
    "text",
    [
        "Wind speed: 115 mph ultimate (Vult), 89 mph nominal (Vasd).",
        "Ultimate wind speed 115 mph; nominal wind speed 89 mph.",
        "Basic wind speed Vult = 115 mph (Vasd = 89 mph).",
    ],
)
def test_each_of_two_speeds_has_its_own_level(text: str) -> None:
    assert found(text) == {"wind.speed equal 115 mph strength", "wind.speed equal 89 mph allowable"}
