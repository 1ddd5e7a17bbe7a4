"""Proposed against tested, attribute by attribute. Directions are common practice, no source."""

from __future__ import annotations

import pytest

from .stage import (
    PURLINS,
    ROOF,
    changed,
    difference,
    differing,
    finding,
    paper,
    report,
    reviewed,
    standing,
    verdict,
)

SAFE, UNSAFE, OTHER = "safe side", "unsafe side", "different kind"

DIRECTIONS = [
    ("panel.width", "16 in", "12 in", SAFE),
    ("panel.width", "16 in", "18 in", UNSAFE),
    ("panel.thickness", "24 ga, nominal", "22 ga, nominal", SAFE),
    ("panel.thickness", "24 ga, nominal", "26 ga, nominal", UNSAFE),
    ("panel.yield_strength", "50 ksi, minimum", "80 ksi, minimum", SAFE),
    ("panel.yield_strength", "50 ksi, minimum", "40 ksi, minimum", UNSAFE),
    ("panel.seam_height", "2 in", "2-1/2 in", SAFE),
    ("panel.seam_height", "2 in", "1-1/2 in", UNSAFE),
    ("panel.profile", "FH-2 standing seam", "FH-9 standing seam", OTHER),
    ("panel.seam_type", "180 degree mechanical", "90 degree mechanical", OTHER),
    ("panel.seam_type", "90 degree mechanical", "180 degree mechanical", OTHER),
    ("panel.seam_sealant", "factory applied", "none", OTHER),
    ("panel.end_laps", "no", "yes", OTHER),
    ("panel.manufacturer", "Fen Hollow Panels (invented)", "Another Maker (invented)", OTHER),
    ("clip.model", "FH-C", "FH-D", OTHER),
    ("clip.type", "two-piece floating", "one-piece fixed", OTHER),
    ("clip.thickness", "16 ga", "14 ga", SAFE),
    ("clip.thickness", "16 ga", "18 ga", UNSAFE),
    ("clip.length", "4 in", "6 in", UNSAFE),
    ("clip.spacing", "24 in", "18 in", SAFE),
    ("clip.spacing", "24 in", "30 in", UNSAFE),
    ("clip.bearing_plate", "16 ga steel", "none", OTHER),
    ("fastener.type", "pancake head wood screw", "hex head sheet metal screw", OTHER),
    ("fastener.thread", "Type 17, coarse", "machine thread", OTHER),
    ("fastener.size", "No. 10", "No. 12", SAFE),
    ("fastener.size", "No. 10", "No. 9", UNSAFE),
    ("fastener.length", "1-1/2 in", "2 in", SAFE),
    ("fastener.length", "1-1/2 in", "1 in", UNSAFE),
    ("fastener.head", "0.435 in", "0.5 in", SAFE),
    ("fastener.head", "0.435 in", "0.4 in", UNSAFE),
    ("fastener.washer", "oversize washer", "none", OTHER),
    ("fastener.count", "2", "3", SAFE),
    ("fastener.count", "2", "1", UNSAFE),
    ("fastener.penetration", "15/32 in", "19/32 in", SAFE),
    ("fastener.penetration", "15/32 in", "7/16 in", UNSAFE),
    ("deck.type", "plywood", "OSB", OTHER),
    ("deck.thickness", "15/32 in", "19/32 in", SAFE),
    ("deck.thickness", "15/32 in", "7/16 in", UNSAFE),
    ("deck.attachment", "screwed", "nailed", OTHER),
    ("deck.fastener_spacing", "6 in", "4 in", SAFE),
    ("deck.fastener_spacing", "6 in", "12 in", UNSAFE),
    ("deck.joints", "sealed", "open", OTHER),
    ("deck.edges", "blocked", "clips", OTHER),
    ("support.spacing", "24 in", "16 in", SAFE),
    ("support.spacing", "16 in", "24 in", UNSAFE),
    ("insulation.type", "none", "polyisocyanurate board", OTHER),
    ("insulation.type", "polyisocyanurate board", "none", OTHER),
    ("underlayment.type", "one layer of No. 30 felt", "self-adhered sheet", OTHER),
    ("air_seal.type", "plywood joints sealed", "none", OTHER),
]


@pytest.mark.parametrize(("field", "tested", "proposed", "side"), DIRECTIONS)
def test_one_change_from_the_specimen(field: str, tested: str, proposed: str, side: str) -> None:
    path = field.replace(".", "__")
    review = reviewed(changed(ROOF, **{path: proposed}), report(changed(ROOF, **{path: tested})))
    document = paper(review)
    assert differing(document) == {field: side}
    assert (difference(document, field).tested, difference(document, field).proposed) == (tested, proposed)
    assert document.runs[0].covers == ("yes" if side == SAFE else "no")
    assert verdict(review, "zone_uplift") == ("complies" if side == SAFE else "not shown")


def test_the_same_assembly_is_covered() -> None:
    document = paper(reviewed(ROOF, report(ROOF)))
    assert differing(document) == {}
    assert document.runs[0].covers == "yes"
    assert document.standing == "stands"


def test_insulation_on_a_steel_deck_may_be_thinner_and_not_thicker() -> None:
    deck = changed(
        ROOF,
        deck__type="steel deck",
        deck__attachment="welded",
        deck__edges=None,
        insulation__type="polyisocyanurate board",
        insulation__thickness="3 in",
    )
    thinner = changed(deck, insulation__thickness="2 in")
    thicker = changed(deck, insulation__thickness="4 in")
    assert paper(reviewed(thinner, report(deck))).runs[0].covers == "yes"
    assert differing(paper(reviewed(thicker, report(deck)))) == {"insulation.thickness": UNSAFE}


def test_a_lighter_purlin_is_not_covered() -> None:
    lighter = changed(PURLINS, support__thickness="16 ga")
    assert differing(paper(reviewed(lighter, report(PURLINS)))) == {"support.thickness": UNSAFE}


@pytest.mark.parametrize("path", [f"{group}__{name}" for group in ROOF for name in ROOF[group]])
def test_a_fact_that_nobody_states_is_not_a_pass(path: str) -> None:
    """Taken from the proposal, from the specimen or from both: never covered because of it."""
    here, there = changed(ROOF, **{path: None}), changed(ROOF, **{path: None})
    whole = paper(reviewed(ROOF, report(ROOF))).runs[0].covers
    assert whole == "yes"
    field = path.replace("__", ".")
    judged = {d.field for d in paper(reviewed(ROOF, report(ROOF))).runs[0].differences}
    for proposed, specimen in ((here, ROOF), (ROOF, there), (here, there)):
        document = paper(reviewed(proposed, report(specimen, holder=None)))
        if field in judged:
            assert document.runs[0].covers == "not shown"
            assert differing(document)[field] == "not shown"


def test_missing_facts_are_listed_as_questions() -> None:
    review = reviewed(changed(ROOF, clip__spacing=None), report(ROOF))
    found = finding(review, "zone_uplift")
    assert found.verdict == "not shown"
    assert [(item.path, item.reason) for item in found.missing] == [
        ("proposed.clip.spacing", "not stated in the proposal")
    ]


def test_opposing_changes_are_not_netted() -> None:
    """12 in panels at 30 in clips load a clip less than 16 in at 24 in, and are not covered all the same."""
    document = paper(reviewed(changed(ROOF, panel__width="12 in", clip__spacing="30 in"), report(ROOF)))
    assert differing(document) == {"panel.width": SAFE, "clip.spacing": UNSAFE}
    assert document.runs[0].covers == "no"


def test_several_changes_to_the_safe_side_are_covered() -> None:
    safer = changed(ROOF, panel__width="14 in", clip__spacing="18 in", deck__fastener_spacing="4 in")
    document = paper(reviewed(safer, report(ROOF)))
    assert set(differing(document).values()) == {SAFE}
    assert document.runs[0].covers == "yes"


def test_a_thinner_deck_cuts_the_penetration_too() -> None:
    osb = changed(ROOF, deck__type="OSB", deck__thickness="7/16 in", fastener__penetration="7/16 in")
    assert differing(paper(reviewed(osb, report(ROOF)))) == {
        "deck.type": OTHER,
        "deck.thickness": UNSAFE,
        "fastener.penetration": UNSAFE,
    }


def test_a_stronger_deck_than_the_job_builds_is_another_deck() -> None:
    tested = changed(
        ROOF, deck__attachment="screwed", deck__joints="sealed", air_seal__type="joints and perimeter sealed"
    )
    assert differing(paper(reviewed(ROOF, report(tested)))) == {
        "deck.attachment": OTHER,
        "deck.joints": OTHER,
        "air_seal.type": OTHER,
    }


def test_a_change_of_metal_makes_thickness_and_yield_mean_nothing() -> None:
    aluminum = changed(
        ROOF, panel__material="aluminum", panel__thickness="0.040 in", panel__yield_strength="17 ksi"
    )
    document = paper(reviewed(aluminum, report(ROOF)))
    assert differing(document) == {
        "panel.material": OTHER,
        "panel.thickness": "not shown",
        "panel.yield_strength": "not shown",
    }
    assert document.runs[0].covers == "no"


@pytest.mark.parametrize(
    ("tested", "proposed", "covers"),
    [
        ("24 ga, nominal", "0.0236 in, minimum coated", "yes"),
        ("24 ga", "24 ga", "yes"),
        ("0.0236 in, minimum coated", "0.0187 in, minimum coated", "no"),
        ("0.0236 in, minimum coated", "0.0296 in, minimum coated", "yes"),
        ("0.0276 in, nominal", "0.0239 in, minimum base metal", "yes"),
    ],
)
def test_thickness_compares_like_with_like(tested: str, proposed: str, covers: str) -> None:
    specimen = changed(ROOF, panel__thickness=tested)
    document = paper(reviewed(changed(ROOF, panel__thickness=proposed), report(specimen)))
    assert document.runs[0].covers == covers


def test_no_coverage_is_put_together_from_two_papers() -> None:
    """One report has the width, the other the clip spacing; neither has both."""
    wide = report(changed(ROOF, clip__spacing="12 in"), id="T-1")
    close = report(changed(ROOF, panel__width="12 in", clip__spacing="24 in"), id="T-2")
    review = reviewed(ROOF, wide, close)
    assert {paper(review, id).runs[0].covers for id in ("T-1", "T-2")} == {"no"}
    assert verdict(review, "zone_uplift") == "not shown"


# Length, spans ---------------------------------------------------------------------------------------------------


def test_a_chamber_specimen_of_several_spans_stands_for_a_longer_panel() -> None:
    long = changed(ROOF, panel__length="43 ft", panel__spans="21")
    assert paper(reviewed(long, report(ROOF))).runs[0].covers == "yes"


@pytest.mark.parametrize(("tested", "proposed"), [("1", "5"), ("2", "12"), ("5", "1"), ("4", "2")])
def test_one_or_two_spans_do_not_stand_for_many_nor_many_for_them(tested: str, proposed: str) -> None:
    specimen = changed(ROOF, panel__spans=tested, panel__length="6 ft")
    offered = changed(ROOF, panel__spans=proposed, panel__length="20 ft")
    assert paper(reviewed(offered, report(specimen))).runs[0].covers == "no"


def test_a_shorter_panel_than_a_single_span_specimen() -> None:
    specimen = changed(ROOF, panel__spans="1", panel__length="6 ft")
    assert paper(reviewed(changed(specimen, panel__length="5 ft"), report(specimen))).runs[0].covers == "yes"


# Whose panel -----------------------------------------------------------------------------------------------------


def test_the_holder_stands_where_the_specimen_names_no_maker() -> None:
    specimen = changed(ROOF, panel__manufacturer=None)
    assert paper(reviewed(ROOF, report(specimen))).runs[0].covers == "yes"
    other = report(specimen, holder="Another Maker (invented)")
    assert differing(paper(reviewed(ROOF, other))) == {"panel.manufacturer": OTHER}


def test_a_private_label_is_covered_where_the_paper_names_it() -> None:
    label = changed(ROOF, panel__manufacturer="Quoin Label Company (invented)")
    assert paper(reviewed(label, report(ROOF))).runs[0].covers == "no"
    named = report(ROOF, also_names="Quoin Label Company (invented)")
    assert paper(reviewed(label, named)).runs[0].covers == "yes"


def test_a_listing_of_several_makers_names_each_of_them() -> None:
    specimen = changed(ROOF, panel__manufacturer=None)
    listing = report(
        specimen,
        id="L-1",
        kind="blanket listing",
        offered_as="blanket listing",
        holder="Other Metals, Fen Hollow Panels and Third Works (all invented)",
        body="UL",
    )
    assert paper(reviewed(ROOF, listing), "L-1").runs[0].covers == "yes"


def test_a_clip_makers_report_does_not_cover_anothers_panel() -> None:
    specimen = changed(ROOF, panel__manufacturer=None)
    document = paper(reviewed(ROOF, report(specimen, holder="Clip Works (invented)")))
    assert standing(document, "zone_uplift") == "does not cover"
