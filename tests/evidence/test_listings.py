"""Listings: each condition's field, trade and state, whether it is usual, what it takes; what it does to a class."""

from __future__ import annotations

from typing import Any

import pytest

from cleatmark.review.listing import read_texts
from cleatmark.review.model import ConditionRow

from .stage import ROOF, Tree, because, changed, paper, program, report, reviewed, standing, stated, verdict

CLASS_90 = stated("uplift.class", "90", relation="at least", kind="class", verb="listed")
LISTING = {"number": "Construction 000-X (invented)", "date": "2019-04-30", "body": "UL", "laboratory": None}


def listing(
    *conditions: Tree | str, specimen: Tree = ROOF, kind: str = "holder's listing", **facts: Any
) -> Tree:
    """A listing at class 90 of the specimen, with conditions."""
    given = {**LISTING, "accreditation": None, "accreditation_scope": None, "signed_by": None, **facts}
    made = report(
        specimen,
        {"id": "1", "standard": "UL 580", "class": "90"},
        id="L-1",
        kind=kind,
        offered_as=facts.get("offered_as", kind),
        **{name: value for name, value in given.items() if name != "offered_as"},
    )
    made["conditions"] = [{"text": c} if isinstance(c, str) else c for c in conditions]
    return made


def conditions(*written: Tree | str, proposed: Tree = ROOF, **job: Any) -> tuple[ConditionRow, ...]:
    return paper(reviewed(proposed, listing(*written), job=job), "L-1").conditions


def drawings(**facts: str) -> dict[str, Any]:
    """Contract documents that show these fields."""
    shown = [
        {"field": name.replace("__", "."), "value": value, "where": f"Sheet S-201, {name}"}
        for name, value in facts.items()
    ]
    return {"contract_documents": shown}


# What a condition is about --------------------------------------------------------------------------------------

TEXTS = [
    ("Wood deck screwed to the joists, No. 8 or No. 10, 6 in on center or closer",
     ["deck.attachment", "deck.fastener_spacing"], ["screwed", "6 in"]),
    ("Deck nailed to supports", ["deck.attachment"], ["nailed"]),
    ("Deck fasteners not more than 6 in on center", ["deck.fastener_spacing"], ["6 in"]),
    ("All plywood joints filled with sealant", ["deck.joints"], ["sealed"]),
    ("Every deck joint taped", ["deck.joints"], ["taped"]),
    ("Solid 2 by 4 blocking at all plywood edges", ["deck.edges"], ["blocked"]),
    ("Minimum 5/8 in plywood", ["deck.thickness"], ["5/8 in"]),
    ("Plywood only; OSB is not permitted", ["deck.type"], ["plywood"]),
    ("Joists spaced at 16 in on center", ["support.spacing"], ["16 in"]),
    ("No end laps", ["panel.end_laps"], ["no"]),
    ("Panel length not more than 20 ft", ["panel.length"], ["20 ft"]),
    ("Panel width not more than 12 in", ["panel.width"], ["12 in"]),
    ("24 gauge or heavier steel", ["panel.thickness"], ["24 gauge"]),
    ("Clips 12 in on center over the whole roof", ["clip.spacing"], ["12 in"]),
    ("Continuous cleat at the seam", ["panel.attachment"], ["continuous cleat"]),
    ("3 screws per clip", ["fastener.count"], ["3"]),
    ("Screws with separate oversize washers", ["fastener.washer"], ["separate washer"]),
    ("Seam folded 180 degrees by machine", ["panel.seam_type"], ["180 degree mechanical"]),
    ("Separate snap cap over battens", ["panel.seam_type"], ["batten"]),
    ("No insulation", ["insulation.type"], ["none"]),
    ("Insulation not more than 2 in thick", ["insulation.thickness"], ["2 in"]),
    ("One layer of No. 30 felt", ["underlayment.type"], ["felt"]),
    ("Steel bearing plate under each clip", ["clip.bearing_plate"], ["steel plate"]),
    ("Back-up steel plate under the plywood", ["deck.reinforcement"], ["steel plate or strap"]),
    ("Ends of the panel held by screws through the pan", ["panel.end_hold"], ["screwed through the pan"]),
    ("Roof slope not less than 3:12", ["roof.slope"], ["3:12"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "fields", "values"), TEXTS)
def test_a_condition_is_read_into_field_and_value(text: str, fields: list[str], values: list[str]) -> None:
    asked = read_texts(program("base"), [text])[text]
    assert [item.field for item in asked] == fields
    assert [item.words for item in asked] == values


@pytest.mark.parametrize("text", ["Fire not investigated", "Installed by workers of the holder's choice"])
def test_a_condition_that_no_reading_knows_is_kept_as_text(text: str) -> None:
    (row,) = conditions(text)
    assert (row.text, row.field, row.state) == (text, "", "not confirmed")


def test_a_condition_about_two_fields_is_two_rows() -> None:
    rows = conditions("Deck screwed to supports with No. 8 screws at 6 in on center")
    assert [(row.field, row.state) for row in rows] == [
        ("deck.attachment", "contradicted"),
        ("deck.fastener_spacing", "claimed only"),
    ]


# Its state ------------------------------------------------------------------------------------------------------


def test_contract_documents_say_the_state_before_anybody() -> None:
    says = {"text": "Deck screwed to supports", "state": "on contract documents", "where": "our letter"}
    (row,) = conditions(says, **drawings(deck__attachment="nailed"))
    assert (row.state, row.where.split(";")[0]) == ("contradicted", "Sheet S-201, deck__attachment")
    (row,) = conditions("Deck nailed to supports", **drawings(deck__attachment="nailed"))
    assert row.state == "on contract documents"


@pytest.mark.parametrize(
    ("text", "shown", "state"),
    [
        (
            "Deck fasteners not more than 6 in on center",
            {"deck__fastener_spacing": "4 in"},
            "on contract documents",
        ),
        ("Deck fasteners not more than 6 in on center", {"deck__fastener_spacing": "12 in"}, "contradicted"),
        ("Joists spaced at 16 in on center", {"support__spacing": "24 in"}, "contradicted"),
        ("Joists spaced at 24 in on center", {"support__spacing": "16 in"}, "on contract documents"),
        ("Minimum 15/32 in plywood", {"deck__thickness": "19/32 in"}, "on contract documents"),
        ("Minimum 5/8 in plywood", {"deck__thickness": "15/32 in"}, "contradicted"),
    ],
)
def test_the_safe_side_of_a_condition_meets_it(text: str, shown: dict[str, str], state: str) -> None:
    assert conditions(text, **drawings(**shown))[0].state == state


def test_a_choice_of_amounts_is_met_by_any_of_them() -> None:
    text = "Deck on joists spaced at 12 or 16 in on center"
    assert conditions(text, **drawings(support__spacing="16 in"))[0].state == "on contract documents"
    assert conditions(text, **drawings(support__spacing="24 in"))[0].state == "contradicted"


def test_the_roof_itself_meets_a_least_slope() -> None:
    assert conditions("Roof slope not less than 2:12")[0].state == "on contract documents"
    assert conditions("Roof slope not less than 4:12")[0].state == "contradicted"


def test_the_specification_is_a_contract_document() -> None:
    spec = [stated("underlayment.type", "self-adhered sheet", relation="required")]
    made = listing("Self-adhered underlayment over the whole deck", "One layer of No. 30 felt")
    rows = paper(reviewed(ROOF, made, spec=spec), "L-1").conditions
    assert [row.state for row in rows] == ["on contract documents", "contradicted"]
    assert "07 41 13, 1.03" in rows[1].where


def test_the_contractors_own_proposal_is_a_claim() -> None:
    assert conditions("Deck edges blocked")[0].state == "contradicted"
    assert conditions("Deck nailed to supports")[0].state == "claimed only"


def test_a_word_about_another_trades_work_is_a_claim() -> None:
    roofer = {
        "text": "All deck joints as the laboratory had them",
        "state": "on contract documents",
        "by": "Lantern Ridge Roofing (invented), roofer",
        "trade": "carpenter",
    }
    assert conditions(roofer)[0].state == "claimed only"
    assert conditions({**roofer, "by": "the carpenter"})[0].state == "on contract documents"


# What it does to the class --------------------------------------------------------------------------------------


def test_a_listing_holds_where_every_condition_is_on_contract_documents() -> None:
    made = listing("Deck nailed to supports")
    review = reviewed(ROOF, made, spec=[CLASS_90], job=drawings(deck__attachment="nailed"))
    assert verdict(review, "uplift_class_listed") == "complies"
    assert standing(paper(review, "L-1"), "uplift_class_listed") == "stands with conditions"


def test_a_contradicted_condition_voids_a_class_that_the_number_would_pass() -> None:
    specimen = changed(ROOF, deck__attachment="screwed")
    made = listing("Deck screwed to supports", specimen=specimen)
    review = reviewed(ROOF, made, spec=[CLASS_90], job=drawings(deck__attachment="nailed"))
    assert verdict(review, "uplift_class_listed") == "not shown"
    assert verdict(review, "zone_uplift") == "not shown"
    document = paper(review, "L-1")
    assert standing(document, "uplift_class_listed") == "does not cover"
    assert "deck attachment: nailed proposed, screwed tested" in because(document, "uplift_class_listed")


def test_a_condition_alone_voids_the_class_where_the_specimen_does_not_say() -> None:
    specimen = changed(ROOF, deck__reinforcement=None)
    made = listing("Back-up steel plate under the plywood", specimen=specimen)
    review = reviewed(ROOF, made, spec=[CLASS_90], job=drawings(deck__reinforcement="none"))
    assert verdict(review, "uplift_class_listed") == "not shown"
    assert 'condition "Back-up steel plate under the plywood": contradicted' in because(
        paper(review, "L-1"), "uplift_class_listed"
    )


def test_an_unconfirmed_condition_leaves_the_class_open_and_is_asked_for() -> None:
    review = reviewed(ROOF, listing("Installed under the holder's program"), spec=[CLASS_90])
    assert verdict(review, "uplift_class_listed") == "not shown"
    assert standing(paper(review, "L-1"), "uplift_class_listed") == "cannot be judged"
    asked = [question for request in review.requests for question in request.questions]
    assert any("Installed under the holder's program" in question for question in asked)


def test_a_proposal_that_departs_from_a_condition_voids_it_whatever_is_declared() -> None:
    built = changed(ROOF, deck__joints="taped")
    says = {
        "text": "Deck joints open",
        "field": "deck.joints",
        "value": "open",
        "state": "on contract documents",
    }
    review = reviewed(built, listing(says, specimen=built), spec=[CLASS_90])
    assert verdict(review, "uplift_class_listed") == "not shown"
    assert "taped is proposed" in paper(review, "L-1").conditions[0].where


# Usual, and what it takes ---------------------------------------------------------------------------------------

UNUSUAL = [
    ("deck.attachment", "screwed", "nailed"),
    ("deck.joints", "sealed", "open"),
    ("deck.edges", "blocked", "clips"),
    ("deck.thickness", "5/8 in", "15/32 in"),
    ("support.spacing", "16 in", "24 in"),
    ("panel.length", "20 ft", "40 ft"),
    ("panel.width", "12 in", "16 in"),
    ("panel.thickness", "24 ga", "26 ga"),
    ("clip.spacing", "12 in", "24 in"),
    ("panel.attachment", "continuous cleat", "concealed clip"),
    ("clip.type", "continuous", "two-piece floating"),
    ("fastener.count", "2", "1"),
    ("fastener.washer", "oversize", "none"),
    ("panel.seam_sealant", "field applied", "none"),
    ("panel.seam_type", "180 degree mechanical", "snap-lock"),
    ("panel.seam_type", "batten", "90 degree mechanical"),
    ("underlayment.type", "one layer of No. 30 felt", "self-adhered sheet"),
    ("panel.end_hold", "screwed through the pan", "fixed at eave"),
    ("deck.reinforcement", "steel plate", "none"),
    ("air_seal.type", "joints and perimeter caulked", "none"),
]


@pytest.mark.parametrize(("field", "unusual", "usual"), UNUSUAL)
def test_what_is_unusual_on_a_wood_deck(field: str, unusual: str, usual: str) -> None:
    rows = conditions(
        {"text": "a", "field": field, "value": unusual}, {"text": "b", "field": field, "value": usual}
    )
    assert [row.unusual for row in rows] == [True, False]
    assert rows[0].why


def test_what_is_usual_depends_on_the_deck() -> None:
    """Screws are unusual in a wood deck and usual in a steel one; 6 in is unusual in a steel deck."""
    steel = changed(ROOF, deck__type="steel deck", deck__attachment="screwed")
    asks = {"text": "Deck screwed", "field": "deck.attachment", "value": "screwed"}
    assert conditions(asks)[0].unusual
    assert not conditions(asks, proposed=steel)[0].unusual
    close = {"text": "Deck fasteners at 6 in", "field": "deck.fastener_spacing", "value": "6 in"}
    assert not conditions(close)[0].unusual
    assert conditions(close, proposed=steel)[0].unusual


def test_trade_and_when_it_is_covered_up() -> None:
    rows = conditions("Deck screwed to supports", "All deck joints filled with sealant", "Deck edges blocked")
    assert [(row.trade, row.hidden_after) for row in rows] == [
        ("carpenter", "underlayment"),
        ("roofer", "underlayment"),
        ("carpenter", "deck"),
    ]


def test_quantities_where_the_roof_is_known() -> None:
    """120 by 80 ft at 3:12 is 9,895 sq ft, 309 sheets of 4 by 8 ft: worked by hand."""
    screws, joints, edges = (
        row.quantity
        for row in conditions(
            "Deck screwed to supports at 6 in", "Deck joints filled with sealant", "Deck edges blocked"
        )
        if row.field != "deck.fastener_spacing"
    )
    # 5 supports under an 8 ft sheet at 24 in, 9 screws in 48 in at 6 in: 45 a sheet.
    assert screws.startswith("about 13,900 deck screws: 45 in each 8 by 4 ft sheet")
    # Each sheet has one long and one short joint of its own: 12 ft.
    assert joints.startswith("about 3,710 ft of sealant")
    assert edges.startswith("about 2,470 ft of blocking")


def test_clips_over_the_whole_roof() -> None:
    """9,895 sq ft of 16 in panels with clips at 12 in: 1.333 sq ft a clip."""
    (row,) = conditions("Clips 12 in on center over the whole roof")
    assert row.quantity == "about 7,420 clips"


def test_no_quantity_where_the_roof_is_not_known() -> None:
    (row,) = conditions("Deck joints filled with sealant", roof=None)
    assert row.quantity == ""
