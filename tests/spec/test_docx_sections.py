"""Finding the sections of a file, and which of them are about metal roofs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from docx_build import CSI_STYLES, build, cell, p, r, raw_run, row, style, t, tbl

from cleatmark.spec.clauses import Specification
from cleatmark.spec.document import read_docx
from cleatmark.spec.roofs import is_roof
from cleatmark.spec.sections import fold

PLAIN = style("Normal", default=True) + style("TOC1", name="toc 1") + style("SCT", name="Title")
CENTER = '<w:jc w:val="center"/>'
BODY = [
    p("PART 1 GENERAL"), p("1.01 SUMMARY"), p("A. Text."), p("PART 2 PRODUCTS"), p("2.01 PRODUCTS"), p("A. Text."),
    p("END OF SECTION"),
]  # fmt: skip
ROOF = "METAL ROOF PANELS"


def read(tmp_path: Path, blocks: list[str], **options: Any) -> tuple[Specification, list[str]]:
    specification, problems = read_docx(
        build(tmp_path / "manual.docx", blocks, **{"styles": PLAIN, **options})
    )
    return specification, [problem.message for problem in problems]


def found(tmp_path: Path, blocks: list[str], **options: Any) -> list[tuple[str, str, bool]]:
    return [(one.number, one.title, one.roof) for one in read(tmp_path, blocks, **options)[0].sections]


@pytest.mark.parametrize(
    ("lines", "number", "title"),
    [
        ([p(f"SECTION 07 41 13 - {ROOF}")], "07 41 13", ROOF),
        ([p(f"SECTION 07 41 13 \u2013 {ROOF}", props=CENTER)], "07 41 13", ROOF),
        ([p("SECTION 074113", props=CENTER), p(ROOF, props=CENTER)], "07 41 13", ROOF),
        ([p("SECTION 074113"), p(ROOF)], "07 41 13", ROOF),
        ([p("SECTION 07 4113", props=CENTER), p("STANDING SEAM", props=CENTER), p(ROOF, props=CENTER)], "07 41 13",
         f"STANDING SEAM {ROOF}"),
        ([p("Section 07 41 13.16"), p("Standing Seam Roof Panels")], "07 41 13.16", "Standing Seam Roof Panels"),
        ([p(raw_run(t("SECTION 07 41 13") + "<w:br/>" + t(ROOF)))], "07 41 13", ROOF),
        ([p("SECTION 07\u00a041\u00a013:\u00a0METAL ROOF PANELS")], "07 41 13", ROOF),
        ([p("07 41 13 METAL ROOF PANELS", "SCT")], "07 41 13", ROOF),
        ([p("074113 - Standing Seam Metal Roof Panels")], "07 41 13", "Standing Seam Metal Roof Panels"),
        ([p("SECTION 07410 - PREFORMED METAL ROOFING")], "07410", "PREFORMED METAL ROOFING"),
        ([p("SECTION 07610"), p("SHEET METAL ROOFING")], "07610", "SHEET METAL ROOFING"),
        ([p("SECTION 07 61 14.00 20"), p("STEEL STANDING SEAM ROOFING")], "07 61 14.00 20",
         "STEEL STANDING SEAM ROOFING"),
        ([p("SECTION 13 34 19 - METAL BUILDING SYSTEMS")], "13 34 19", "METAL BUILDING SYSTEMS"),
        ([p("SECTION NO. 07 41 13: METAL ROOF PANELS")], "07 41 13", ROOF),
        ([tbl(row("SECTION 07 41 13", ROOF))], "07 41 13", ROOF),
        ([tbl(row(cell(p("SECTION 07 41 13 - METAL ROOF PANELS"))))], "07 41 13", ROOF),
    ],
)  # fmt: skip
def test_title_lines(tmp_path: Path, lines: list[str], number: str, title: str) -> None:
    specification, problems = read(tmp_path, [*lines, *BODY])
    [section] = specification.sections
    assert (section.number, section.title, section.roof) == (number, title, True)
    assert problems == []
    assert [clause.text for clause in section.clauses] == [
        "GENERAL",
        "SUMMARY",
        "Text.",
        "PRODUCTS",
        "PRODUCTS",
        "Text.",
    ]
    assert {clause.section for clause in section.clauses} == {number}


def test_several_sections_and_only_their_title_lines(tmp_path: Path) -> None:
    toc_field = raw_run('<w:fldChar w:fldCharType="begin"/>') + raw_run("<w:instrText>TOC \\o</w:instrText>")
    toc_field += raw_run('<w:fldChar w:fldCharType="separate"/>') + r("SECTION 07 41 13 - METAL ROOF PANELS")
    blocks = [
        p("PROJECT MANUAL", props=CENTER),
        p(toc_field),
        p(r("SECTION 08 44 13 - CURTAIN WALLS") + raw_run('<w:fldChar w:fldCharType="end"/>')),
        p("SECTION 07 54 23 - MEMBRANE ROOFING", "TOC1"),
        p("07 41 13\tMetal Roof Panels\t12"),
        p("SECTION 07 42 13 - METAL WALL PANELS ........ 30"),
        p("07 42 13 Metal Wall Panels"),
        p("08 44 13 Glazed Curtain Walls"),
        p("SECTION 07 42 13 - METAL WALL PANELS"), *BODY,
        p("SECTION 07 41 13 - METAL ROOF PANELS"),
        p("PART 1 GENERAL"), p("1.01 SUMMARY"), p("A. Related Sections:"),
        p("Section 07 62 00 - Sheet Metal Flashing and Trim"),
        p('Section 06 10 00 "Rough Carpentry" for plywood.'),
        p("SECTION 05 31 23 - STEEL DECK"),
        p("1.02 REFERENCES"), p("A. Text."), p("END OF SECTION"),
        p("SECTION 08 44 13 - GLAZED CURTAIN WALLS"), *BODY,
    ]  # fmt: skip
    assert found(tmp_path, blocks) == [
        ("07 42 13", "METAL WALL PANELS", False),
        ("07 41 13", "METAL ROOF PANELS", True),
        ("08 44 13", "GLAZED CURTAIN WALLS", False),
    ]
    roof = read(tmp_path, blocks)[0].sections[1]
    assert [clause.address for clause in roof.clauses][-2:] == ["1.02", "1.02.A"]
    assert any("05 31 23" in clause.text for clause in roof.clauses)


def test_a_related_section_under_the_part_heading_is_no_title(tmp_path: Path) -> None:
    blocks = [
        p("SECTION 07 41 13 - METAL ROOF PANELS"),
        p("PART 1 GENERAL"),
        p("Section 07 62 00 - Flashing"),
        *BODY[1:],
    ]
    assert found(tmp_path, blocks) == [("07 41 13", ROOF, True)]


def test_automatic_numbers_after_a_title(tmp_path: Path) -> None:
    blocks = [
        p("SECTION 07 41 13 - METAL ROOF PANELS"), p("GENERAL", "PRT"), p("SUMMARY", "ART"), p("Text.", "PR1"),
        p("Section 07 62 00", "PR1"), p("Section 06 10 00 - Rough Carpentry"), p("MORE", "ART"),
    ]  # fmt: skip
    specification, _ = read(tmp_path, blocks, styles=CSI_STYLES)
    assert [one.number for one in specification.sections] == ["07 41 13"]
    assert [one.address for one in specification.sections[0].clauses] == [
        "PART 1", "1.01", "1.01.A", "1.01.B", "1.01", "1.02",
    ]  # fmt: skip


def test_a_manual_without_a_roof_says_what_it_holds(tmp_path: Path) -> None:
    blocks = [
        p("SECTION 07 54 23 - THERMOPLASTIC MEMBRANE ROOFING"),
        *BODY,
        p("SECTION 08 44 13 - CURTAIN WALLS"),
        *BODY,
    ]
    _, [message] = read(tmp_path, blocks)
    assert message == (
        "no metal roof section is in this file; "
        "it holds 07 54 23 THERMOPLASTIC MEMBRANE ROOFING; 08 44 13 CURTAIN WALLS"
    )


@pytest.mark.parametrize(
    "blocks",
    [
        [p("PART 1 GENERAL"), p("1.01 SUMMARY"), p("A. x"), p("2.01 METAL ROOF PANELS"), p("A. 24 gauge.")],
        [p("STANDING SEAM ROOFING", props=CENTER), *BODY],
        [p("1.01 SUMMARY"), p("A. Standing seam metal roof over plywood."), p("B. Clips for metal roof panels.")],
    ],
)  # fmt: skip
def test_one_roof_section_without_a_heading(tmp_path: Path, blocks: list[str]) -> None:
    specification, problems = read(tmp_path, blocks)
    [section] = specification.sections
    assert (section.number, section.roof, problems) == ("", True, [])


@pytest.mark.parametrize(
    "blocks",
    [
        [p("1.01 SUMMARY"), p("A. Gypsum board.")],
        [p("1.01 METAL WALL PANELS"), p("A. Panels over girts."), p("1.02 CURTAIN WALLS"), p("A. Glass.")],
        [
            p("SUMMARY"),
            p("A. Membrane roofing, single-ply, over the existing metal roof."),
            p("B. Membranes."),
        ],
    ],
)
def test_another_section_without_a_heading(tmp_path: Path, blocks: list[str]) -> None:
    specification, [message] = read(tmp_path, blocks)
    assert not any(section.roof for section in specification.sections)
    assert message.startswith("no metal roof section is in this file")


def test_the_page_header_is_the_last_resort(tmp_path: Path) -> None:
    header = p("Example School\tNovember 14, 2025") + p("METAL ROOF PANELS\t07 41 13 - 1")
    specification, problems = read(tmp_path, [p(ROOF, props=CENTER), *BODY], headers=[header])
    [section] = specification.sections
    assert (section.number, section.title, section.roof, problems) == ("07 41 13", ROOF, True, [])
    assert section.clauses[0].address == "PART 1"
    assert specification.header == ("Example School\tNovember 14, 2025", "METAL ROOF PANELS\t07 41 13 - 1")
    assert specification.dated == "November 14, 2025"


def test_page_headers_tell_two_sections_apart(tmp_path: Path) -> None:
    first = '<w:sectPr><w:headerReference w:type="default" r:id="rH0"/></w:sectPr>'
    last = '<w:headerReference w:type="default" r:id="rH1"/>'
    blocks = [*BODY, p(props=first), *BODY]
    headers = [p("METAL WALL PANELS\t07 42 13 - 1"), p("METAL ROOF PANELS 074113")]
    assert found(tmp_path, blocks, headers=headers, section=last) == [
        ("07 42 13", "METAL WALL PANELS", False),
        ("07 41 13", "METAL ROOF PANELS", True),
    ]


def test_headers_are_never_clauses(tmp_path: Path) -> None:
    header = tbl(row("SECTION 07 41 13", "Class 90")) + p("24 gauge")
    specification, _ = read(tmp_path, [p("SECTION 07 41 13 - METAL ROOF PANELS"), *BODY], headers=[header])
    assert specification.header == ("SECTION 07 41 13", "Class 90", "24 gauge")
    assert not any("24" in clause.text or "90" in clause.text for clause in specification.sections[0].clauses)


@pytest.mark.parametrize(
    ("line", "dated"),
    [
        ("100% CD\t2025-03-01", "2025-03-01"),
        ("Issued for bid: 14 November 2025", "14 November 2025"),
        ("Nov. 14, 2025", "Nov. 14, 2025"),
        ("11/14/2025", "11/14/2025"),
        ("Bid Set, October 2025", "October 2025"),
        ("SECTION 07 41 13 - 1", ""),
    ],
)
def test_the_date_of_issue_as_printed(tmp_path: Path, line: str, dated: str) -> None:
    title = p("SECTION 07 41 13 - METAL ROOF PANELS")
    assert read(tmp_path, [title, *BODY], headers=[p(line)])[0].dated == dated
    assert read(tmp_path, [p(line), title, *BODY])[0].dated == dated


def test_the_day_of_printing_is_no_date_of_issue(tmp_path: Path) -> None:
    clock = '<w:fldSimple w:instr=" DATE \\@ x ">' + r("May 1, 2031") + "</w:fldSimple>"
    title = p("SECTION 07 41 13 - METAL ROOF PANELS")
    assert read(tmp_path, [title, *BODY], headers=[p(clock)])[0].dated == ""


@pytest.mark.parametrize(
    ("written", "folded"),
    [
        ("074113", "07 41 13"),
        ("07 4113", "07 41 13"),
        ("07-41-13", "07 41 13"),
        ("07 41 13.16", "07 41 13.16"),
        ("074113.16", "07 41 13.16"),
        ("07.41.13", "07 41 13"),
        ("07 61 14.00 20", "07 61 14.00 20"),
        ("07410", "07410"),
    ],
)
def test_numbers_fold_to_pairs(written: str, folded: str) -> None:
    assert fold(written) == folded


@pytest.mark.parametrize(
    ("number", "title", "roof"),
    [
        ("07 41 13", "METAL ROOF PANELS", True),
        ("07 41 00", "ROOF AND WALL PANELS", True),
        ("07 41 63", "FABRICATED ROOF PANEL ASSEMBLIES", True),
        ("07 61 13", "SHEET METAL ROOFING", True),
        ("07 61 00", "SHEET METAL ROOFING AND FLASHING", True),
        ("07 60 00", "SHEET METAL ROOFING AND FLASHING", True),
        ("13 34 19", "METAL BUILDING SYSTEMS", True),
        ("07411", "", True),
        ("13120", "PRE-ENGINEERED STRUCTURES", True),
        ("07 40 00", "STANDING SEAM METAL ROOF AND SOFFITS", True),
        ("07 41 13", "METAL WALL PANELS", False),
        ("07 42 13", "FORMED METAL WALL PANELS", False),
        ("08 44 13", "GLAZED ALUMINUM CURTAIN WALLS", False),
        ("07 54 23", "THERMOPLASTIC MEMBRANE ROOFING", False),
        ("07 53 23", "EPDM ROOFING OVER METAL ROOF PANELS", False),
        ("05 31 23", "STEEL ROOF DECKING", False),
        ("07 62 00", "SHEET METAL FLASHING AND TRIM", False),
        ("07 72 00", "METAL ROOF ACCESSORIES", False),
        ("07 31 13", "ASPHALT SHINGLES", False),
        ("13 12 00", "FOUNTAINS", False),
        ("09 29 00", "GYPSUM BOARD", False),
    ],
)
def test_which_sections_are_roofs(number: str, title: str, roof: bool) -> None:
    assert is_roof(number, title) is roof
