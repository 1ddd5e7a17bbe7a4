"""Whose a value is: the roof panel's, or another thing's that the sentence is about."""

from __future__ import annotations

import pytest
from reading_build import found


@pytest.mark.parametrize(
    "text",
    [
        "Gutters: 26 gage, PVDF finish, supports 36 inches on center.",
        "Ridge covers: 0.050 inch aluminum.",
        "Provide ridge covers of 0.050 inch aluminum.",
        "Thickness for the spire finial: 1.0 mm.",
        "Width of valleys: 24 inches.",
        "Skylights: fiberglass panels, 8 oz per square foot.",
        "Translucent panels: 8 oz fiberglass.",
        "Soldering is permitted only at slopes under 6:12.",
        "Thermal blocks of extruded polystyrene, 1 inch.",
        "Soffit panels: 0.032 inch aluminum, 12 inches wide.",
        "Liner panels shall be 29 gauge steel.",
        "Insulated wall panels: 26 gauge, 42 inch coverage.",
    ],
)
def test_what_another_thing_is_made_of_is_not_the_panels(text: str) -> None:
    assert found(text, "panels") == set()


@pytest.mark.parametrize(
    "text",
    [
        "Wall panels are designed for 24 psf inward and 32 psf outward at corners.",
        "Walls shall withstand 24 psf of wind.",
        "Crane runway deflection is limited to L/600.",
        "Deflection of monorail beams: L/450.",
        "Girts: L/90. Crane beams: L/600.",
        "Skylights shall resist 60 psf uplift.",
        "Fascia and coping shall resist 95 psf outward.",
    ],
)
def test_what_another_thing_resists_is_not_the_roofs(text: str) -> None:
    assert found(text) == set()


def test_the_title_of_an_article_says_whose_its_values_are() -> None:
    assert found("26 gage, PVDF finish, supports 36 inches on center.", "panels", "GUTTERS AND TRIM") == set()
    assert "panel.thickness equal 26 ga" in found("26 gage, PVDF finish.", "panels", "PANELS AND TRIM")


@pytest.mark.parametrize(
    "text",
    [
        "Roof panels, flashings and trim: 24 gauge.",
        "Panels and flashings shall be 24 gauge.",
        "Metal roof and wall panels: 24 gauge.",
        "Panels, flashings, and trim shall be 24 gauge.",
        "Trim: 26 gauge; panels: 24 gauge.",
        "Roof panels shall be 24 gauge.",
    ],
)
def test_a_value_that_panels_share_with_other_things_is_the_panels(text: str) -> None:
    assert found(text, "panels") == {"panel.thickness equal 24 ga"}


def test_a_finish_of_roof_and_wall_panels_is_warranted_for_the_roof() -> None:
    text = "The finish of roof and wall panels shall be warranted for 25 years."
    assert found(text, "warranty", "FINISH WARRANTY") == {"warranty.finish at least 25 years"}


@pytest.mark.parametrize(
    "text",
    [
        "Leave the terne-coated steel roof of the sacristy in place; it is not in this Contract.",
        "Remove existing 26 gauge steel roof panels and felt.",
        "The existing batten seam copper roof over the chapel is to remain.",
        "Existing roof panels are 26 gauge steel.",
        "Roof panels by Owner: 24 gauge steel.",
    ],
)
def test_what_is_there_already_or_others_build_asks_for_nothing(text: str) -> None:
    assert found(text, "summary") == set()


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        (
            "Remove existing 26 gauge roof panels and provide 24 gauge roof panels.",
            {"panel.thickness equal 24 ga"},
        ),
        (
            "Install 24 gauge panels over the existing through-fastened roof of 26 gauge.",
            {"panel.thickness equal 24 ga"},
        ),
        ("Panels: 24 gauge, to match existing.", {"panel.thickness equal 24 ga"}),
        ("Match existing panels, 16 inches wide.", {"panel.width equal 16 in"}),
        ("Existing 22 gauge steel deck is to remain.", {"deck.type required steel deck"}),
    ],
)
def test_new_work_beside_existing_and_the_deck_that_stays_are_read(text: str, asked: set[str]) -> None:
    assert found(text, "panels") == asked
