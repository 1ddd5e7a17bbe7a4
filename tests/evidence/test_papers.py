"""What a complete paper carries; expiry; claims; and whole documents, their texts turned into files."""

from __future__ import annotations

from typing import Any

import pytest

from cleatmark.review.remedy import lower_first

from .stage import (
    PURLINS,
    ROOF,
    UL_580,
    because,
    changed,
    difference,
    differing,
    finding,
    paper,
    report,
    reviewed,
    standing,
    stated,
    verdict,
)

# Complete papers --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fact", "rule", "lacks"),
    [
        ("laboratory", "report_complete", "Laboratory"),
        ("accreditation", "report_complete", "Laboratory accreditation"),
        ("number", "report_complete", "Number"),
        ("holder", "report_complete", "Holder"),
        ("signed_by", "report_complete", "Signed by"),
        ("date", "report_complete", "Document date"),
        ("accreditation_scope", "report_scope", "Methods in the scope of accreditation"),
    ],
)
def test_what_a_report_leaves_out_is_listed(fact: str, rule: str, lacks: str) -> None:
    whole = reviewed(ROOF, report(ROOF))
    assert verdict(whole, rule) == "complies"
    assert paper(whole).lacks == ()
    review = reviewed(ROOF, report(ROOF, **{fact: None}))
    found = finding(review, rule)
    assert found.verdict == "not shown"
    assert lacks in {item.title for item in found.missing}
    assert lower_first(lacks) in paper(review).lacks


@pytest.mark.parametrize(
    ("fact", "lacks"), [("edition", "Edition of the method"), ("failure_mode", "Failure mode")]
)
def test_what_a_run_leaves_out_is_listed(fact: str, lacks: str) -> None:
    run = {name: value for name, value in UL_580.items() if name != fact}
    review = reviewed(ROOF, report(ROOF, run))
    assert verdict(review, "report_runs") == "not shown"
    assert lower_first(lacks) in paper(review).lacks


def test_an_unsigned_report_deviates_and_one_that_does_not_say_is_a_question() -> None:
    assert verdict(reviewed(ROOF, report(ROOF, signed_by="none")), "report_complete") == "deviates"
    assert verdict(reviewed(ROOF, report(ROOF, signed_by=None)), "report_complete") == "not shown"


def test_a_scope_that_does_not_list_the_method() -> None:
    narrow = report(ROOF, accreditation_scope="ASTM E1646")
    assert verdict(reviewed(ROOF, narrow), "report_scope") == "deviates"
    written = report(ROOF, accreditation="ISO/IEC 17025, scope lists UL 580", accreditation_scope=None)
    assert verdict(reviewed(ROOF, written), "report_scope") == "complies"


def test_a_letter_is_sealed_and_names_what_it_rests_on() -> None:
    facts = {"kind": "engineering letter", "offered_as": "engineering letter", "laboratory": None}
    bare = paper(reviewed(ROOF, report(ROOF, **facts, sealed_by="none")))
    assert {"sealed by: none", "state of the seal", "reports it rests on"} <= set(bare.lacks)
    whole = {"sealed_by": "M. Tesk, PE (invented)", "seal_state": "Marrow", "rests_on": "T-1"}
    assert verdict(reviewed(ROOF, report(ROOF, **facts, **whole)), "letter_complete") == "complies"


# Expiry ----------------------------------------------------------------------------------------------------------


def approval(**facts: Any) -> dict[str, Any]:
    given = {
        "kind": "product approval",
        "offered_as": "product approval",
        "body": "A county (invented)",
        "laboratory": None,
        "date": "2018-08-09",
        **facts,
    }
    return report(ROOF, {"id": "1", "standard": "UL 1897", "printed_allowable": "60 psf"}, **given)


@pytest.mark.parametrize(
    ("expires", "permit", "carries"),
    [
        ("2023-08-09", "2023-08-08", "complies"),
        ("2023-08-09", "2023-08-09", "complies"),
        ("2023-08-09", "2023-08-10", "not shown"),
        ("2023-08-09", "2024-01-10", "not shown"),
        (None, "2023-08-09", "not shown"),
        ("2023-08-09", None, "not shown"),
    ],
)
def test_an_approval_counts_to_the_end_of_the_day_it_prints(
    expires: str | None, permit: str | None, carries: str
) -> None:
    review = reviewed(ROOF, approval(expires=expires), job={"permit_date": permit})
    assert verdict(review, "zone_uplift") == carries


def test_an_expired_approval_is_named_as_one() -> None:
    review = reviewed(ROOF, approval(expires="2023-08-09"), job={"permit_date": "2024-01-10"})
    assert verdict(review, "paper_in_force") == "deviates"
    assert paper(review).standing == "does not cover, because expired"
    assert because(paper(review), "zone_uplift") == "expired"


def test_a_laboratorys_report_does_not_expire() -> None:
    review = reviewed(ROOF, report(ROOF, expires="2020-01-01"))
    assert verdict(review, "zone_uplift") == "complies"


def test_a_superseded_report_carries_nothing() -> None:
    review = reviewed(ROOF, report(ROOF, superseded_by="T-9"))
    assert verdict(review, "zone_uplift") == "not shown"
    assert paper(review).standing == "does not cover, because superseded"


# Jurisdictions ---------------------------------------------------------------------------------------------------

FLORIDA = ("base", "model_code", "jurisdictions/florida")


@pytest.mark.parametrize(
    ("county", "wanted"),
    [
        ("Miami-Dade", "not shown"),
        ("Broward", "not shown"),
        ("Palm Beach", "does not apply"),
        ("Monroe", "does not apply"),
    ],
)
def test_a_class_alone_in_the_high_velocity_zone(county: str, wanted: str) -> None:
    job = {"place": {"state": "FL", "county": county}, "code": "FBC 2023"}
    review = reviewed(ROOF, report(ROOF), rules=FLORIDA, job=job)
    assert verdict(review, "hvhz_approval") == wanted
    assert verdict(review, "florida_approval") == "not shown"


def test_a_letter_replaces_no_test_in_florida() -> None:
    letter = report(
        ROOF, kind="engineering letter", offered_as="product approval", sealed_by="M. Tesk, PE (invented)"
    )
    job = {"place": {"state": "FL", "county": "Duval"}, "code": "FBC 2023"}
    review = reviewed(ROOF, letter, rules=FLORIDA, job=job)
    assert verdict(review, "florida_letter") == "deviates"
    assert verdict(review, "zone_uplift") == "not shown"


@pytest.mark.parametrize(
    ("place", "wanted"),
    [
        ({"county": "Galveston", "city": "Galveston"}, "complies"),
        ({"county": "Fort Bend", "city": "Sugar Land"}, "does not apply"),
        ({"county": "Harris", "city": "Houston", "east_of_highway_146": "no"}, "does not apply"),
        ({"county": "Harris", "city": "La Porte", "east_of_highway_146": "yes"}, "complies"),
        ({"county": "Harris", "city": "La Porte"}, "not shown"),
    ],
)
def test_an_evaluation_on_the_texas_coast(place: dict[str, str], wanted: str) -> None:
    evaluation = approval(
        kind="evaluation", offered_as="evaluation", body="Texas Department of Insurance", expires="2028-01-31"
    )
    rules = ("base", "model_code", "jurisdictions/texas_coast")
    review = reviewed(
        ROOF, evaluation, rules=rules, job={"place": {"state": "TX", **place}, "code": "IBC 2018"}
    )
    assert verdict(review, "texas_evaluation") == wanted


# Claims ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("claim", "advice"),
    [
        ("good to 150 mph", "claim_speed"),
        ("UL 1897 class 90", "claim_class_1897"),
        ("UL 580 class 120", "claim_class_above"),
        ("UL 90 rated", "claim_class"),
        ("meets or exceeds code", "claim_code"),
        ("FM approved", "claim_fm"),
        ("holds 5.25 psi", "claim_psi"),
        ("class 90, safety factor of 2 included", "claim_factor"),
    ],
)
def test_a_claim_is_named_as_a_claim_and_proves_nothing(claim: str, advice: str) -> None:
    sheet = {"id": "D-1", "kind": "data sheet", "offered_as": "data sheet", "claims": [claim]}
    review = reviewed(ROOF, sheet)
    assert paper(review, "D-1").claims == (claim,)
    raised = {item.id for item in review.advice}
    assert advice in raised
    assert verdict(review, "zone_uplift") == "not shown"
    quiet = reviewed(ROOF, {**sheet, "claims": ["painted in the shop"]})
    assert not {item.id for item in quiet.advice if item.id.startswith("claim_")}


# Whole documents, from their text --------------------------------------------------------------------------------


def test_a_report_over_another_deck_and_another_clip() -> None:
    """The text: "Report T-204. Standing seam panels, 24 gauge steel, 16 in, two-piece clips at 24 in with two No. 10
    screws, over 22 gauge steel deck welded at 12 in and 3 in polyisocyanurate board with a 16 gauge plate under each
    clip. UL 580: Class 90." Offered for nailed plywood. It says nothing of yield strength, seam or underlayment."""
    specimen = {
        "panel": {
            "profile": "FH-2 standing seam",
            "material": "steel",
            "thickness": "24 ga",
            "width": "16 in",
        },
        "clip": {"type": "two-piece floating", "spacing": "24 in", "bearing_plate": "16 ga steel"},
        "fastener": {"size": "No. 10", "count": "2"},
        "deck": {
            "type": "steel deck",
            "thickness": "22 ga",
            "attachment": "welded",
            "fastener_spacing": "12 in",
        },
        "insulation": {"type": "polyisocyanurate board", "thickness": "3 in"},
    }
    review = reviewed(ROOF, report(specimen, {"id": "1", "page": "8", "standard": "UL 580", "class": "90"}))
    document = paper(review)
    found = differing(document)
    failing = {field for field, side in found.items() if side in ("unsafe side", "different kind")}
    assert failing == {
        "clip.bearing_plate",
        "deck.type",
        "deck.attachment",
        "insulation.type",
    }
    assert {"panel.yield_strength", "panel.seam_type", "underlayment.type", "clip.model"} <= {
        field for field, side in found.items() if side == "not shown"
    }
    assert verdict(review, "zone_uplift") == "not shown"
    assert standing(document, "zone_uplift") == "does not cover"
    assert difference(document, "deck.type").tested == "steel deck"


def test_a_brochure_line_is_a_claim() -> None:
    """The text: "UL 90 rated", and no construction number."""
    sheet = {"id": "D-1", "kind": "data sheet", "offered_as": "tested report", "claims": ["UL 90 rated"]}
    spec = [stated("uplift.class", "90", relation="at least", kind="class", verb="tested")]
    review = reviewed(ROOF, sheet, spec=spec)
    assert verdict(review, "uplift_class") == "not shown"
    assert verdict(review, "evidence_kind") == "deviates"
    assert because(paper(review, "D-1"), "uplift_class") == "offered as tested report, and is data sheet"


def test_a_construction_open_to_many_holders() -> None:
    """The text: "Deck of 5/8 in plywood on joists at 16 in, screwed at 6 in with No. 8 screws, all joints filled with
    sealant. Metal panels, 24 gauge min, 18 in max, clips at 24 in max. Class 90." Offered for nailed plywood on
    trusses at 24 in, which the drawings show."""
    listing = {
        "id": "L-1",
        "kind": "blanket listing",
        "offered_as": "holder's listing",
        "body": "UL",
        "number": "Construction 000-X (invented)",
        "date": "2019-04-30",
        "holder": "many (invented)",
        "specimen": {
            "panel": {"material": "steel", "thickness": "24 ga", "width": "18 in"},
            "clip": {"spacing": "24 in"},
        },
        "runs": [{"id": "1", "standard": "UL 580", "class": "90"}],
        "conditions": [
            {"text": "Minimum 5/8 in plywood"},
            {"text": "Deck screwed to joists with No. 8 screws at 6 in on center"},
            {"text": "Joists spaced at 16 in on center"},
            {"text": "All plywood joints filled with sealant"},
        ],
    }
    shown = {
        "deck.type": "plywood",
        "deck.thickness": "15/32 in",
        "deck.attachment": "nailed",
        "deck.fastener_spacing": "6 in",
        "deck.joints": "open",
        "support.spacing": "24 in",
    }
    contract = [{"field": field, "value": value, "where": "Sheet S-201"} for field, value in shown.items()]
    review = reviewed(ROOF, listing, job={"contract_documents": contract})
    rows = {row.field: row for row in paper(review, "L-1").conditions}
    assert {field: row.state for field, row in rows.items()} == {
        "deck.thickness": "contradicted",
        "deck.attachment": "contradicted",
        "deck.fastener_spacing": "on contract documents",
        "support.spacing": "contradicted",
        "deck.joints": "contradicted",
    }
    assert {field for field, row in rows.items() if row.unusual} == {
        "deck.thickness",
        "deck.attachment",
        "support.spacing",
        "deck.joints",
    }
    assert verdict(review, "zone_uplift") == "not shown"


def test_an_insurers_approval_by_zone() -> None:
    """The text: "Approved over 14 gauge purlins: purlins at 60 in, 1-60; at 48 in, 1-75." Offered for purlins at 60 in
    throughout, where the corner needs 37.5 psf."""
    runs = [
        {
            "id": str(number),
            "standard": "FM 4471",
            "rating": rating,
            "specimen": {"support": {"spacing": spacing}, "clip": {"spacing": spacing}},
        }
        for number, (rating, spacing) in enumerate([("1-60", "60 in"), ("1-75", "48 in")], 1)
    ]
    made = report(
        PURLINS, *runs, kind="insurer approval", offered_as="insurer approval", body="FM", laboratory=None
    )
    zones = [
        {"source": "Sheet S-001", "level": "allowable", "zones": {"field": "-25 psf", "corner": "-37.5 psf"}}
    ]
    job = {"insurer": "FM", "pressures": zones}
    review = reviewed(PURLINS, made, rules=("base", "fm_insured"), job=job)
    assert [(z.zone, z.verdict, z.allowable_psf) for z in review.zones] == [
        ("field", "complies", 30.0),
        ("corner", "deviates", 30.0),
    ]
    assert verdict(review, "fm_zone_rating") == "deviates"
    closer = changed(
        PURLINS,
        support__spacing={"field": "60 in", "corner": "48 in"},
        clip__spacing={"field": "60 in", "corner": "48 in"},
    )
    assert (
        verdict(reviewed(closer, made, rules=("base", "fm_insured"), job=job), "fm_zone_rating") == "complies"
    )


def test_the_papers_that_a_finding_is_about_are_named() -> None:
    sound, unsigned = report(ROOF), report(ROOF, id="T-2", signed_by="none")
    assert finding(reviewed(ROOF, sound, unsigned), "report_complete").message.endswith(
        ": tested report T-2."
    )
    silent = report(ROOF, id="T-3", signed_by=None)
    assert finding(reviewed(ROOF, sound, silent), "report_complete").message.endswith(": tested report T-3.")
