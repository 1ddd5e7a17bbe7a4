"""Addresses as a reader finds them on paper. Each line gives the expected address beside the paragraph."""

from __future__ import annotations

from pathlib import Path

import pytest
from docx_build import (
    CSI_NUMBERING,
    CSI_STYLES,
    abstract,
    build,
    cell,
    lvl,
    num,
    p,
    r,
    restart,
    row,
    style,
    tbl,
)

from cleatmark.spec.clauses import Clause
from cleatmark.spec.document import read_docx

PLAIN = style("Normal", default=True)
CENTER = '<w:jc w:val="center"/>'
Lines = list[tuple[str, str]]


def clauses(tmp_path: Path, blocks: list[str], **options: str) -> list[Clause]:
    specification, _ = read_docx(build(tmp_path / "outline.docx", blocks, **options))
    return [clause for section in specification.sections for clause in section.clauses]


def check(tmp_path: Path, lines: Lines, **options: str) -> list[Clause]:
    read = clauses(tmp_path, [block for _, block in lines], **options)
    assert [clause.address for clause in read] == [address for address, _ in lines], [
        (clause.address, clause.label, clause.text) for clause in read
    ]
    return read


def typed(*lines: tuple[str, str]) -> Lines:
    return [(address, p(text)) for address, text in lines]


CSI_TYPED = typed(
    ("PART 1", "PART 1 - GENERAL"),
    ("1.01", "1.01\tSUMMARY"),
    ("1.01.A", "A.\tSection includes metal roof panels."),
    ("1.04", "1.04 PERFORMANCE REQUIREMENTS"),
    ("1.04.A", "A. Wind uplift:"),
    ("1.04.A.1", "1. Class 90."),
    ("1.04.A.1.a", "a. over plywood"),
    ("1.04.A.1.a.1", "1) at corners"),
    ("1.04.A.1.a.1.a", "a) in Zone 3"),
    ("1.04.A.1.a.1.b", "b) in Zone 2"),
    ("1.04.A.1.b", "b. over steel deck"),
    ("1.04.A.2", "2. Class 60 elsewhere."),
    ("1.04.B", "B. Deflection: L/180."),
    ("PART 2", "PART 2 - PRODUCTS"),
    ("2.01", "2.01 METAL ROOF PANELS"),
    ("2.01.A", "A. General:"),
    ("2.01.A.1", "1. 24 gauge."),
    ("PART 3", "PART 3 - EXECUTION"),
    ("3.01", "3.01 INSTALLATION"),
    ("3.01.A", "A. Clips at 24 inches on center."),
)
ONE_DIGIT = typed(
    ("PART 1", "PART 1 GENERAL"),
    ("1.1", "1.1 Summary"),
    ("1.1.A", "A.\u00a0\u00a0Section includes panels."),
    ("1.2", "1.2 Submittals"),
    ("1.2.A", "A. Product Data"),
    ("1.2.A.1", "1. Panels"),
    ("1.10", "1.10 Warranty"),
    ("1.10.A", "A. Twenty years."),
    ("PART 2", "PART 2 PRODUCTS"),
    ("2.1", "2.1 Panels"),
)
FEDERAL_TYPED = typed(
    ("PART 1", "PART 1   GENERAL"),
    ("1.1", "1.1   SUMMARY"),
    ("1.1", "Provide a standing seam roof system."),
    ("1.2", "1.2   DESIGN REQUIREMENTS"),
    ("1.2.1", "1.2.1   Wind Uplift"),
    ("1.2.1", "Resist the pressures indicated."),
    ("1.2.1.a", "a.  Field: 30 psf."),
    ("1.2.1.b", "b.  Corners: 60 psf."),
    ("1.2.1.b.1", "(1) within 8 feet"),
    ("1.2.1.b.2", "(2) elsewhere"),
    ("1.2.1", "Do not extrapolate test results."),
    ("1.2.1.1", "1.2.1.1   Test Method"),
    ("1.2.1.1", "ASTM E1592."),
    ("1.2.2", "1.2.2   Deflection"),
    ("1.2.2", "L/180."),
    ("1.3", "1.3   SUBMITTALS"),
    ("PART 2", "PART 2   PRODUCTS"),
    ("2.1", "2.1   ROOF PANELS"),
    ("2.1", "0.032 inch aluminum."),
    ("2.1", "1.52 mm 0.060 inch thick."),
    ("2.1.1", "2.1.1   Steel Panels"),
    ("2.1.1", "24 gauge minimum."),
)
ROMAN = typed(
    ("I", "I. GENERAL"),
    ("I.A", "A. SUMMARY"),
    ("I.A.1", "1. Roof panels."),
    ("I.A.2", "2. Clips."),
    ("I.B", "B. SUBMITTALS"),
    ("I.B.1", "1. Product data."),
    ("II", "II. PRODUCTS"),
    ("II.A", "A. PANELS"),
)
PART_WORDS = typed(
    ("PART 1", "Part One - General"),
    ("1.01", "1.01 SUMMARY"),
    ("1.01.A", "A. Panels."),
    ("PART 2", "Part Two - Products"),
    ("2.01", "2.01 PANELS"),
    ("PART III", "PART III EXECUTION"),
    ("3.01", "3.01 INSTALLATION"),
)
LETTERED_ARTICLES = typed(
    ("PART 1", "PART 1 - GENERAL"),
    ("1.A", "A. SUMMARY"),
    ("1.A.1", "1. Panels."),
    ("1.A.1.a", "a. Clips."),
    ("1.B", "B. SUBMITTALS"),
    ("PART 2", "PART 2 - PRODUCTS"),
    ("2.A", "A. PANELS"),
)
NUMBERED_PARTS = typed(
    ("1", "1. GENERAL"),
    ("1.1", "1.1 SUMMARY"),
    ("1.1.A", "A. Panels."),
    ("1.2", "1.2 REFERENCES"),
    ("1.2.A", "A. General:"),
    ("1.2.A.1", "1. ASTM."),
    ("2", "2. PRODUCTS"),
    ("2.1", "2.1 PANELS"),
)
CANADIAN = typed(
    ("PART 1", "Part 1\tGENERAL"),
    ("1.1", "1.1\tSUMMARY"),
    ("1.1.1", ".1\tPanels."),
    ("1.1.2", ".2\tClips:"),
    ("1.1.2.1", ".1\tFixed."),
    ("1.1.2.2", ".2\tFloating:"),
    ("1.1.2.2.1", ".1\tTwo-piece."),
    ("1.1.2.3", ".3\tContinuous."),
    ("1.1.3", ".3\tUnderlayment."),
    ("1.2", "1.2\tDESIGN"),
    ("1.2.1", ".1 Wind uplift:"),
    ("1.2.1.1", ".1\t1.5 kPa in the field."),
    ("1.2.1.2", ".2 Corners: 3 kPa."),
    ("1.2.2", ".2\tSnow."),
)


@pytest.mark.parametrize(
    "lines",
    [CSI_TYPED, ONE_DIGIT, FEDERAL_TYPED, ROMAN, PART_WORDS, LETTERED_ARTICLES, NUMBERED_PARTS, CANADIAN],
    ids=[
        "csi",
        "one digit",
        "federal",
        "roman",
        "part words",
        "lettered articles",
        "numbered parts",
        "canadian",
    ],
)
def test_typed_numbers(tmp_path: Path, lines: Lines) -> None:
    read = check(tmp_path, lines, styles=PLAIN)
    assert not any(clause.text.startswith(clause.label) for clause in read if clause.label)


def test_points_set_in_go_by_their_indent(tmp_path: Path) -> None:
    lines = [
        ("1.1", p("1.1\tPANELS")),
        ("1.1.1", p(".1\tSheet:", left=720)),
        ("1.1.1.1", p(".1\tSteel.", left=1440)),
        ("1.1.1.2", p(".2\tAluminum.", left=1440)),
        ("1.1.2", p(".2\tClips.", left=720)),
        ("1.1.2.1", p(".1\tFixed.", left=1440)),
        ("1.1.3", p(".3\tNot a step from two alone.", left=720)),
    ]
    check(tmp_path, lines, styles=PLAIN)


def test_a_decimal_at_the_start_of_a_paragraph_is_no_label(tmp_path: Path) -> None:
    lines = [("1.1", p("1.1\tPANELS")), ("1.1", p(".5 mm thick.")), ("1.1", p(".032 inch aluminum."))]
    check(tmp_path, lines, styles=PLAIN)


def test_letters_run_past_z_and_i_is_a_letter_after_h(tmp_path: Path) -> None:
    letters = [chr(65 + at) for at in range(26)] + ["AA", "AB", "AC"]
    lines = [("PART 1", p("PART 1 GENERAL")), ("1.01", p("1.01 REFERENCES"))]
    lines += [(f"1.01.{letter}", p(f"{letter}. Standard.")) for letter in letters]
    lines += [("1.01.AC.1", p("1. One."))]
    lines += [(f"1.01.AC.1.{letter}", p(f"{letter}. x")) for letter in "abcdefghij"]
    check(tmp_path, lines, styles=PLAIN)


def test_i_is_roman_where_it_opens_a_list(tmp_path: Path) -> None:
    lines = typed(
        ("1.01", "1.01 PANELS"),
        ("1.01.A", "A. General:"),
        ("1.01.A.1", "1. One:"),
        ("1.01.A.1.a", "a. two:"),
        ("1.01.A.1.a.i", "i. three"),
        ("1.01.A.1.a.ii", "ii. four"),
        ("1.01.A.1.a.iii", "iii. five"),
        ("1.01.A.1.b", "b. six"),
    )
    check(tmp_path, lines, styles=PLAIN)


@pytest.mark.parametrize(
    "sentence",
    [
        "24 gauge minimum, of steel.",
        "2.0 inches is the least seam height.",
        "2.5 Pa is no pressure.",
        "2.0 Minimum safety factor",
        "1.57 PSF is the air test's pressure.",
        "1.5 times the design load.",
        "0.032 inch aluminum sheet.",
        "1.75 IN. high seams.",
        "(45) psf outward.",
        "3. of the panels shall be tested",
        "4-inch strips at the ridge.",
        "No. 10 screws.",
        "in. wide panels",
        "U.L. Construction No. 000.",
        "A 24 gauge panel.",
        "I beams are by others.",
        "e.g. clips",
        "mm. of travel",
        "Part 2 of the standard applies, with the exceptions named.",
        "PART 1 of the submittal shall show the layout of clips.",
        "12 (twelve) months.",
        "20 oz. copper",
        "1/4-14 screws",
        "3:12 slope",
    ],
)
def test_a_sentence_that_begins_with_a_number_is_no_label(tmp_path: Path, sentence: str) -> None:
    lines = [*typed(("PART 1", "PART 1 GENERAL"), ("1.01", "1.01 PANELS"), ("1.01.A", "A. Panels:"))]
    read = check(tmp_path, [*lines, ("1.01.A", p(sentence))], styles=PLAIN)
    assert (read[-1].text, read[-1].label) == (sentence, "")


@pytest.mark.parametrize(
    ("label", "address"),
    [
        ("A.\t", "A"),
        ("A\t", "A"),
        ("A) ", "A"),
        ("(A) ", "A"),
        ("1) ", "1"),
        ("(a)\t", "a"),
        ("a) ", "a"),
        ("1.\t", "1"),
    ],
)
def test_forms_of_a_typed_label(tmp_path: Path, label: str, address: str) -> None:
    lines = [
        *typed(("PART 1", "PART 1 GENERAL"), ("1.01", "1.01 PANELS")),
        (f"1.01.{address}", p(f"{label}Text.")),
    ]
    read = check(tmp_path, lines, styles=PLAIN)
    assert (read[-1].text, read[-1].label) == ("Text.", label.strip())


@pytest.mark.parametrize(
    "heading", ["1.01 SUMMARY", "1.01. SUMMARY", "1.01 - SUMMARY", "1.01\tSUMMARY", "1.01  Summary"]
)
def test_forms_of_an_article_number(tmp_path: Path, heading: str) -> None:
    read = clauses(tmp_path, [p("PART 1 GENERAL"), p(heading)], styles=PLAIN)
    assert (read[1].address, read[1].text.upper(), read[1].level) == ("1.01", "SUMMARY", 1)


def test_centered_part_headings_and_a_part_without_a_title(tmp_path: Path) -> None:
    lines = [
        ("PART 1", p("PART 1", props=CENTER)),
        ("PART 1", p("GENERAL", props=CENTER)),
        ("1.01", p("1.01 SUMMARY")),
    ]
    read = check(tmp_path, [*lines, ("PART 2", p("PART 2 - PRODUCTS", props=CENTER))], styles=PLAIN)
    assert [(clause.text, clause.hidden, clause.part) for clause in read] == [
        ("", False, 1), ("GENERAL", False, 1), ("SUMMARY", False, 1), ("PRODUCTS", False, 2),
    ]  # fmt: skip


def test_an_article_left_out_is_stepped_over(tmp_path: Path) -> None:
    lines = typed(
        ("1.01", "1.01 SUMMARY"), ("1.01.A", "A. x"), ("1.04", "1.04 Quality Assurance"), ("1.04.A", "A. y")
    )
    check(tmp_path, lines, styles=PLAIN)


def test_typed_and_automatic_numbers_mixed(tmp_path: Path) -> None:
    check(
        tmp_path,
        [
            ("PART 1", p("PART 1 GENERAL")), ("1.01", p("1.01 REFERENCES")),
            ("1.01.A", p("x", "PR1")), ("1.01.B", p("x", "PR1")),
            ("1.01.B.1", p("1. typed")), ("1.01.B.2", p("2. typed")), ("1.01.B.2.a", p("x", "PR3")),
            ("1.01.C", p("x", "PR1")),
            ("1.02", p("1.02 SUBMITTALS")), ("1.02.A", p("A. typed")), ("1.02.B", p("B. typed")),
            ("1.02.B.1", p("x", "PR2")), ("1.02.B.2", p("x", "PR2")), ("1.02.C", p("C. typed")),
        ],
    )  # fmt: skip


FEDERAL = (
    abstract(1, lvl(0, "decimal", "PART %1"), lvl(1, "decimal", "%1.%2"), lvl(2, "decimal", "%1.%2.%3"),
             lvl(3, "decimal", "%1.%2.%3.%4"))
    + abstract(2, lvl(0, "lowerLetter", "%1.", left=720), lvl(1, "decimal", "(%2)", left=1080))
    + num(1, 1) + num(2, 2) + num(3, 2, restart(0))
)  # fmt: skip


def test_federal_numbers_and_body_text(tmp_path: Path) -> None:
    """Body text is the heading's, after a list too; text set in as a list item goes on from the item."""
    read = check(
        tmp_path,
        [
            ("PART 1", p("GENERAL", num=(1, 0))), ("1.1", p("SUMMARY", num=(1, 1))), ("1.1", p("Body.")),
            ("1.2", p("SYSTEM", num=(1, 1))), ("1.2.1", p("Wind Uplift", num=(1, 2))), ("1.2.1", p("Body.")),
            ("1.2.1.1", p("Detail", num=(1, 3))), ("1.2.1.1", p("Body.")),
            ("1.2.1.1.a", p("first", num=(2, 0))), ("1.2.1.1.b", p("second", num=(2, 0))),
            ("1.2.1.1.b.1", p("sub", num=(2, 1))),
            ("1.2.1.1", p("After the list.")),
            ("1.2.1.1.b.1", p("goes on from the sub", left=1080)),
            ("1.2.1.1.b", p("goes on from the second", left=720)),
            ("1.2.1.2", p("Next", num=(1, 3))), ("1.2.1.2.a", p("x", num=(3, 0))), ("1.2.1.2.b", p("y", num=(3, 0))),
            ("1.2.1.2", p("After a list under a heading without a body.")),
            ("1.2.2", p("Other", num=(1, 2))), ("1.2.2", p("Body.")),
        ],
        numbering=FEDERAL, styles=PLAIN,
    )  # fmt: skip
    assert read[11].headings == ("GENERAL", "SYSTEM", "Wind Uplift", "Detail")
    assert {clause.article for clause in read[4:]} == {"SYSTEM"}


def test_federal_references_under_centered_names(tmp_path: Path) -> None:
    read = check(
        tmp_path,
        [
            ("PART 1", p("GENERAL", num=(1, 0))), ("1.1", p("REFERENCES", num=(1, 1))),
            ("1.1", p("To the extent referenced.")),
            ("1.1", p("ASTM INTERNATIONAL (ASTM)", props=CENTER)), ("1.1", p("ASTM A653  Steel Sheet")),
            ("1.1", p("UNDERWRITERS LABORATORIES (UL)", props=CENTER)), ("1.1", p("UL 580  Uplift")),
            ("1.2", p("SUBMITTALS", num=(1, 1))),
        ],
        numbering=FEDERAL, styles=PLAIN,
    )  # fmt: skip
    assert read[4].headings == ("GENERAL", "REFERENCES", "ASTM INTERNATIONAL (ASTM)")
    assert read[6].headings[-1] == "UNDERWRITERS LABORATORIES (UL)"
    assert read[7].headings == ("GENERAL",)


def test_body_text_of_a_csi_outline_goes_by_its_indent(tmp_path: Path) -> None:
    check(
        tmp_path,
        [
            ("PART 1", p("GENERAL", "PRT")), ("1.01", p("SUMMARY", "ART")), ("1.01.A", p("a", "PR1")),
            ("1.01.A.1", p("b", "PR2")), ("1.01.A.1", p("as far in as 1.", left=1440)),
            ("1.01.A", p("as far in as A.", left=864)), ("1.01", p("at the margin")),
        ],
    )  # fmt: skip


def test_a_list_of_its_own_within_a_paragraph(tmp_path: Path) -> None:
    numbering = CSI_NUMBERING + abstract(
        8, lvl(0, "decimal", "%1.", left=1440), lvl(1, "lowerLetter", "%2)", left=1800)
    )
    numbering += num(8, 8) + num(9, 8, restart(0))
    check(
        tmp_path,
        [
            ("1.01", p("PANELS", "ART")), ("1.01.A", p("a", "PR1")), ("1.01.A.1", p("x", num=(8, 0))),
            ("1.01.A.1.a", p("x", num=(8, 1))), ("1.01.A.2", p("x", num=(8, 0))), ("1.01.B", p("b", "PR1")),
            ("1.01.B.1", p("x", num=(9, 0))), ("1.01.B.2", p("x", num=(9, 0))), ("1.01.C", p("c", "PR1")),
        ],
        numbering=numbering,
    )  # fmt: skip


def test_a_legal_list_within_a_paragraph_does_not_double(tmp_path: Path) -> None:
    numbering = CSI_NUMBERING + abstract(
        8, lvl(0, "decimal", "%1.", left=1440), lvl(1, "decimal", "%1.%2", left=1800)
    )
    check(
        tmp_path,
        [
            ("1.01", p("PANELS", "ART")), ("1.01.A", p("a", "PR1")), ("1.01.A.1", p("x", num=(8, 0))),
            ("1.01.A.1.1", p("x", num=(8, 1))), ("1.01.A.1.2", p("x", num=(8, 1))), ("1.01.A.2", p("x", num=(8, 0))),
            ("1.02", p("NEXT", "ART")),
        ],
        numbering=numbering + num(8, 8),
    )  # fmt: skip


def test_level_text_that_repeats_its_parents(tmp_path: Path) -> None:
    numbering = abstract(
        1, lvl(0, "decimal", "PART %1"), lvl(1, "decimalZero", "%1.%2"), lvl(2, "upperLetter", "%1.%2.%3"),
        lvl(3, "decimal", "%3.%4"),
    )  # fmt: skip
    check(
        tmp_path,
        [
            ("PART 1", p("GENERAL", num=(1, 0))), ("1.01", p("SUMMARY", num=(1, 1))), ("1.01.A", p("a", num=(1, 2))),
            ("1.01.A.1", p("a", num=(1, 3))), ("1.01.A.2", p("a", num=(1, 3))), ("1.01.B", p("a", num=(1, 2))),
        ],
        numbering=numbering + num(1, 1), styles=PLAIN,
    )  # fmt: skip


def test_article_numbers_without_a_list_level_for_the_part(tmp_path: Path) -> None:
    numbering = abstract(1, lvl(0, "decimalZero", "1.%1"), lvl(1, "upperLetter", "%2.")) + num(1, 1)
    numbering += abstract(2, lvl(0, "decimalZero", "2.%1"), lvl(1, "upperLetter", "%2.")) + num(2, 2)
    check(
        tmp_path,
        [
            ("PART 1", p("PART 1 - GENERAL")), ("1.01", p("SUMMARY", num=(1, 0))), ("1.01.A", p("a", num=(1, 1))),
            ("1.02", p("X", num=(1, 0))), ("PART 2", p("PART 2 - PRODUCTS")), ("2.01", p("PANELS", num=(2, 0))),
            ("2.01.A", p("a", num=(2, 1))),
        ],
        numbering=numbering, styles=PLAIN,
    )  # fmt: skip


def test_a_skipped_level_leaves_no_gap_in_the_address(tmp_path: Path) -> None:
    """A level that was skipped counts as used, so that the next paragraph at it is B."""
    lines = [("1.01", p("PANELS", "ART")), ("1.01.1", p("x", "PR2")), ("1.01.B", p("y", "PR1"))]
    check(tmp_path, [*lines, ("1.01.B.a", p("z", "PR3"))])


def test_headings_without_numbers(tmp_path: Path) -> None:
    read = check(
        tmp_path,
        typed(
            ("", "GENERAL"), ("", "SUMMARY"), ("A", "A. Panels."), ("B", "B. Clips."), ("", "SUBMITTALS"),
            ("A", "A. Data."),
            ("", "PRODUCTS"), ("", "METAL ROOF PANELS"), ("A", "A. Steel."),
        ),
        styles=PLAIN,
    )  # fmt: skip
    assert [(clause.part, clause.article) for clause in read][2] == (1, "SUMMARY")
    assert (read[-1].part, read[-1].article, read[-1].headings) == (
        2, "METAL ROOF PANELS", ("PRODUCTS", "METAL ROOF PANELS"),
    )  # fmt: skip


def test_a_line_in_capitals_within_a_list_is_no_heading(tmp_path: Path) -> None:
    check(
        tmp_path,
        typed(("1.01", "1.01 PANELS"), ("1.01.A", "A. One."), ("1.01.A", "OR"), ("1.01.A", "NO SUBSTITUTIONS"),
              ("1.01.B", "B. Two.")),
        styles=PLAIN,
    )  # fmt: skip


def test_bullets_are_body_text(tmp_path: Path) -> None:
    numbering = CSI_NUMBERING + abstract(8, lvl(0, "bullet", "\uf0b7", left=1440)) + num(8, 8)
    read = check(
        tmp_path,
        [
            ("1.01", p("PANELS", "ART")),
            ("1.01.A", p("a", "PR1")),
            ("1.01.A", p("x", num=(8, 0))),
            ("1.01.B", p("b", "PR1")),
        ],
        numbering=numbering,
    )
    assert (read[2].label, read[2].text) == ("", "x")


def test_part_article_level_and_headings_are_filled(tmp_path: Path) -> None:
    read = clauses(tmp_path, [block for _, block in CSI_TYPED], styles=PLAIN)
    deep = read[8]
    assert (deep.part, deep.article, deep.level) == (1, "PERFORMANCE REQUIREMENTS", 6)
    assert deep.headings == (
        "GENERAL", "PERFORMANCE REQUIREMENTS", "Wind uplift:", "Class 90.", "over plywood", "at corners",
    )  # fmt: skip
    assert [clause.ordinal for clause in read] == list(range(len(read)))
    assert [clause.level for clause in read[:4]] == [0, 1, 2, 1]


@pytest.mark.parametrize(
    "text", ["Not Used", "NOT USED.", "(Not Used)", "[Reserved]", "Deleted.", "RESERVED"]
)
def test_a_paragraph_not_used(tmp_path: Path, text: str) -> None:
    read = clauses(tmp_path, [p("PANELS", "ART"), p(text, "PR1"), p("next", "PR1")])
    assert [clause.flags for clause in read] == [(), ("not used",), ()]
    assert read[2].address == "1.01.B"


@pytest.mark.parametrize(
    "text", ["Not used panels are returned.", "Reserved parking is by others", "Delete it"]
)
def test_a_paragraph_in_use(tmp_path: Path, text: str) -> None:
    assert clauses(tmp_path, [p("PANELS", "ART"), p(text, "PR1")])[1].flags == ()


SHADE = '<w:shd w:val="clear" w:color="auto" w:fill="D9D9D9"/>'
BORDER = '<w:pBdr><w:top w:val="single"/></w:pBdr>'
BLUE = '<w:color w:val="0000FF"/>'


@pytest.mark.parametrize(
    "blocks",
    [
        [p("SPEC WRITER NOTE: Use Class 60 inland.")],
        [p("Specifier: select the class.")],
        [p("NOTE TO SPECIFIER: Class 60 or 90.")],
        [p("[Note to Specifier: Class 60.]")],
        [p("** NOTE TO SPECIFIER ** Delete if not required; Class 60.")],
        [p("Specifier\u2019s Note: Class 60.")],
        [p("Editor's note: Class 60.")],
        [p("Retain one of two paragraphs below.")],
        [p("Delete this article if Class 60 is not required.")],
        [p("Select one of the following options to suit Project: Class 60 or 90.")],
        [p("NOTE: Class 60 inland.", props=SHADE)],
        [p("Note: Class 60 inland.", props=BORDER)],
        [p(r("Retain for Class 60 if required by Owner.", BLUE))],
        [tbl(row(cell(p("NOTE: Class 60 inland."))))],
        [p("Class 60 inland.", "NOTES")],
        [
            p("****************"),
            p("NOTE: Class 60 inland."),
            p("And more on Class 60."),
            p("****************"),
        ],
        [p("* * * * * * * *"), p("NOTE:  Class 60 inland."), p("*****************")],
        [p("*************** NOTE: Class 60 inland. ***************")],
    ],
)
def test_a_note_to_the_specifier_stands_apart(tmp_path: Path, blocks: list[str]) -> None:
    styles = CSI_STYLES + style("NOTES", name="Specifier Note")
    read = clauses(tmp_path, [p("PANELS", "ART"), p("a", "PR1"), *blocks, p("b", "PR1")], styles=styles)
    notes = read[2:-1]
    assert notes
    assert all(clause.hidden and "specifier note" in clause.flags for clause in notes), notes
    assert (read[-1].address, read[-1].hidden) == ("1.01.B", False)


@pytest.mark.parametrize(
    "block",
    [
        p("Note: shop drawings are by the Contractor."),
        p("Retain samples on site until completion."),
        p("Remove protective film from panels below the ridge."),
        p("Select fasteners as required by the report."),
        p("Coordinate with Section 06 10 00 for the following items.", "PR1"),
        p("Retain one clip of each type if tested.", "PR1"),
        p("Class 90 panels.", props=SHADE),
        p(r("Specify", BLUE) + r(" no substitutions.")),
        p("Use one of the following fasteners where indicated.", "PR1"),
        p("**Class 90**"),
    ],
)
def test_a_requirement_is_no_note(tmp_path: Path, block: str) -> None:
    read = clauses(tmp_path, [p("PANELS", "ART"), p("a", "PR1"), block])
    assert (read[2].hidden, read[2].flags) == (False, ())


def test_a_row_of_asterisks_that_is_never_closed_hides_nothing_more(tmp_path: Path) -> None:
    read = clauses(
        tmp_path,
        [p("***********"), p("NOTE TO SPECIFIER: x"), p("GENERAL", "PRT"), p("S", "ART"), p("a", "PR1")],
    )
    assert [clause.hidden for clause in read] == [True, False, False, False]


def test_a_decorative_row_of_asterisks_opens_no_note(tmp_path: Path) -> None:
    read = clauses(tmp_path, [p("S", "ART"), p("*******"), p("a", "PR1"), p("*******"), p("b", "PR1")])
    assert [(clause.text, clause.hidden) for clause in read] == [("S", False), ("a", False), ("b", False)]
