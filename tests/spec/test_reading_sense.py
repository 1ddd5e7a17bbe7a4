"""What a sentence makes of the things it names: asked for, refused, permitted, or only spoken of."""

from __future__ import annotations

import pytest
from reading_build import clause, found, read

SNAP = "panel.seam_type prohibited snap-lock !prohibited"
ALLOWED = "panel.seam_type required snap-lock !optional"
BATTEN = "panel.seam_type prohibited batten !prohibited"


def verbs(text: str) -> dict[str, str]:
    """The verb of each thing that a sentence states, by its subject and value."""
    stated = read(clause(text)).stated
    return {f"{item.subject} {' '.join(map(_plain, item.values))}".strip(): item.verb for item in stated}


def _plain(value: object) -> str:
    number = getattr(value, "value", None)
    return f"{float(number):g}" if number is not None else str(value)


@pytest.mark.parametrize(
    ("text", "states"),
    [
        ("Factory-formed or snap-lock panels are not permitted.", {SNAP}),
        ("Neither snap-lock nor batten seams will be allowed.", {SNAP, BATTEN}),
        ("No snap-lock or batten seam shall be used.", {SNAP, BATTEN}),
        ("Batten seams, snap-lock seams and the like: not permitted.", {SNAP, BATTEN}),
        ("Under no circumstances shall snap-lock seams be used.", {SNAP}),
        ("Snap-lock seams cannot be used.", {SNAP}),
        ("In no event will batten seams be accepted.", {BATTEN}),
        ("Contractor shall not substitute snap-lock panels.", {SNAP}),
        ("Snap-lock seams are permitted, batten seams are not.", {ALLOWED, BATTEN}),
        ("Panels other than snap-lock will not be considered.", {"panel.seam_type required snap-lock"}),
        ("Snap-lock panels need not be provided.", set()),
        ("Panels with snap-lock seams.", {"panel.seam_type required snap-lock"}),
    ],
)  # fmt: skip
def test_a_refusal_reaches_all_that_its_subject_names(text: str, states: set[str]) -> None:
    assert found(text, "panels") == states


@pytest.mark.parametrize(
    ("text", "states"),
    [
        ("Statewide approvals without the HVHZ endorsement will be rejected.", {"approval required HVHZ"}),
        ("Products lacking a Miami-Dade NOA are not acceptable.", {"approval required Miami-Dade NOA"}),
        ("Products will not be accepted unless they hold a Miami-Dade NOA.", {"approval required Miami-Dade NOA"}),
        ("Systems that do not have FM Approval will not be considered.", {"approval required FM"}),
        ("Bids based on panels without FM Approval will be returned.", {"approval required FM"}),
        ("A system failing to carry a UL listing is cause for rejection.", {"listing_body required UL"}),
        ("Assemblies not tested to ASTM E1592 are not acceptable.", {"uplift.test required ASTM E1592"}),
        ("No panel shall be installed that does not have a Miami-Dade NOA.", {"approval required Miami-Dade NOA"}),
        ("Other manufacturers holding an NOA may be proposed.", set()),
        ("Testing to UL 1897 is not acceptable.", {"uplift.test prohibited UL 1897 !prohibited"}),
    ],
)  # fmt: skip
def test_what_lacks_a_thing_is_refused_and_so_the_thing_is_asked_for(text: str, states: set[str]) -> None:
    assert found(text) == states


@pytest.mark.parametrize(
    ("text", "article", "states"),
    [
        ("Fire-retardant treated plywood shall not be used.", "substrate", set()),
        ("Lead-coated copper sheet is not acceptable.", "panels", set()),
        ("Galvanized steel panels are not permitted.", "panels", set()),
        ("Coated steel panels are not permitted.", "panels", {"panel.material prohibited steel !prohibited"}),
        ("Plywood deck shall not be used.", "substrate", {"deck.type prohibited plywood !prohibited"}),
        ("Do not use OSB deck.", "substrate", {"deck.type prohibited OSB !prohibited"}),
    ],
)
def test_a_kind_that_is_refused_leaves_the_rest(text: str, article: str, states: set[str]) -> None:
    assert found(text, article) == states


@pytest.mark.parametrize(
    ("text", "article"),
    [
        ("Lay no more felt than can be covered the same day.", "installation"),
        ("Clips no farther apart than printed in the NOA.", "clips"),
        ("Clip spacing shall not exceed that given in the NOA.", "clips"),
        ("Do not place felt in contact with bare aluminum panels.", "installation"),
        ("UL 580 Class 90 listing alone is not acceptable.", "performance"),
        ("Tests to UL 1897 by themselves will not be accepted.", "performance"),
        ("UL 580 is not an acceptable substitute.", "performance"),
    ],
)
def test_a_measure_or_an_insufficient_proof_is_no_prohibition(text: str, article: str) -> None:
    assert not [item for item in found(text, article) if "prohibited" in item]


@pytest.mark.parametrize(
    ("text", "article"),
    [
        ("Where tested to ASTM E1592 a lower factor applies.", "performance"),
        ("Where zinc panels are used, omit the slip sheet.", "panels"),
        ("If aluminum panels are furnished, isolate them.", "panels"),
        ("Leave the terne-coated steel roof in place; it is not in this Contract.", "summary"),
        ("The existing screw-down roof over the bay is to be taken off.", "summary"),
        ("Existing standing seam steel roof is to remain.", "summary"),
        ("Provide ice shield where the slope is less than 4:12.", "installation"),
        ("Systems on slopes under 2:12 have sealed seams.", "panels"),
        ("Panels are allowed only on slopes of 4:12 and steeper.", "panels"),
    ],
)
def test_a_condition_or_what_is_there_already_asks_for_nothing(text: str, article: str) -> None:
    assert found(text, article) == set()


@pytest.mark.parametrize(
    ("text", "article", "states"),
    [
        ("When tested according to UL 580, panels shall achieve Class 90.", "performance",
         {"uplift.test required UL 580", "uplift.class at least 90"}),
        ("Provide zinc roofing panels in place of copper roofing.", "panels", {"panel.material required zinc"}),
        ("Do not install on slopes of less than 1/2:12.", "installation", {"roof.slope at least 0.04167"}),
        ("Sheets shall not be used below 1/2 inch per foot.", "installation", {"roof.slope at least 0.04167"}),
        ("Install on slopes of 1:12 or greater.", "installation", {"roof.slope at least 0.08333"}),
        ("Panels: 0.040 inch minimum. 0.032 inch is not permitted near salt water.", "panels",
         {"panel.thickness at least 0.04 in", "panel.thickness prohibited 0.032 in !prohibited"}),
        ("The 12 months warranty for workmanship is extended to 24 months.", "warranty",
         {"warranty.installer at least 2 years"}),
        ("Increase the one-year correction period for workmanship to two years.", "warranty",
         {"warranty.installer at least 2 years"}),
        ("The finish warranty shall be lengthened from 20 years to 30 years.", "warranty",
         {"warranty.finish at least 30 years"}),
        ("Watertight warranty, 15 years, prorated after 10 years.", "warranty",
         {"warranty.weathertight at least 15 years"}),
        ("Watertight warranty, non-prorated for its full 20 years.", "warranty",
         {"warranty.weathertight at least 20 years"}),
        ("Panels 18 inches wide maximum, 2 inch seams.", "panels",
         {"panel.width at most 18 in", "panel.seam_height equal 2 in"}),
        ("Clips: in no zone farther apart than 24 inches.", "clips", {"clip.spacing at most 24 in"}),
        ("Clips are never to be spaced more than 30 inches on center.", "clips", {"clip.spacing at most 30 in"}),
        ("Clips at spacings shown, in no case more than 18 inches.", "clips", {"clip.spacing at most 18 in"}),
        ("Clips nowhere more than 5 feet apart.", "clips", {"clip.spacing at most 60 in"}),
    ],
)  # fmt: skip
def test_what_stands_of_two_that_are_named(text: str, article: str, states: set[str]) -> None:
    assert found(text, article) == states


@pytest.mark.parametrize(
    ("text", "verb_of"),
    [
        ("Listed by Underwriters Laboratories as Class 60 in accordance with UL 580; testing is not required.",
         {"listing_body UL": "listed", "uplift.class 60": "listed", "uplift.test UL 580": "listed"}),
        ("Panels shall have a UL 580 Class 90 rating and shall have been tested in accordance with ASTM E1592.",
         {"uplift.class 90": "", "uplift.test UL 580": "", "uplift.test ASTM E1592": "tested"}),
        ("Panels shall be Class 90 to UL 580 and shall be listed by UL.",
         {"uplift.class 90": "listed", "uplift.test UL 580": "listed", "listing_body UL": "listed"}),
        ("Panels evaluated for wind by the Texas Department of Insurance.", {"approval TDI": "approved"}),
        ("System must carry an Underwriters Laboratories Class 90 uplift listing.",
         {"listing_body UL": "listed", "uplift.class 90": "listed"}),
        ("Panels listed by UL as having been tested to UL 580.",
         {"listing_body UL": "listed", "uplift.test UL 580": "listed"}),
        ("Panels evaluated by tests to ASTM E1592.", {"uplift.test ASTM E1592": "tested"}),
    ],
)  # fmt: skip
def test_the_verb_is_that_of_the_values_own_predicate(text: str, verb_of: dict[str, str]) -> None:
    assert verbs(text) == verb_of


@pytest.mark.parametrize(
    ("text", "states"),
    [
        ("Design panels and clips for the loads on Sheet S-002.", {"uplift.pressure equal - !defers to drawings"}),
        ("Resist the wind loads on the Structural Drawings.", {"uplift.pressure equal - !defers to drawings"}),
        ("Uplift pressures are as determined by the Design-Builder's engineer.",
         {"uplift.pressure equal - !delegated design"}),
        ("Snow loads are on Sheet S-002.", set()),
        ("The stricter requirement governs.", {"precedence required more stringent governs"}),
        ("The greater of the two shall be used.", {"precedence required more stringent governs"}),
        ("The most demanding requirement shall apply.", {"precedence required more stringent governs"}),
        ("The greater spacing is at the field.", set()),
    ],
)  # fmt: skip
def test_what_is_left_to_a_sheet_an_engineer_or_the_stricter(text: str, states: set[str]) -> None:
    assert found(text) == states


def test_the_code_of_another_country_is_not_obsolete() -> None:
    flags = {
        text: [item.flag for item in read(clause(text)).flagged]
        for text in ("National Building Code of Canada 2020.", "National Building Code 1993.")
    }
    assert flags == {
        "National Building Code of Canada 2020.": [],
        "National Building Code 1993.": ["obsolete standard"],
    }


def test_only_one_thing_is_asked_for_where_nothing_else_is_accepted() -> None:
    for text in (
        "Only snap-lock panels will be accepted.",
        "Nothing but snap-lock panels is acceptable.",
        "Solely snap-lock panels are permitted.",
    ):
        assert found(text, "panels") == {"panel.seam_type required snap-lock"}, text
    assert found("Snap-lock panels will be accepted.", "panels") == {
        "panel.seam_type required snap-lock !optional"
    }


@pytest.mark.parametrize(
    ("text", "relations"),
    [
        ("Minimum uplift resistance, all zones: field 30 psf, perimeter 45 psf, corner 60 psf.", ["at least"] * 3),
        ("Design pressures not less than: Zone 1: 30 psf; Zone 2: 45 psf; Zone 3: 60 psf uplift.", ["at least"] * 3),
        ("Uplift of at least 30 psf in the field, 45 psf at the perimeter and 60 psf at corners.", ["at least"] * 3),
        ("Uplift of 30 psf in the field, 45 psf at the perimeter and 60 psf at corners.", ["equal"] * 3),
    ],
)  # fmt: skip
def test_a_bound_before_several_zones_reaches_each(text: str, relations: list[str]) -> None:
    assert [item.relation for item in read(clause(text)).stated] == relations


@pytest.mark.parametrize(
    ("text", "article", "states"),
    [
        ("Panels lighter than 24 gauge will be rejected.", "panels", {"panel.thickness at least 24 ga"}),
        (
            "No steel panels thinner than 24 gauge will be allowed.",
            "panels",
            {"panel.material required steel", "panel.thickness at least 24 ga"},
        ),
        (
            "Steel panels lighter than 24 gauge will be rejected.",
            "panels",
            {"panel.material required steel", "panel.thickness at least 24 ga"},
        ),
        (
            "Snap-lock seams lower than 2 inches are not permitted.",
            "panels",
            {"panel.seam_type required snap-lock", "panel.seam_height at least 2 in"},
        ),
        ("Panels wider than 18 inches are prohibited.", "panels", {"panel.width at most 18 in"}),
        ("Deflection in excess of L/180 is not acceptable.", "performance", {"deflection at most L/180"}),
        ("A safety factor below 2.0 will not be accepted.", "performance", {"safety_factor at least 2"}),
        (
            "Panels of 26 gauge are not acceptable.",
            "panels",
            {"panel.thickness prohibited 26 ga !prohibited"},
        ),
        ("Omit felt where self-adhered sheet lies.", "installation", set()),
        ("The insurer may require FM Approval.", "performance", set()),
        ("Manufacturer's weathertightness warranty: not required.", "warranty", set()),
        (
            "No warranty shorter than 20 years for weathertightness will be accepted.",
            "warranty",
            {"warranty.weathertight at least 20 years"},
        ),
        (
            "Provide Class 90 per UL 580.",
            "performance",
            {"uplift.class at least 90", "uplift.test required UL 580"},
        ),
        (
            "Panels installed without a deck shall be tested per ASTM E1592.",
            "performance",
            {"uplift.test required ASTM E1592"},
        ),
        (
            "Finish shall be PVDF, not silicone-modified polyester.",
            "panels",
            {"panel.finish required PVDF", "panel.finish prohibited silicone-modified polyester !prohibited"},
        ),
        (
            "Mechanically seamed roofs are required below 4:12.",
            "panels",
            {
                "panel.seam_type required 90 degree mechanical or 180 degree mechanical or trapezoidal mechanical"
            },
        ),
        (
            "Fasteners through the sheets: Not allowed.",
            "panels",
            {"panel.seam_type prohibited through-fastened lap !prohibited"},
        ),
        (
            "Clip spacing at the porch as required by the Product Approval.",
            "clips",
            {"clip.spacing at most - !no value"},
        ),
    ],
)
def test_what_lies_beyond_a_bound_is_refused_and_so_the_bound_stands(
    text: str, article: str, states: set[str]
) -> None:
    assert found(text, article) == states
