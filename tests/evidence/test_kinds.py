"""The kind of evidence follows the specification's verb; a paper is named for what it is."""

from __future__ import annotations

from typing import Any

import pytest

from .stage import ROOF, UL_580, because, finding, paper, report, reviewed, standing, stated, verdict
from .test_listings import listing

KINDS = (
    "tested report",
    "holder's listing",
    "blanket listing",
    "evaluation",
    "data sheet",
    "engineering letter",
)
RULES = {
    "tested": "uplift_class",
    "": "uplift_class",
    "listed": "uplift_class_listed",
    "approved": "uplift_class_approved",
}
SERVES = {
    "tested": {"tested report"},
    "": {"tested report"},
    "listed": {"holder's listing", "blanket listing"},
    "approved": {"evaluation"},
}


@pytest.mark.parametrize("verb", list(SERVES))
@pytest.mark.parametrize("kind", KINDS)
def test_only_the_kind_that_the_verb_asks_for_serves(verb: str, kind: str) -> None:
    made = report(ROOF, UL_580, kind=kind, offered_as=kind, body="UL", expires="2028-01-31")
    spec = [stated("uplift.class", "90", relation="at least", kind="class", verb=verb)]
    review = reviewed(ROOF, made, spec=spec)
    wanted = "complies" if kind in SERVES[verb] else "not shown"
    assert verdict(review, RULES[verb]) == wanted
    others = {rule for rule in RULES.values() if rule != RULES[verb]}
    assert {verdict(review, rule) for rule in others} == {"does not apply"}


def test_a_lower_class_falls_short() -> None:
    made = report(ROOF, {**UL_580, "class": "60", "held": "75 psf"})
    spec = [stated("uplift.class", "90", relation="at least", kind="class", verb="tested")]
    review = reviewed(ROOF, made, spec=spec)
    assert verdict(review, "uplift_class") == "deviates"
    assert standing(paper(review), "uplift_class") == "falls short"


def test_uncovered_is_not_failed() -> None:
    """A class 60 report of another assembly says nothing of this one."""
    made = report({**ROOF, "deck": {**ROOF["deck"], "type": "OSB"}}, {**UL_580, "class": "60"})
    spec = [stated("uplift.class", "90", relation="at least", kind="class", verb="tested")]
    assert verdict(reviewed(ROOF, made, spec=spec), "uplift_class") == "not shown"


def test_a_listing_offered_as_a_report_is_named_as_one() -> None:
    made = listing("Deck nailed to supports", kind="blanket listing", offered_as="tested report")
    review = reviewed(
        ROOF, made, spec=[stated("uplift.class", "90", relation="at least", kind="class", verb="tested")]
    )
    assert verdict(review, "evidence_kind") == "deviates"
    document = paper(review, "L-1")
    assert (document.kind, document.offered_as) == ("blanket listing", "tested report")
    assert standing(document, "uplift_class") == "does not cover"
    assert because(document, "uplift_class") == "offered as tested report, and is blanket listing"


def test_a_blanket_listing_does_not_serve_where_the_makers_own_is_asked_for() -> None:
    own = [
        stated("listing_body", "UL", relation="required"),
        stated("listing_holder", "maker's own", relation="required"),
    ]
    blanket = reviewed(ROOF, listing(kind="blanket listing"), spec=own)
    assert (verdict(blanket, "ul"), verdict(blanket, "own_listing")) == ("complies", "not shown")
    holders = reviewed(ROOF, listing(kind="holder's listing"), spec=own)
    assert (verdict(holders, "ul"), verdict(holders, "own_listing")) == ("complies", "complies")


def test_any_listing_serves_where_nobody_asks_whose() -> None:
    spec = [stated("listing_body", "UL", relation="required")]
    review = reviewed(ROOF, listing(kind="blanket listing"), spec=spec)
    assert verdict(review, "ul") == "complies"
    assert verdict(review, "own_listing") == "does not apply"


def test_a_listing_by_another_body_is_none_of_the_body_asked_for() -> None:
    spec = [stated("listing_body", "UL", relation="required")]
    assert verdict(reviewed(ROOF, listing(body="Another body (invented)"), spec=spec), "ul") == "not shown"


@pytest.mark.parametrize("kind", ["data sheet", "engineering letter"])
def test_a_number_in_a_data_sheet_or_letter_carries_no_zone(kind: str) -> None:
    review = reviewed(ROOF, report(ROOF, UL_580, kind=kind, offered_as=kind))
    assert verdict(review, "zone_uplift") == "not shown"
    assert paper(review).standing == "proves nothing by itself"


# Fire, impact, water ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "shown", "wanted"),
    [
        ("A", "Class A", "complies"),
        ("A", "Class B", "deviates"),
        ("B", "Class A", "complies"),
        ("C", "Class B", "complies"),
    ],
)
def test_fire_class(asked: str, shown: str, wanted: str) -> None:
    made = report(ROOF, {"id": "1", "standard": "UL 790", "fire_class": shown})
    review = reviewed(ROOF, made, spec=[stated("fire.class", asked, relation="required")])
    assert verdict(review, "fire_class") == wanted


def test_an_uplift_class_is_no_fire_class() -> None:
    review = reviewed(ROOF, report(ROOF), spec=[stated("fire.class", "A", relation="required")])
    assert verdict(review, "fire_class") == "not shown"


@pytest.mark.parametrize(("shown", "wanted"), [("4", "complies"), ("3", "deviates")])
def test_impact_class(shown: str, wanted: str) -> None:
    made = report(ROOF, {"id": "1", "standard": "UL 2218", "impact_class": shown})
    spec = [stated("impact.class", "4", relation="at least", kind="class")]
    assert verdict(reviewed(ROOF, made, spec=spec), "impact_class") == wanted


# Approvals -------------------------------------------------------------------------------------------------------


def approval(**facts: Any) -> dict[str, Any]:
    given = {
        "kind": "insurer approval",
        "offered_as": "insurer approval",
        "body": "FM",
        "laboratory": None,
        **facts,
    }
    return report(ROOF, {"id": "1", "standard": "FM 4471", "rating": "1-105"}, **given)


def test_fm_approval_asked_for_on_a_job_of_another_insurer_still_binds() -> None:
    spec = [stated("approval", "FM", relation="required", verb="approved")]
    review = reviewed(ROOF, report(ROOF), spec=spec, job={"insurer": "A mutual (invented)"})
    found = finding(review, "insurer_fm")
    assert (found.verdict, found.basis) == ("not shown", "insurer")
    assert "FM 4474" in found.remedy
    assert verdict(reviewed(ROOF, approval(), spec=spec), "insurer_fm") == "complies"


@pytest.mark.parametrize("body", ["FM", "FM Approvals", "FM Global", "Factory Mutual"])
def test_a_body_is_known_however_it_is_written(body: str) -> None:
    spec = [stated("approval", "FM", relation="required", verb="approved")]
    assert verdict(reviewed(ROOF, approval(body=body), spec=spec), "insurer_fm") == "complies"


@pytest.mark.parametrize(
    ("printed", "carries"), [("field", ["complies", "not shown"]), ("corner", ["complies"] * 2)]
)
def test_a_result_printed_for_the_field_is_not_the_corners(printed: str, carries: list[str]) -> None:
    run = {"id": "1", "standard": "FM 4471", "rating": "1-150", "zone": printed}
    made = report(
        ROOF, run, kind="insurer approval", offered_as="insurer approval", body="FM", laboratory=None
    )
    review = reviewed(ROOF, made)
    assert [zone.verdict for zone in review.zones] == carries
    reason = "printed for the field, not for corner" if printed == "field" else ""
    assert because(paper(review), "zone_uplift") == reason


def test_an_insurer_that_nobody_states_is_not_none() -> None:
    assert verdict(reviewed(ROOF, report(ROOF), job={"insurer": None}), "insurer_fm") == "not shown"
    assert verdict(reviewed(ROOF, report(ROOF)), "insurer_fm") == "does not apply"


def test_a_report_to_fms_method_by_another_laboratory_is_no_approval() -> None:
    made = report(ROOF, {"id": "1", "standard": "FM 4474", "rating": "1-90"}, offered_as="insurer approval")
    review = reviewed(ROOF, made, rules=("base", "fm_insured"), job={"insurer": "FM"})
    assert verdict(review, "insurer_fm") == "not shown"
    assert verdict(review, "fm_by_the_body") == "deviates"
    assert standing(paper(review), "insurer_fm") == "does not cover"


def test_an_approval_named_in_the_specification_is_by_that_body() -> None:
    spec = [stated("approval", "Ostrand Coastal Building Board", relation="required")]
    board = approval(
        kind="product approval",
        offered_as="product approval",
        body="Ostrand Coastal Building Board",
        expires="2028-01-31",
    )
    assert verdict(reviewed(ROOF, board, spec=spec), "approval_named") == "complies"
    assert verdict(reviewed(ROOF, approval(), spec=spec), "approval_named") == "not shown"
