"""The possible orderings of two quantities.

Steel figures: 24 gauge is 0.0276 in coated nominal and 0.0239 in bare (manufacturers' standard gauge, from
memory), 0.0236 in coated minimum (medium confidence: tables disagree); 22 gauge 0.0336, 0.0299, 0.0296.
"""

from fractions import Fraction

import pytest

from cleatmark.units import SCREW_INCHES, orderings, parse, thicknesses

ANY = {-1, 0, 1}


def sheets(a: str, b: str, metal_a: str = "steel", metal_b: str = "steel") -> set[int]:
    first, second = parse(a, "thickness"), parse(b, "thickness")
    return set(orderings(first, second, metal_a=metal_a, metal_b=metal_b))


SHEETS = [
    ("22 ga", "24 ga", {1}),
    ("24 ga", "24 ga, nominal", {0}),
    ("0.032 in", "24 ga", {1}),
    ("0.0179 in", "24 ga", {-1}),
    ("0.0236 in minimum coated", "24 ga", {0}),
    ("0.0276 in nominal", "24 ga", {0}),
    ("0.0239 in minimum coated", "24 ga", {1}),
    ("0.0236 in", "24 ga", ANY),
    ("0.024 in", "24 ga", ANY),
    ("0.0236 in nominal", "24 ga", {-1}),
    ("0.0236 in", "0.0236 in", {0}),
    ("0.0236 in minimum", "0.0236 in minimum", {0}),
    ("0.0236 in minimum base metal", "24 ga", {-1, 1}),
    ("0.0239 in", "0.0236 in", {0, 1}),
    ("0.0299 in", "0.0236 in", {1}),
    ("0.0296 in", "0.0276 in", {1}),
    ("0.0276 in nominal", "0.0236 in minimum coated", {0}),
    ("0.0236 in minimum coated", "0.0336 in nominal", {-1}),
    ("0.0250 in nominal", "0.0236 in minimum coated", {-1}),
    ("0.0236 in measured", "0.0236 in minimum coated", ANY),
    ("0.60 mm minimum coated", "24 ga", {0}),
    ("19/32 in", "15/32 in", {1}),
]


@pytest.mark.parametrize(("a", "b", "expected"), SHEETS)
def test_sheets_of_one_metal(a: str, b: str, expected: set[int]) -> None:
    assert sheets(a, b) == expected
    assert sheets(b, a) == {-order for order in expected}


def test_a_change_of_metal_makes_the_comparison_meaningless() -> None:
    assert sheets("0.032 in", "0.0236 in", "aluminum", "steel") == ANY
    assert sheets("22 ga", "24 ga", "stainless steel", "galvanized steel") == ANY


def test_a_metal_not_stated_is_the_others() -> None:
    assert sheets("22 ga", "24 ga", "steel", "") == {1}
    assert sheets("0.032 in", "24 ga", "", "") == {1}


def test_metals_without_a_coating_compare_directly() -> None:
    assert sheets("0.032 in", "0.040 in", "aluminum", "aluminum") == {-1}
    assert sheets("0.040 in", "18 ga", "aluminum", "aluminum") == {0}
    assert sheets("16 oz", "20 oz", "copper", "copper") == {-1}
    assert sheets("20 oz", "0.0270 in", "copper", "copper") == {0}
    assert sheets("24 ga", "0.7 mm", "zinc", "zinc") == ANY


def test_gauge_to_inches_by_metal() -> None:
    gauge = parse("24 ga")
    assert thicknesses(gauge, "zinc-coated steel") == {
        "nominal": Fraction("0.0276"),
        "minimum coated": Fraction("0.0236"),
        "uncoated": Fraction("0.0239"),
        "minimum base metal": Fraction("0.0221"),
    }
    assert thicknesses(gauge, "stainless steel") == {"nominal": Fraction("0.0235")}
    assert thicknesses(gauge, "copper") == {}
    assert thicknesses(parse("23 ga"), "steel") == {}


YIELDS = [
    ("50 ksi", "40 ksi", {1}),
    ("50 ksi minimum", "50 ksi minimum", {0}),
    ("50 ksi minimum", "45 ksi measured", {1}),
    ("50 ksi minimum", "50 ksi measured", {0, 1}),
    ("50 ksi minimum", "58 ksi measured", ANY),
    ("50 ksi", "58 ksi measured", ANY),
]


@pytest.mark.parametrize(("a", "b", "expected"), YIELDS)
def test_a_measured_yield_is_not_below_its_minimum(a: str, b: str, expected: set[int]) -> None:
    first, second = parse(a, "stress"), parse(b, "stress")
    assert set(orderings(first, second)) == expected
    assert set(orderings(second, first)) == {-order for order in expected}


PRESSURES = [
    ("52.5 psf", "48.2 psf", {1}),
    ("30 psf allowable", "50 psf strength", {0}),
    ("30 psf allowable", "45 psf strength", {1}),
    ("52.5 psf allowable", "60 psf", {-1, 1}),
    ("52.5 psf allowable", "90 psf", {-1}),
    ("52.5 psf allowable", "48.2 psf", {1}),
    ("50 psf strength", "30 psf", {0, 1}),
]


@pytest.mark.parametrize(("a", "b", "expected"), PRESSURES)
def test_a_level_not_stated_is_tried_both_ways(a: str, b: str, expected: set[int]) -> None:
    """0.6 from strength to allowable: ASCE 7 load combinations since 2010."""
    assert set(orderings(parse(a), parse(b))) == expected


def test_screws_go_by_diameter() -> None:
    assert orderings(parse("No. 10"), parse("No. 9")) == {1}
    assert orderings(parse("1/4-14"), parse("#14")) == {1}
    assert SCREW_INCHES[8] == Fraction("0.164")
    assert SCREW_INCHES[14] == Fraction("0.242")


def test_other_kinds_have_one_order() -> None:
    assert orderings(parse("20 years"), parse("240 months")) == {0}
    assert orderings(parse("L/240"), parse("L/180")) == {-1}
    assert orderings(parse("3:12"), parse("1/4:12")) == {1}
    assert orderings(parse("1-1/2 in"), parse("1.5 in")) == {0}


def test_kinds_that_do_not_compare_raise() -> None:
    with pytest.raises(TypeError, match="a length cannot be compared with a pressure"):
        orderings(parse("16 in"), parse("16 psf"))
