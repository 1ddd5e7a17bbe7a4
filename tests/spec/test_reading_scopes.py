"""Which roof and which bid a value is for: named before it or behind it, by letter, by use, part or metal."""

from __future__ import annotations

import pytest
from reading_build import clause, found, read, told


def warranties(text: str) -> list[str]:
    """The weathertightness periods that one paragraph states, in their order."""
    return [
        told(item).removeprefix("warranty.weathertight at least ")
        for item in read(clause(text, "warranty")).stated
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Weathertightness warranty: 20 years on Roof A; 10 years on Roof B.",
        "Weathertightness warranty: 20 years, Roof A. Weathertightness warranty: 10 years, Roof B.",
        "Weathertightness warranty for Roof A: 20 years; for Roof B: 10 years.",
        "Provide a weathertightness warranty for 20 years at Roof A and for 10 years at Roof B.",
    ],
)
def test_a_value_is_for_the_roof_that_its_own_words_name(text: str) -> None:
    assert warranties(text) == ["20 years [Roof A]", "10 years [Roof B]"]


@pytest.mark.parametrize(
    "text",
    [
        "Weathertightness warranty on Roofs A and B: 20 years.",
        "Roof A and Roof B: weathertightness warranty of 20 years.",
        "Provide a 20 year weathertightness warranty at Roof A and Roof B.",
    ],
)
def test_roofs_named_together_have_the_value_each(text: str) -> None:
    assert warranties(text) == ["20 years [Roof A]", "20 years [Roof B]"]


def test_an_exception_names_the_roof_of_its_own_value_alone() -> None:
    assert warranties("Weathertightness warranty: 20 years, except 10 years on Roof B.") == [
        "20 years",
        "10 years [Roof B]",
    ]


def test_a_roof_named_behind_two_directions_is_both_of_theirs() -> None:
    assert found("Resist 20 psf inward and 45 psf outward at Roof A.") == {
        "uplift.pressure equal 20 psf [Roof A]",
        "uplift.pressure equal -45 psf [Roof A]",
    }


@pytest.mark.parametrize(
    ("text", "main", "other"),
    [
        ("Wind uplift: UL 90. At canopy roofs, UL 60 is sufficient.", "", " [canopy roofs]"),
        ("UL 90 for the main roof and UL 60 for the entrance canopy.", " [main roof]", " [entrance canopy]"),
        ("The copper roof shall be UL 90. The zinc roof shall be UL 60.", " [copper roof]", " [zinc roof]"),
        ("Gymnasium roof: UL 90. Cafeteria roof: UL 60.", " [Gymnasium roof]", " [Cafeteria roof]"),
        ("The nave shall be UL 90; the spire shall be UL 60.", " [nave]", " [spire]"),
    ],
)
def test_a_roof_named_by_use_part_or_metal_is_told_from_another(text: str, main: str, other: str) -> None:
    assert found(text) == {f"uplift.class at least 90{main}", f"uplift.class at least 60{other}"}


@pytest.mark.parametrize(
    "text",
    [
        "The copper roof shall be UL 90.",
        "Both roofs: UL 90.",
        "All roof areas shall be UL 90.",
        "The standing seam metal roof shall be UL 90.",
        "The gymnasium roof shall be UL 90.",
        "At the completed roof, UL 90.",
    ],
)
def test_the_only_roof_by_whatever_name_is_no_limit(text: str) -> None:
    assert found(text) == {"uplift.class at least 90"}


@pytest.mark.parametrize(
    ("text", "scope"),
    [
        ("Panel type: 1-1/2 inch high seam.", ""),
        ("Panel Type 1: 1-1/2 inch high seam.", " [Panel Type 1]"),
        ("Panel Type RP-1: 1-1/2 inch high seam.", " [Panel Type RP-1]"),
        ("Roof System: 1-1/2 inch high seam.", ""),
    ],
)
def test_a_number_behind_a_title_is_no_designation(text: str, scope: str) -> None:
    assert found(text, "panels") == {f"panel.seam_height equal 1.5 in{scope}"}


def test_a_number_that_measures_is_no_second_roof() -> None:
    assert found("Slope is 1/4 inch per foot on Roof A and 3 in 12 on Roof B.") == {
        "roof.slope equal 0.02083 [Roof A]",
        "roof.slope equal 0.25 [Roof B]",
    }


@pytest.mark.parametrize(
    "text",
    [
        "Provide 24 gauge panels for the base bid and 22 gauge panels for Alternate No. 1.",
        "Base Bid: 24 gauge panels. Alternate No. 1: 22 gauge panels.",
        "Panel thickness: 24 gauge (base bid); 22 gauge (Alternate 1).",
    ],
)
def test_base_bid_and_alternate_have_their_own_values(text: str) -> None:
    assert found(text, "panels") == {
        "panel.thickness equal 24 ga [base bid]",
        "panel.thickness equal 22 ga [Alternate No. 1] !alternate",
    }
