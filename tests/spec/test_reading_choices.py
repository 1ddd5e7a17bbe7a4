"""Values that differ and do not contradict: choices, places, warrantors, one sheet by gauge and by decimal."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from reading_build import clause, found, read

from cleatmark.spec.clauses import Clause
from cleatmark.spec.reading import FlaggedClause


def paragraphs(*texts: str, article: str = "panels", above: tuple[str, ...] = ()) -> list[Clause]:
    """Paragraphs 2.01.A, B, ... of one article, or those under a paragraph 2.01.A where `above` leads to them."""
    parent = "2.01.A" if above else "2.01"
    return [
        replace(
            clause(text, article, above, ordinal=n), address=f"{parent}.{1 + n if above else chr(65 + n)}"
        )
        for n, text in enumerate(texts)
    ]


def at_odds(*clauses: Clause) -> list[FlaggedClause]:
    """What is flagged as contradicting something else."""
    return [item for item in read(*clauses).flagged if item.flag == "conflict"]


@pytest.mark.parametrize(
    "texts",
    [
        ("Panels: steel sheet, G90.", "Alternatively, steel sheet coated AZ50."),
        ("Panels of galvanized steel sheet, G90; or", "Panels of aluminum-zinc coated steel sheet, AZ50."),
        ("Panels: steel, 24 gauge or aluminum, 0.032 inch.", "Panel thickness: 0.0239 inch minimum."),
        ("Panels: 24 gauge.", "Panels: 0.61 mm thick."),
        ("Panels: 24 gauge minimum.", "Panels: 0.0236 inch minimum base metal."),
        ("Panels: steel sheet, Grade 230.", "Panels: steel sheet, Grade 33."),
        ("Panels: 24 gauge. Where panels are longer than 40 feet, panels shall be 22 gauge.",),
    ],
)
def test_no_conflict(texts: tuple[str, ...]) -> None:
    assert at_odds(*paragraphs(*texts)) == []


@pytest.mark.parametrize(
    "texts",
    [
        ("Panels: steel sheet, G90.", "Panels: steel sheet coated AZ50."),
        ("Panels: 24 gauge or 22 gauge.", "Panels: 26 gauge."),
        ("Panels: 24 gauge.", "Panels: 0.0179 inch thick."),
        ("Panels: 24 gauge. Panels: 22 gauge.",),
    ],
)
def test_conflict(texts: tuple[str, ...]) -> None:
    assert at_odds(*paragraphs(*texts)) != []


def test_items_under_one_of_the_following_are_a_choice() -> None:
    items = ("Snap-lock panels, 16 inches wide.", "Mechanically seamed panels, 18 inches wide.")
    assert at_odds(*paragraphs(*items, above=("Provide one of the following panels:",))) == []
    assert at_odds(*paragraphs(*items, above=("Provide panels as follows:",))) != []


def test_a_paragraph_is_not_said_to_contradict_itself_by_its_own_number() -> None:
    told = at_odds(*paragraphs("Panels: 24 gauge. Panels: 22 gauge."))
    assert next(item.detail for item in told) == (
        "panel.thickness: 24 gauge here; another sentence of it says 22 gauge"
    )


def test_an_overhang_is_not_the_zone_whose_number_it_has() -> None:
    assert at_odds(*paragraphs("Wind uplift: Zone 2: 40 psf.", "Wind uplift: Overhang, Zone 2: 60 psf.",
                               article="performance")) == []  # fmt: skip


@pytest.mark.parametrize(
    "texts",
    [
        ("Manufacturer's weathertightness warranty: 20 years.",
         "Contractor shall provide a weathertight warranty for 5 years."),
        ("Weathertightness warranty: 20 years.",
         "Weathertightness warranty: 10 years where the roof is within 1500 feet of salt water."),
    ],
)  # fmt: skip
def test_warranties_of_two_warrantors_or_of_a_case_of_its_own(texts: tuple[str, ...]) -> None:
    assert at_odds(*paragraphs(*texts, article="warranty")) == []


def test_two_terms_of_one_warranty_are_a_conflict() -> None:
    texts = ("Weathertightness warranty: 20 years.", "Weathertightness warranty: 10 years.")
    assert at_odds(*paragraphs(*texts, article="warranty")) != []


@pytest.mark.parametrize(
    "text",
    [
        "Test-Pressure Difference: [1.57 lbf/sq. ft.] [6.24 lbf/sq. ft.] When tested, none leaks.",
        "Leakage not more than [0.06 cfm/sq. ft.] [0.04 cfm/sq. ft.] <Insert value>.",
        "Sheet of [20 oz./sq. ft.] [16 oz./sq. ft.] Cold-rolled copper.",
    ],
)
def test_a_full_stop_within_a_choice_ends_no_sentence(text: str) -> None:
    choices = [item for item in read(clause(text)).flagged if item.flag == "unedited choice"]
    assert [item.detail.count(" / ") for item in choices] == [1]


def test_a_choice_of_numbers_behind_which_the_unit_stands_is_the_sheets() -> None:
    open_ = "panel.thickness equal - !unedited choice"
    for text in (
        "Aluminum Sheet: [0.032] [0.040] inch thick.",
        "Roof panels: [0.032][0.040][0.050]-inch-thick sheet.",
        "Sheet thickness: [0.032] [0.040] inch.",
    ):
        assert open_ in found(text, "panels")
    assert open_ not in found("Roof panels: [12] [16] inch wide.", "panels")


def test_a_choice_among_number_words_is_a_period() -> None:
    for text in (
        "[Two] <Insert number> years.",
        "[Two] [Five] years.",
        "[Two] years, [ten] years for the finish.",
    ):
        told = found(f"Materials warranty: {text}", "warranty")
        assert "warranty.material at least - !unedited choice" in told, (text, told)
    assert found("Materials warranty: [Contractor] [Manufacturer].", "warranty") == set()
