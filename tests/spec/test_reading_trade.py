"""Ways of writing that the trade has for one thing, and what looks like it and is another's."""

from __future__ import annotations

import pytest
from reading_build import clause, found, read, told

STATED: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    # what is refused is not permitted
    ("manufacturers", "No substitution will be considered.", ("substitution required no substitutions",)),
    ("manufacturers", "No substitutions will be permitted after bids are received.",
     ("substitution required not after bids",)),
    # what another standard is tested by refuses nothing
    ("performance", "Water: no leakage per ASTM E1646 at 6.24 psf.", ("water.test required ASTM E1646",)),
    ("performance", "UL 580 Class 90 listing alone is not acceptable.", ()),
    # zones and values in their order
    ("performance", "Design wind uplift at Zones 1, 2 and 3: 40, 55, 70 psf, respectively.",
     ("uplift.pressure equal -40 psf @zone 1", "uplift.pressure equal -55 psf @zone 2",
      "uplift.pressure equal -70 psf @zone 3")),
    ("performance", "Wind uplift pressures for fields, perimeters and corners of 40, 55 and 70 psf respectively.",
     ("uplift.pressure equal -40 psf @fields", "uplift.pressure equal -55 psf @perimeters",
      "uplift.pressure equal -70 psf @corners")),
    # a cleat holds a pan as a clip does; those of edges and flashings hold no pan
    ("clips", "Fasten pans to deck with cleats spaced 12 inches on center.", ("clip.spacing at most 12 in",)),
    ("clips", "Cleats: 2 inches wide, 16 oz copper, at 12 inches o.c.", ("clip.spacing at most 12 in",)),
    ("accessories", "Edge cleats: Secure at 12 inches on center.", ()),
    ("installation", "Continuous cleats at eaves nailed 3 inches o.c.", ()),
    ("installation", "Install flashing with fasteners at 12 inches on center and cleats at 24 inches on center.", ()),
    ("clips", "Clips: one at each purlin.", ("clip.spacing required - !no value",)),
    # grades of sheet by their yield: below 100 ksi, above MPa (ASTM A653/A653M, from memory)
    ("materials", "Roof panels: Grade 50 (SS).", ("panel.yield_strength at least 50 ksi",)),
    ("materials", "Roof panels: Grade 230.", ("panel.yield_strength at least 33.36 ksi",)),
    ("materials", "Roof panels: Grade 33.", ("panel.yield_strength at least 33 ksi",)),
    ("materials", "Roof panels: minimum yield 345 MPa.", ("panel.yield_strength at least 50.04 ksi",)),
    ("materials", "Purlins: Grade 50.", ()),
    # asked for, and no value given
    ("performance", "Provide an FM windstorm rating.", ("uplift.fm_rating required - !no value",)),
    ("performance", "Provide a UL wind uplift rating.", ("uplift.class required - !no value",)),
    ("warranty", "Provide the manufacturer's weathertightness warranty.",
     ("warranty.weathertight required - !no value",)),
    ("warranty", "Weathertightness warranty: 20 years.", ("warranty.weathertight at least 20 years",)),
    ("warranty", "Provide the manufacturer's weathertightness warranty. Period: 20 years.",
     ("warranty.weathertight at least 20 years",)),
    # fire
    ("performance", "Class A when tested to ASTM E108.", ("fire.class required Class A",)),
    ("performance", "Class A exterior fire exposure rating.", ("fire.class required Class A",)),
    ("performance", "Wind exposure: Exposure Class C.", ("wind.exposure equal C",)),
    # thickness
    ("materials", "Panels: 24 gauge (0.0236 inch) minimum base metal.", ("panel.thickness at least 24 ga",)),
    ("materials", "Panels: nominal 0.024 in. thick.", ("panel.thickness equal 0.024 in",)),
    ("materials", "Add Alternate 2: 0.040 inch aluminum panels in lieu of 24 gauge steel panels.",
     ("panel.thickness equal 0.04 in [Alternate No. 2] !alternate",
      "panel.material required aluminum [Alternate No. 2] !alternate")),
    # listings
    ("performance", "Assembly shall be listed in the directory of UL.", ("listing_body required UL",)),
    ("performance", "Panels shall bear the UL label.", ("listing_body required UL",)),
    ("performance", "The assembly shall carry an Underwriters Laboratories wind uplift classification of 90, "
     "Construction No. 000.", ("listing_body required UL", "uplift.class at least 90")),
    ("performance", "FM 4471 approval is required.", ("approval required FM", "uplift.test required FM 4471")),
    # what lies under a sheet is asked for elsewhere
    ("installation", "Over the felt: rosin-sized paper.", ("underlayment.type required slip sheet",)),
    ("installation", "Provide one layer of No. 30 felt.", ("underlayment.type required felt",)),
    # of another part of the building
    ("performance", "Wall panels shall withstand wind suction of 35 psf.", ()),
    ("performance", "Roof hatch: 40 psf live load with 20 psf wind uplift.", ()),
    ("performance", "Wall panels and roof panels shall withstand wind uplift of 30 psf.",
     ("uplift.pressure equal -30 psf",)),
    ("clips", "Fasteners: two per clip at 12 inches.", ()),
    # years that are no term
    ("warranty", "Manufacturer in business for at least 15 years shall provide a warranty.", ()),
    # what is refused for a use is not itself refused
    ("performance", "UL 580 is not acceptable for open framing.", ("uplift.test prohibited UL 580 !prohibited",)),
    ("panels", "Exposed fasteners are not permitted.",
     ("panel.seam_type prohibited through-fastened lap !prohibited",)),
    ("panels", "Exposed fasteners shall be painted to match.", ()),
    ("installation", "Where the Drawings show greater pressures, provide the greater.",
     ("precedence required more stringent governs",)),
    ("panels", "Finish: pre-weathered.", ("panel.finish required pre-weathered",)),
    ("submittals", "Submit brochures.", ("submittal required product data",)),
    # categories
    ("performance", "Design wind speed 118 mph, Category II, Exposure B.",
     ("wind.speed equal 118 mph", "wind.risk_category equal II", "wind.exposure equal B")),
    ("performance", "Wind speeds: 115 mph ultimate (Vult), 89 mph nominal (Vasd).",
     ("wind.speed equal 115 mph strength", "wind.speed equal 89 mph allowable")),
)  # fmt: skip


@pytest.mark.parametrize(("article", "text", "states"), STATED)
def test_a_paragraph_states_exactly_this(article: str, text: str, states: tuple[str, ...]) -> None:
    assert found(text, article) == set(states)


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("Clips: Two-piece floating.", "Two-piece floating"),
        ("Sheet: Steel.", "Steel"),
        ("Panels: 24 gauge.", "24 gauge"),
    ],
)
def test_the_words_of_a_value_hold_no_label(text: str, written: str) -> None:
    assert [item.text for item in read(clause(text, "materials")).stated] == [written]


def test_a_rating_asked_for_in_one_clause_and_given_in_another_is_not_open() -> None:
    both = read(clause("Provide an FM windstorm rating."), clause("FM rating: 1-90.", ordinal=1))
    assert [told(item) for item in both.stated] == ["uplift.fm_rating at least 1-90"]


def test_a_bound_that_leads_to_a_list_is_each_items() -> None:
    lead = "Resist not less than the following wind uplift pressures:"
    assert found("Corners: 60 psf", "performance", lead) == {"uplift.pressure at least -60 psf @corners"}


def test_a_listing_that_rests_on_a_test_is_a_listing() -> None:
    listed = "Panels shall be listed by UL as having been tested per UL 580, Class 90."
    verbs = {item.subject: item.verb for item in read(clause(listed)).stated}
    assert verbs["uplift.class"] == "listed"


def test_a_fragment_tells_how_what_stands_before_it_is_shown() -> None:
    stated = read(clause("UL 580, Class 90. Tested, not calculated.")).stated
    assert {item.verb for item in stated} == {"tested"}


def test_a_unit_said_in_a_paragraph_beside_serves_the_numbers_of_the_zones() -> None:
    texts = ("Wind uplift pressures are in psf.", "Zone 1: 40", "Zone 2: 55", "Panels: 16")
    stated = read(*(clause(text, ordinal=n) for n, text in enumerate(texts))).stated
    assert [told(item) for item in stated] == [
        "uplift.pressure equal -40 psf @zone 1",
        "uplift.pressure equal -55 psf @zone 2",
    ]
    elsewhere = read(clause(texts[0]), clause(texts[1], "panels", ordinal=1)).stated
    assert elsewhere == ()


def test_cleats_beside_clips_are_of_edges() -> None:
    clips = clause("Clips: 24 inches on center.", "clips")
    cleats = clause("Set cleats at 12 inches on center.", "installation", ordinal=1)
    assert [told(item) for item in read(clips, cleats).stated] == ["clip.spacing at most 24 in"]
    assert [told(item) for item in read(cleats).stated] == ["clip.spacing at most 12 in"]


def test_numbers_behind_a_bodys_name_and_a_colon_are_its_standards() -> None:
    listed = read(clause("UL: 580, 1897.", "references"))
    assert [told(item) for item in listed.stated] == [
        "uplift.test required UL 580 !reference only",
        "uplift.test required UL 1897 !reference only",
    ]


def test_a_bound_holds_where_the_factor_that_it_includes_is_named() -> None:
    lead = "Minimum uplift capacities, ASD, including safety factor of 2.0:"
    assert found("Corners: 120 psf", "performance", lead) == {
        "uplift.pressure at least -120 psf @corners allowable"
    }
