"""Advice on specifications, end to end: small sections built to DOCX, read alone with the rules that ship.

What each section gets wrong is common practice, no source, but for the standards that the advice itself cites.
"""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

import pytest
from samples.docx_office import Deleted, Inserted, Level, Office, Piece, paragraph, save, start

from cleatmark.language.program import Program
from cleatmark.language.rulebooks import load_program
from cleatmark.review.model import Advice
from cleatmark.review.run import read_alone, run_reviews

ISSUED = date(2026, 5, 4)
LIBRARY = Path(__file__).parents[2] / "samples" / "library"
OFFICE = Office(
    font="Courier New",
    points=10,
    styles=tuple(Level(name, left=left) for left, name in enumerate(("Title", "Part", "Article", "Para"))),
    lists=(),
)
SOUND = (
    "A.  Panels over plywood deck: tested to UL 580, Class 90, and to UL 1897.",
    "B.  Design wind uplift pressures, allowable stress: 22 psf in field, 36 psf at perimeter, 48 psf at corners.",
    "C.  Basic wind speed 115 mph, Exposure C, Risk Category II, ASCE 7-16.",
    "D.  Water penetration: ASTM E1646. Air leakage: ASTM E1680.",
)


@cache
def shipped() -> Program:
    return load_program(["base"], Path.cwd())


def advice(folder: Path, *paragraphs: str | tuple[Piece, ...]) -> list[Advice]:
    """The advice on a section whose article 1.02, performance requirements, has these paragraphs."""
    section = start(OFFICE)
    for text in ("SECTION 07 41 13", "METAL ROOF PANELS"):
        paragraph(section, "Title", text, when=ISSUED)
    paragraph(section, "Part", "PART 1 GENERAL", when=ISSUED)
    paragraph(section, "Article", "1.02  PERFORMANCE REQUIREMENTS", when=ISSUED)
    for item in paragraphs:
        paragraph(section, "Para", *((item,) if isinstance(item, str) else item), when=ISSUED)
    target = folder / "spec.docx"
    save(section, target, title="Section", author="Invented office", issued=ISSUED)
    return list(read_alone(target, shipped()).advice)


def only(found: list[Advice], id: str) -> Advice:
    told = [item for item in found if item.id == id]
    assert len(told) == 1, [item.id for item in found]
    return told[0]


def clauses_cited(item: Advice) -> set[str]:
    return {one.where.rpartition(" ")[2] for one in item.citations if one.kind == "spec"}


def test_a_sound_section_raises_nothing(tmp_path: Path) -> None:
    assert [(item.id, item.clause, item.message) for item in advice(tmp_path, *SOUND)] == []


def test_a_conflict_is_told_once_and_cites_both_clauses(tmp_path: Path) -> None:
    found = advice(
        tmp_path,
        "A.  Roof panels: 24 gauge steel.",
        "B.  Weathertightness warranty: 20 years.",
        "C.  Roof panels shall be 22 gauge steel.",
    )
    told = only(found, "spec_conflict")
    assert clauses_cited(told) == {"1.02.A", "1.02.C"}
    assert "1.02.A" in told.question
    assert "1.02.C" in told.question
    assert "24 gauge" in told.message
    assert "22 gauge" in told.message
    assert told.ask == "designer"


def test_substitution_rules_that_contradict(tmp_path: Path) -> None:
    found = advice(
        tmp_path, "A.  No substitutions.", "B.  Tarrow Ridge TR-150 (invented), or approved equal."
    )
    told = only(found, "spec_conflict_substitution")
    assert clauses_cited(told) == {"1.02.A", "1.02.B"}
    assert "spec_conflict" not in {item.id for item in found}


def test_a_class_read_as_a_speed_gets_a_paragraph_in_its_place(tmp_path: Path) -> None:
    told = only(advice(tmp_path, "A.  Roof system shall carry a UL 90 mph rating."), "spec_class_speed")
    assert told.clause == "1.02.A"
    assert "Class 90." in told.replacement
    assert "mph" not in told.replacement
    assert "design wind speed?" in told.question


def test_e1592_over_a_deck_cites_the_deck(tmp_path: Path) -> None:
    found = advice(tmp_path, "A.  Test panels to ASTM E1592.", "B.  Install panels over plywood roof deck.")
    told = only(found, "spec_e1592_on_deck")
    assert told.clause == "1.02.A"
    assert clauses_cited(told) == {"1.02.A", "1.02.B"}
    assert "UL 1897" in told.replacement


def test_ul_580_alone_on_purlins(tmp_path: Path) -> None:
    framing = "B.  Panels span over open purlins spaced 60 inches on center."
    found = advice(tmp_path, "A.  UL 580, Class 90 wind uplift.", framing)
    assert "1.02.B" in clauses_cited(only(found, "spec_ul580_on_framing"))
    both = advice(tmp_path, "A.  UL 580, Class 90 wind uplift, and ASTM E1592.", framing)
    assert "spec_ul580_on_framing" not in {item.id for item in both}


@pytest.mark.parametrize(
    ("text", "id", "replacement"),
    [
        ("A.  Water: no leakage per ASTM E331.", "spec_water_method", "Water: no leakage per ASTM E1646."),
        ("A.  Air leakage: ASTM E283.", "spec_air_method", "Air leakage: ASTM E1680."),
        ("A.  Wind uplift of roof panels: tested to ASTM E330.", "spec_uplift_method", ""),
        ("A.  Wind uplift of roof panels: CSA A123.21.", "spec_uplift_method", ""),
    ],
)
def test_methods_of_walls_and_membranes(tmp_path: Path, text: str, id: str, replacement: str) -> None:
    told = only(advice(tmp_path, text), id)
    assert told.replacement == replacement
    assert told.question


def test_a_class_below_the_stated_corners(tmp_path: Path) -> None:
    corners = "B.  Design wind uplift, allowable stress: 30 psf in field, 58 psf at corners."
    told = only(advice(tmp_path, "A.  UL 580, Class 90.", corners), "spec_class_short")
    assert "52.5 psf" in told.message
    assert "58 psf" in told.message
    assert clauses_cited(told) == {"1.02.A", "1.02.B"}
    reached = advice(tmp_path, "A.  UL 580, Class 90.", corners.replace("58", "52"))
    assert "spec_class_short" not in {item.id for item in reached}
    beside = advice(tmp_path, "A.  UL 580, Class 90, and UL 1897.", corners)
    assert "does the other test to the stated pressures suffice?" in only(beside, "spec_class_least").question


def test_pressures_inward_are_no_uplift(tmp_path: Path) -> None:
    found = advice(
        tmp_path,
        "A.  UL 580, Class 90.",
        "B.  Design wind uplift pressure, allowable stress: -40 psf at corners; +60 psf inward.",
    )
    assert "spec_class_short" not in {item.id for item in found}


def test_a_class_is_judged_beside_the_pressures_of_its_own_roof(tmp_path: Path) -> None:
    found = advice(
        tmp_path,
        "A.  Roof Type 1: UL 580, Class 90.",
        "B.  Roof Type 1: design wind uplift, allowable stress, 45 psf at corners.",
        "C.  Roof Type 2: design wind uplift, allowable stress, 70 psf at corners.",
    )
    assert "spec_class_short" not in {item.id for item in found}


def test_pressures_with_no_level_are_asked_about_once(tmp_path: Path) -> None:
    found = advice(
        tmp_path,
        "A.  Design wind uplift pressure: 40 psf in field.",
        "B.  Design wind uplift pressure: 50 psf at corners.",
    )
    told = only(found, "spec_level")
    assert clauses_cited(told) == {"1.02.A", "1.02.B"}
    assert told.replacement.startswith("Design wind uplift pressure: 40 psf in field.")
    assert "allowable-stress" in told.replacement


def test_a_body_named_as_a_test_method(tmp_path: Path) -> None:
    text = "A.  Panels shall be tested in accordance with FM Global requirements."
    assert only(advice(tmp_path, text), "spec_body_method").ask == "designer"
    numbered = advice(tmp_path, "A.  Panels shall be tested in accordance with FM 4471.")
    assert "spec_body_method" not in {item.id for item in numbered}


def test_what_an_editor_left(tmp_path: Path) -> None:
    found = advice(
        tmp_path,
        "A.  Roof panels: [22] [24] gauge steel.",
        "B.  Design wind uplift at corners: ____ psf, allowable stress.",
        ("C.  Weathertightness warranty: ", Deleted("ten"), Inserted("twenty"), " years."),
    )
    assert "22 / 24" in only(found, "spec_choice").question
    assert only(found, "spec_choice").replacement == ""
    assert only(found, "spec_blank").clause == "1.02.B"
    assert '"twenty"' in only(found, "spec_tracked").question


def test_left_to_the_drawings_and_to_an_engineer(tmp_path: Path) -> None:
    found = advice(
        tmp_path,
        "A.  Wind uplift pressures: as indicated on Drawings.",
        "B.  Delegated design: contractor's licensed engineer shall design the panel system for wind loads.",
    )
    assert "which sheet" in only(found, "spec_drawings").question
    assert "exposure" in only(found, "spec_delegated").question


def test_a_withdrawn_standard(tmp_path: Path) -> None:
    told = only(advice(tmp_path, "A.  Roof panels: steel sheet, ASTM A446, Grade C."), "spec_obsolete")
    assert "A653" in told.question


@pytest.mark.parametrize(
    ("insurer", "told"), [("none", 1), ("Marrow Public Mutual (invented)", 1), ("FM Global", 0)]
)
def test_fm_asked_for_and_another_insurer(tmp_path: Path, insurer: str, told: int) -> None:
    job = (LIBRARY / "job.yaml").read_text(encoding="utf-8").splitlines()
    lines = [f"insurer: {insurer}" if line.startswith("insurer:") else line for line in job]
    assert f"insurer: {insurer}" in lines
    (tmp_path / "job.yaml").write_text("\n".join(lines), encoding="utf-8")
    (tmp_path / "spec.docx").write_bytes((LIBRARY / "spec.docx").read_bytes())
    review = run_reviews(tmp_path / "job.yaml", [LIBRARY / "submittals" / "a_tested.yaml"])[0]
    found = [item for item in review.advice if item.id == "spec_fm_insurer"]
    assert len(found) == told
    assert all("FM approval still wanted" in item.question and item.clause for item in found)


def test_in_a_review_the_class_is_set_beside_the_pressures_of_every_zone() -> None:
    """The submittal differs by zone, and field comes first; the corners of the specification are 56.0 psf."""
    submittal = LIBRARY / "submittals" / "a_tested.yaml"
    review = run_reviews(LIBRARY / "job.yaml", [submittal])[0]
    assert "56.0 psf" in only(list(review.advice), "spec_class_least").message
