"""Numbers in words, as fractions, ranges, ratios and slopes: common practice of typed specifications, no source."""

from __future__ import annotations

import pytest
from reading_build import found

from cleatmark.spec import measures
from cleatmark.spec.lexemes import lex


def amounts(text: str, kind: str) -> list[str]:
    """The amounts of one kind in a text: "18 in", "12 in to 18 in"."""
    out = []
    for one in lex(text, 0, len(text)):
        told = measures.amounts(text[one.start : one.end]) if one.kind == kind else None
        if told:
            out.append(f"{told.value} to {told.high}" if told.high else told.value)
    return out


@pytest.mark.parametrize(
    ("text", "kind", "values"),
    [
        ("a wind speed of one hundred fifteen miles per hour", "speed", ["115 mph"]),
        ("one hundred and twenty (120) mph", "speed", ["120 mph"]),
        ("one hundred thirty-five m.p.h.", "speed", ["135 mph"]),
        ("forty-two (42) pounds per square foot", "pressure", ["42 psf"]),
        ("fifty two psf", "pressure", ["52 psf"]),
        ("two and three-eighths inches high", "length", ["2-3/8 in"]),
        ("one and one-half (1-1/2) inches", "length", ["1-1/2 in"]),
        ("a half-inch space, and half an inch", "length", ["1/2 in", "1/2 in"]),
        ("three-quarters inch", "length", ["3/4 in"]),
        ("a twenty-year warranty", "duration", ["20 years"]),
        ("20 (twenty) years", "duration", ["20 years"]),
        ("eighteen to twenty-four inches", "length", ["18 in to 24 in"]),
        ("305 mm to 457 mm 12 inches to 18 inches wide", "length", ["12 in to 18 in"]),
        ("12 to 18 inches (305 to 457 mm)", "length", ["12 in to 18 in"]),
        ("305 to 457 mm (12 to 18 in.)", "length", ["12 in to 18 in"]),
        ("8 to 12 inches", "length", ["8 in to 12 in"]),
        ("one one-hundred-eightieth of the span", "ratio", ["L/180"]),
        ("one two-hundred-fortieth of the distance", "ratio", ["L/240"]),
        ("one hundred-twentieth part; one over one hundred twenty", "ratio", ["L/120", "L/120"]),
    ],
)
def test_numbers_in_words(text: str, kind: str, values: list[str]) -> None:
    assert amounts(text, kind) == values


@pytest.mark.parametrize(
    ("text", "rise"),
    [
        ("three inches in twelve", "3:12"),
        ("a slope of four in twelve", "4:12"),
        ("one-half inch to the foot", "1/2:12"),
        ("3 inches of rise per foot", "3:12"),
        ("slope not less than 1 to 24", "1:24"),
        ("pitch of one in forty-eight", "1:48"),
    ],
)
def test_slopes_in_words(text: str, rise: str) -> None:
    assert amounts(text, "slope") == [rise]


@pytest.mark.parametrize(
    "text",
    [
        "3 clips per foot",
        "two per foot",
        "10 to 12 weeks",
        "six to twelve months",
        "Types 1 to 5",
        "12 in. on 12 in. paper",
    ],
)
def test_counts_and_ranges_that_are_no_slope(text: str) -> None:
    assert amounts(text, "slope") == []


def test_number_words_that_count_things_stay_words() -> None:
    for text in (
        "one of the following",
        "two screws per clip",
        "two-piece clips",
        "not less than two fasteners",
    ):
        assert [one.key for one in lex(text, 0, len(text)) if one.kind == "number"] == []


def test_what_stands_in_words_is_stated() -> None:
    assert found("Design the roof for a basic wind speed of one hundred fifteen miles per hour.") == {
        "wind.speed equal 115 mph"
    }
    assert found("Roof slope is three inches in twelve.", "summary") == {"roof.slope equal 0.25"}
    assert "panel.width at most 18 in" in found(
        "Panels: 305 mm to 457 mm 12 inches to 18 inches wide.", "panels"
    )


@pytest.mark.parametrize(
    ("text", "factor"),
    [
        ("The ultimate load found in that test shall be at least twice the uplift.", {"2"}),
        ("Keep a margin of safety of two to one against ultimate.", {"2"}),
        ("Provide a safety factor of two against the ultimate load.", {"2"}),
        ("The assembly shall hold two and one-half times the design load.", {"2.5"}),
        ("The ratio of ultimate load to design load shall not be less than 2.", {"2"}),
        ("Divide the ultimate load by two to obtain the allowable uplift.", {"2"}),
        ("Fasteners shall develop three times the design load.", set()),
        ("The roof shall carry twice the design snow load.", set()),
        ("Allow for movement of 1.5 times the calculated value.", set()),
        ("Factor of safety for pull-out of fasteners: three.", set()),
    ],
)
def test_safety_factors_in_all_their_wordings(text: str, factor: set[str]) -> None:
    assert found(text) == {f"safety_factor at least {one}" for one in factor}
