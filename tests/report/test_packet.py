"""The packet and the field sheet: what they say, where it comes from, and that they open as DOCX."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from lxml import etree
from msgspec.structs import replace

from cleatmark.report.blocks import Block, Box, Heading, Table, anchors_of
from cleatmark.report.field_sheet import field_sheet, field_sheet_bytes, write_field_sheet
from cleatmark.report.packet import packet, packet_bytes, write_packet
from cleatmark.report.page import page
from cleatmark.report.plain import text_of
from cleatmark.review.model import STANDING_CAUTIONS, Plan, Review

from .fixture import COMPLIES, LISTED, LISTING, NO_SPEC, ROOFS, STATES, SWAP

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"


def words(made: tuple[Block, ...]) -> str:
    return text_of(page(made, 160))


def cell(table: Table, row: int, column: int) -> str:
    return "".join(span.text for span in table.rows[row].cells[column]).replace("\u00a0", " ").strip()


def tables(made: tuple[Block, ...], caption: str) -> list[Table]:
    return [block for block in made if isinstance(block, Table) and block.caption.startswith(caption)]


def test_each_request_is_a_sheet_of_its_own_to_one_addressee() -> None:
    sheets = [block for block in packet(LISTED) if isinstance(block, Heading) and block.new_page]
    assert [sheet.text for sheet in sheets] == [
        "Request to the maker",
        "Request to the deck trade",
        "Comments on the submittal",
        "Proposed text for the specification",
    ]
    assert {sheet.anchor for sheet in sheets} <= anchors_of(packet(LISTED))


def test_a_question_is_traced_to_its_item_and_its_clauses_and_leaves_room_for_an_answer() -> None:
    maker, deck = tables(packet(LISTED), "Questions")
    assert cell(maker, 0, 1) == "Please send the UL 580 report for this assembly over nailed plywood."
    assert cell(maker, 0, 2) == "item 1 [07 41 13, 1.04.B.2]"
    assert cell(maker, 0, 3) == ""
    assert maker.rows[0].tall
    assert cell(deck, 0, 2) == "item 2 [07 41 13, 2.03.A]"
    assert "[07 41 13, 2.03.A] “Deck: 19/32 inch plywood, nailed, as indicated.”" in words(packet(LISTED))


def test_where_the_rules_of_each_question_are_known_they_are_used() -> None:
    maker = replace(
        LISTED.requests[0],
        questions=("First?", "Second?"),
        concerns=(("zone_uplift",), ("listing_condition",)),
    )
    made = tables(packet(replace(LISTED, requests=(maker,))), "Questions")[0]
    assert [cell(made, n, 2) for n in (0, 1)] == ["item 1 [07 41 13, 1.04.C]", "item 2 [07 41 13, 2.03.A]"]


def test_a_question_is_matched_with_the_finding_whose_remedy_or_lack_it_is() -> None:
    remedy = LISTED.findings[3].remedy
    both = replace(
        LISTED.requests[0],
        questions=(remedy, "Last pressure step held: not stated. Please state it."),
        rules=("uplift_class", "zone_uplift", "listing_condition"),
    )
    made = tables(packet(replace(LISTED, requests=(both,))), "Questions")[0]
    assert [cell(made, n, 2) for n in (0, 1)] == ["item 2 [07 41 13, 2.03.A]", "item 1 [07 41 13, 1.04.C]"]


def test_comments_carry_item_message_remedy_clause_and_action() -> None:
    made = tables(packet(SWAP), "Comments")[0]
    assert [cell(made, n, 0) for n in range(3)] == ["1", "2", "3"]
    assert cell(made, 2, 1).startswith("Panel thickness. 24 ga is specified; 26 ga is proposed")
    assert "Propose 24 ga" in cell(made, 2, 1)
    assert (cell(made, 2, 2), cell(made, 2, 3)) == ("[07 41 13, 2.02.A.1]", "resubmit")


def test_proposed_text_stands_beside_the_clause_as_it_reads_now() -> None:
    told = words(packet(LISTED))
    assert "Reads now  “Corner: 48.2 psf; perimeter: 39.5 psf" in told
    assert "[to be written by the author of the section]" in told
    advice = replace(LISTED.advice[0], replacement="Corner: 48.2 psf; Class 90 is a minimum beside it.")
    told = words(packet(replace(LISTED, advice=(advice,))))
    assert "Proposed   Corner: 48.2 psf; Class 90 is a minimum beside it." in told
    assert "to be written" not in told


def test_a_job_with_nothing_open_has_no_request() -> None:
    told = words(packet(NO_SPEC))
    assert "Request to" not in told
    assert "No comment: nothing deviates and nothing is left not shown." in told


def test_the_field_sheet_gives_spacing_by_zone_and_parts_as_tested() -> None:
    zones = tables(field_sheet(COMPLIES), "By roof zone")[0]
    assert [column.title for column in zones.columns] == ["As tested", "field", "perimeter", "corner"]
    told = {cell(zones, n, 0): cell(zones, n, 3) for n in range(len(zones.rows))}
    assert told["Clips at"] == "24 in"
    assert told["Holds"] == "52.5 psf, where 48.2 psf is needed"
    assert told["Shown by"] == "T-118, run 1, page 6"
    parts = tables(field_sheet(COMPLIES), "In every zone, as tested")[0]
    told = {cell(parts, n, at): cell(parts, n, at + 1) for n in range(len(parts.rows)) for at in (0, 2)}
    assert told["Clip"] == "PC-2F, two-piece floating"
    assert told["Screw"] == "No. 12, pancake head wood screw"
    assert (told["Screw length"], told["Thread"], told["Head"]) == ("1-1/2 in", "Type 17, coarse", "0.435 in")
    assert told["Screws per clip"] == "2"
    assert told["Deck fastening"] == "nailed, at 6 in"
    assert told["Seam"] == "180 degree mechanical, 1-3/4 in high (proposed: 2 in)"
    assert "Do not build" not in words(field_sheet(COMPLIES))


def test_a_part_that_differs_between_zones_is_told_by_zone() -> None:
    report = COMPLIES.evidence[0]
    other = tuple(
        replace(row, tested="3") if row.field == "fastener.count" else row
        for row in report.runs[1].differences
    )
    report = replace(report, runs=(report.runs[0], replace(report.runs[1], differences=other)))
    zones = (*COMPLIES.zones[:2], replace(COMPLIES.zones[2], run="2"))
    made = field_sheet(replace(COMPLIES, evidence=(report,), zones=zones))
    table = tables(made, "By roof zone")[0]
    row = next(n for n in range(len(table.rows)) if cell(table, n, 0) == "Screws per clip")
    assert [cell(table, row, n) for n in (1, 2, 3)] == ["2", "2", "3"]
    assert "Screws per clip" not in words((tables(made, "In every zone")[0],))


def test_a_page_a_roof() -> None:
    roofs = [block for block in field_sheet(ROOFS) if isinstance(block, Heading) and block.level == 2]
    assert [(roof.text, roof.new_page) for roof in roofs] == [
        ("Field sheet: main roof", False),
        ("Field sheet: porch roof", True),
    ]
    assert "419 mm" in words(field_sheet(ROOFS))


@pytest.mark.parametrize("state", ["swap", "listed"])
def test_what_is_not_shown_to_hold_is_not_to_be_built_from(state: str) -> None:
    made = field_sheet(STATES[state])
    box = next(block for block in made if isinstance(block, Box))
    assert box.title == "Do not build from this sheet yet"
    assert "Not shown to hold: field, perimeter, corner." in words(made)
    table = tables(made, "By roof")[0]
    assert {cell(table, 0, n) for n in range(1, len(table.columns))} == {"not shown"}
    assert "24 in" not in words((table,))


def test_conditions_are_listed_before_what_hides_them() -> None:
    zones = tuple(replace(row, document="TGX-90", run="") for row in COMPLIES.zones)
    made = field_sheet(replace(COMPLIES, zones=zones, evidence=(LISTING,)))
    table = tables(made, "To be looked at")[0]
    assert cell(table, 0, 0) == "TGX-90: Deck screwed to its supports at 6 in (not confirmed)"
    assert cell(table, 0, 1) == "underlayment"


def test_a_job_without_zones_says_so_and_cautions() -> None:
    told = words(field_sheet(replace(COMPLIES, zones=())))
    assert "No roof zone could be reviewed" in told
    assert STANDING_CAUTIONS[0] in " ".join(told.split())


def test_zones_that_are_built_alike_are_told_once() -> None:
    zones = tuple(replace(COMPLIES.zones[0], zone=f"zone {n}") for n in range(7))
    (table,) = tables(field_sheet(replace(COMPLIES, zones=zones)), "By roof")
    assert [column.title for column in table.columns][1:] == [", ".join(f"zone {n}" for n in range(7))]


def test_many_zones_that_differ_are_told_in_rows() -> None:
    zones = tuple(
        replace(COMPLIES.zones[0], zone=f"zone {n}", clip_spacing_in=float(24 - n)) for n in range(7)
    )
    (table,) = tables(field_sheet(replace(COMPLIES, zones=zones)), "By roof")
    assert [column.title for column in table.columns] == ["Zone", "Clips at", "Holds", "Shown by"]
    assert [cell(table, n, 1) for n in range(7)] == [f"{24 - n} in" for n in range(7)]


def test_plans_stand_on_the_sheet_of_their_roof() -> None:
    plans = (
        Plan("Main", "Main roof zones", roof="main roof"),
        Plan("Porch", "Porch roof zones", roof="porch roof"),
    )
    told = words(field_sheet(replace(ROOFS, plans=plans)))
    assert (
        told.index("Main roof zones") < told.index("Field sheet: porch roof") < told.index("Porch roof zones")
    )


@pytest.mark.parametrize("make", [packet_bytes, field_sheet_bytes])
@pytest.mark.parametrize("state", STATES)
def test_they_are_documents_with_cautions_and_the_same_bytes_each_time(
    make: Callable[[Review], bytes], state: str
) -> None:
    data = make(STATES[state])
    assert data == make(STATES[state])
    with ZipFile(BytesIO(data)) as archive:
        document = etree.fromstring(archive.read("word/document.xml"))
    told = ["".join(paragraph.itertext(f"{W}t")) for paragraph in document.iter(f"{W}p")]
    assert all(any(caution in one for one in told) for caution in STANDING_CAUTIONS)


def test_they_are_written(tmp_path: Path) -> None:
    write_packet(SWAP, tmp_path / "packet.docx", "A4")
    write_field_sheet(SWAP, tmp_path / "sheet.docx", "A4")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["packet.docx", "sheet.docx"]
