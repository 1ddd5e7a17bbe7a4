"""Labels that need their heading or give the unit, and verbs that stand for nouns: common practice, no source."""

from __future__ import annotations

import pytest
from reading_build import found


@pytest.mark.parametrize(
    ("text", "stated"),
    [
        ("Spacing: Not more than 24 inches on center.", {"clip.spacing at most 24 in"}),
        ("Spacing: 24\" o.c. max. Zone 1; 16\" o.c. Zone 2.",
         {"clip.spacing at most 24 in @zone 1", "clip.spacing at most 16 in @zone 2"}),
        ("Spacing: As indicated on Drawings.", {"clip.spacing at most - !defers to drawings"}),
        ("Clip spacing, in inches: field 16, corners 6.",
         {"clip.spacing at most 16 in @field", "clip.spacing at most 6 in @corners"}),
        ("Clip spacing (in.): 24 at field, 12 at corners.",
         {"clip.spacing at most 24 in @field", "clip.spacing at most 12 in @corners"}),
        ("Screws: spacing 12 inches.", set()),
        ("Screw spacing, in inches: 12.", set()),
        ("Thickness: 18 gauge.", set()),
    ],
)  # fmt: skip
def test_under_clips_and_fasteners(text: str, stated: set[str]) -> None:
    assert found(text, "clips") == stated


@pytest.mark.parametrize(
    ("text", "article", "stated"),
    [
        ("Thickness (gauge): 24.", "panels", {"panel.thickness equal 24 ga"}),
        ("Seam height, inches: 2. Width, inches: 16.", "panels",
         {"panel.seam_height equal 2 in", "panel.width equal 16 in"}),
        ("Wind speed, mph: 120.", "performance", {"wind.speed equal 120 mph"}),
        ("Weathertight warranty, years: 20.", "warranty", {"warranty.weathertight at least 20 years"}),
        ("Snow guard spacing, inches: 16.", "panels", set()),
    ],
)  # fmt: skip
def test_a_label_gives_the_unit(text: str, article: str, stated: set[str]) -> None:
    assert found(text, article) == stated


@pytest.mark.parametrize(
    ("text", "stated"),
    [
        ("Standing seams: 1-1/2 inches minimum height.", {"panel.seam_height at least 1.5 in"}),
        (
            "The seam shall stand two and three-eighths inches above the pan.",
            {"panel.seam_height equal 2.375 in"},
        ),
        ("Panels with seams that rise 2 inches.", {"panel.seam_height equal 2 in"}),
        ("Minimum height of the standing seams is 2 inches.", {"panel.seam_height at least 2 in"}),
        ("Each panel shall cover eighteen inches.", {"panel.width equal 18 in"}),
        ("Width: 12 inches seam to seam.", {"panel.width equal 12 in"}),
        ("Panels cover 16 inches, seam to seam.", {"panel.width equal 16 in"}),
        ("Pans shall be 18 inches between seams.", {"panel.width equal 18 in"}),
        (
            "Panel coverage 16 inches, seam 2 inches high.",
            {"panel.width equal 16 in", "panel.seam_height equal 2 in"},
        ),
        ("16 inch coverage 2 inch height.", {"panel.width equal 16 in", "panel.seam_height equal 2 in"}),
        ("Snow guards stand 3 inches high.", set()),
        ("Curbs shall stand 8 inches above the pan.", set()),
        ("Flashings shall cover 4 inches of the panel.", set()),
    ],
)
def test_verbs_and_neighbours_of_panel_sizes(text: str, stated: set[str]) -> None:
    assert found(text, "panels") == stated


@pytest.mark.parametrize(
    ("text", "metals"),
    [
        ("Panels: zinc-aluminum coated steel, coating class AZ50, or aluminum.", {"one of steel or aluminum"}),
        ("Panels shall be steel or aluminum.", {"one of steel or aluminum"}),
        ("Panel material: galvanized steel, G90, aluminum, 0.040 inch, or copper, 16 oz.",
         {"one of steel or aluminum or copper"}),
        ("Panel material: aluminum or zinc.", {"one of aluminum or zinc"}),
        ("Roof panels: 24 gauge steel; 0.032 inch aluminum may be used.",
         {"required steel", "required aluminum !optional"}),
        ("Coating: aluminum-zinc or zinc.", set()),
        ("Fasteners shall be stainless steel or aluminum.", set()),
        ("Keep panels from contact with copper or steel.", set()),
    ],
)  # fmt: skip
def test_a_choice_of_metals_across_their_qualifiers(text: str, metals: set[str]) -> None:
    told = {
        one.removeprefix("panel.material ")
        for one in found(text, "panels")
        if one.startswith("panel.material")
    }
    assert told == metals


def test_a_title_and_what_stands_under_it_are_not_one_thing() -> None:
    assert found("Clips at 24 inches o.c.", "panels") == {"clip.spacing at most 24 in"}
    assert found("Screws at 24 inches o.c.", "panels") == set()
