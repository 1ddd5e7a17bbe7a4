"""One line of an addendum: what it tells to do, to which paragraph, with which words."""

from __future__ import annotations

import pytest

from cleatmark.spec.instructions import is_instruction, read, stripped, tokens

LINES = [
    ('Revise paragraph 1.5.B to read: "Class 60."', "revise", "1.5.B", ["Class 60."], ()),
    ("Revise Paragraph 1.03.B to read as follows:", "revise", "1.03.B", [], ()),
    ("Article 1.03, Paragraph B: Revise to read as follows:", "revise", "1.03.B", [], ()),
    ("Revise 1.03(B)(2) to read: Class 60.", "revise", "1.03(B)(2)", ["Class 60."], ()),
    ("Delete paragraph 1.03.D in its entirety.", "delete", "1.03.D", [], ()),
    ("Delete paragraph B of Article 1.03.", "delete", "1.03.B", [], ()),
    ("Paragraph 1.03.E is deleted.", "delete", "1.03.E", [], ()),
    ("Delete 1.03.F and substitute the following: None.", "replace", "1.03.F", ["None."], ()),
    ('Change "90" to "60" in paragraph 1.03.B.', "change", "1.03.B", [], (("90", "60"),)),
    (
        "Change ‘Class 90’ to ‘Class 60’ in paragraph 1.03.B.",
        "change",
        "1.03.B",
        [],
        (("Class 90", "Class 60"),),
    ),
    ('In paragraph 2.02.B, delete "AZ50" and substitute "G90".', "change", "2.02.B", [], (("AZ50", "G90"),)),
    (
        'Substitute "steel" for "aluminum" in Paragraph 1.1.A.',
        "change",
        "1.1.A",
        [],
        (("aluminum", "steel"),),
    ),
    ('Delete the words "own name" from paragraph 1.03.G.', "change", "1.03.G", [], (("own name", ""),)),
    ('In 1.03.B, insert "or 60" after "Class 90".', "insert", "1.03.B", [], (("Class 90", "or 60"),)),
    (
        'Change "90" to "60" and "24" to "22" in paragraph 1.03 B.1.',
        "change",
        "1.03 B.1",
        [],
        (("90", "60"), ("24", "22")),
    ),
    ("Add paragraph 2.03.C: Clips shall be stainless.", "add", "2.03.C", ["Clips shall be stainless."], ()),
    ('Add the following to Article 2.03: "C. Clips."', "add", "2.03", ["C. Clips."], ()),
    ("Revise the roof color as follows: red.", "unread", "", ["red."], ()),
]


@pytest.mark.parametrize(
    ("text", "kind", "address", "lines", "pairs"), LINES, ids=[line[0] for line in LINES]
)
def test_an_instruction_is_read(
    text: str, kind: str, address: str, lines: list[str], pairs: tuple[tuple[str, str], ...]
) -> None:
    assert is_instruction(text)
    (found,) = read(text, "1", "07 41 13")
    assert (found.kind, found.address) == (kind, address)
    assert [line.text for line in found.lines] == lines
    assert found.pairs == pairs
    assert found.section == "07 41 13"


@pytest.mark.parametrize(
    "text",
    [
        "Bids are due on July 21.",
        "Section 07 41 13 - Metal Roof Panels",
        "Provide roof assembly tested to UL 580.",
        "Replace damaged panels.",
        "The following questions were asked:",
    ],
)
def test_prose_is_no_instruction(text: str) -> None:
    assert not is_instruction(text)


def test_a_section_named_in_the_line_counts() -> None:
    (found,) = read('In Section 07 62 00, Paragraph 1.04.B, change "90" to "60".', "3", "07 41 13")
    assert (found.section, found.address, found.kind) == ("07 62 00", "1.04.B", "change")


def test_several_paragraphs_to_delete_are_several_instructions() -> None:
    assert [one.address for one in read("Delete paragraphs 1.03.D and 1.03.E.", "1", "")] == [
        "1.03.D",
        "1.03.E",
    ]
    (stretch,) = read("Delete paragraphs 1.03.F.1 through 1.03.F.3.", "1", "")
    assert (stretch.address, stretch.to) == ("1.03.F.1", "1.03.F.3")


def test_an_addition_says_what_it_follows() -> None:
    (found,) = read('After paragraph 2.03.B, add the following: "C. Clips."', "1", "")
    assert (found.kind, found.after, found.address) == ("add", "2.03.B", "")


@pytest.mark.parametrize("text", ["1.05.B.2", "1.5.B.2", "1.05(B)(2)", "1.5 b.2", "1.05, B.2"])
def test_one_address_has_many_spellings(text: str) -> None:
    assert tokens(text) == ("1", "5", "b", "2")


def test_addresses_with_another_number_differ() -> None:
    assert tokens("1.1.B") != tokens("1.10.B")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("“Class 60.”", "Class 60."),
        ('"Class 60."', "Class 60."),
        ("Use “Class 60”.", "Use “Class 60”."),
        (" : Class 60", ": Class 60"),
    ],
)
def test_only_marks_around_a_text_are_taken_off(text: str, shown: str) -> None:
    assert stripped(text) == shown
