"""Marks by which a section calls its roofs: learned from its titles, known in every article, bound to what they stand
over."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from reading_build import clause, read

from cleatmark.spec.clauses import Clause, Marks
from cleatmark.spec.roof_marks import kin, marks_of, several


def under(article: str, text: str, ordinal: int, part: int = 2) -> Clause:
    """A paragraph of an article, at an address of its own."""
    one = clause(text, "panels", ordinal=ordinal)
    return replace(one, address=f"{part}.{ordinal:02}.A", article=article, part=part, headings=("", article))


SECTION = (
    under("PERFORMANCE REQUIREMENTS", "Uplift Rating of RP-1: UL 580, Class 90.", 1, 1),
    under("PERFORMANCE REQUIREMENTS", "Uplift Rating of RP-2: UL 580, Class 60.", 2, 1),
    under("STANDING-SEAM PANELS, RP-1", "Panel Coverage: 16 inches.", 3),
    under("STANDING-SEAM PANELS, RP-2", "Panel Coverage: 12 inches, joints aligned with RP-1.", 4),
    under("MISCELLANEOUS", "Panel thickness at RP-2: 22 gauge.", 5),
)


def test_a_mark_of_a_title_is_a_scope_in_every_article() -> None:
    found = {(item.subject, item.text, item.scope) for item in read(*SECTION).stated}
    assert {
        ("uplift.class", "90", "RP-1"),
        ("uplift.class", "60", "RP-2"),
        ("panel.width", "16 inches", "RP-1"),
        ("panel.width", "12 inches", "RP-2"),
        ("panel.thickness", "22 gauge", "RP-2"),
    } <= found
    assert not any("conflict" in item.flags for item in read(*SECTION).stated)


@pytest.mark.parametrize(
    ("title", "names"),
    [
        ("METAL ROOF PANEL TYPE 1 (MRP-1)", {"MRP-1"}),
        ("METAL ROOF PANELS RP-1 AND RP-2", {"RP-1", "RP-2"}),
        ("METAL WALL PANELS, WP-1", set()),
        ("ROOF CURBS RC-1", set()),
        ("Roof panels, color to match RP-7", set()),
        ("Steel roof panels with AZ50 coating, UL 90", set()),
    ],
)
def test_what_a_title_marks(title: str, names: set[str]) -> None:
    marks = marks_of([clause(title, "materials")])
    assert {mark for _, mark in marks.names} == names


def test_two_names_of_one_roof_are_one() -> None:
    marks = marks_of([clause("Panel Type 1 (MRP-1): 24 gauge.", "panels")])
    assert dict(marks.names) == {"panel type 1": "MRP-1", "mrp-1": "MRP-1"}
    assert not several(marks)
    assert not several(Marks())


@pytest.mark.parametrize("name", ["RP-1", "RP1", "Panel Type RP-1", "rp-1", "Roof Panels RP-1"])
def test_a_roof_is_compared_by_its_mark(name: str) -> None:
    assert kin(name) == kin("RP-1")
    assert kin(name) != kin("RP-2")


def test_other_names_are_compared_whole() -> None:
    assert kin("ROOF TYPE 1") == kin("Roof Type No. 1") != kin("Roof Type 2")


def test_a_section_of_thousands_of_marks_keeps_some() -> None:
    marks = marks_of([clause(f"RP-{n % 90}{chr(65 + n % 26)}: Roof panels.", "panels") for n in range(4000)])
    assert 0 < len(marks.names) < 100
