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
