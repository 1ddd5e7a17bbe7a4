"""Amounts converted and written out."""

from fractions import Fraction

import pytest

from cleatmark.units import Quantity, QuantityError, parse, show, to, unit_name

SHOWN = [
    ("48.2 psf", "", "48.2 psf"),
    ("16 inches", "", "16 in"),
    ("1.75 in", "", "1-3/4 in"),
    ("0.0236 in", "thickness", "0.0236 in"),
    ("24 gauge", "", "24 ga"),
    ("24 ga nominal", "", "24 ga, nominal"),
    ("4 ft 6 in", "", "4-1/2 ft"),
    ("#10", "", "No. 10"),
    ("1/4-14", "", "1/4 in"),
    ("3:12", "", "3:12"),
    ("1/4:12", "", "1/4:12"),
    ("1/4 in per ft", "", "1/4 in/ft"),
    ("L/180", "", "L/180"),
    ("1-90", "rating", "1-90"),
    ("90", "class", "90"),
    ("2.0", "", "2"),
    ("50,000 psi", "", "50,000 psi"),
    ("-45 psf", "", "-45 psf"),
]


@pytest.mark.parametrize(("text", "kind", "shown"), SHOWN)
def test_shown_as_the_trade_prints_it(text: str, kind: str, shown: str) -> None:
    assert show(parse(text, kind)) == shown


def test_shown_in_the_unit_asked_for() -> None:
    assert show(parse("38 ft"), "inches") == "456 in"
    assert show(parse("240 months"), "years") == "20 years"
    assert show(parse("60 mil", "thickness"), "in") == "0.06 in"


def test_shown_in_the_other_system() -> None:
    assert show(parse("105 psf"), system="SI") == "5.027 kPa"
    assert show(parse("16 in"), system="SI") == "406.4 mm"
    assert show(parse("120 mph"), system="SI") == "53.6448 m/s"
    assert show(parse("2,400 Pa")) == "50.1 psf"
    assert show(parse("2,400 Pa"), system="SI") == "2,400 Pa"


def test_computed_amounts_are_rounded_to_the_places_of_print() -> None:
    assert show(Quantity("pressure", Fraction(1446, 30) + Fraction(1, 3000), "psf")) == "48.2 psf"
    assert show(Quantity("pressure", Fraction(-1, 3), "psf")) == "-0.3 psf"
    assert show(Quantity("pressure", Fraction(-1, 300), "psf")) == "0 psf"


def test_a_slope_in_degrees_is_shown_and_given_back_as_written() -> None:
    """The tangent is rounded; a limit of 7 degrees is still reached by "7 deg", not passed by it."""
    for text, number in (("7 deg", 7), ("14°", 14), ("9.5 degrees", Fraction(19, 2))):
        slope = parse(text, "slope")
        assert (slope.text, to(slope, "deg")) == (text, number)
    assert show(parse("14°", "slope")) == "14 deg"
    assert to(parse("3:12", "slope"), "deg") == Fraction("14.036243468")


def test_exact_amounts_in_a_unit() -> None:
    assert to(parse("38 ft"), "inches") == 456
    assert to(parse("38 ft"), "") == 456
    assert to(parse("3:12"), ":12") == 3
    assert to(parse("L/180"), "L/") == 180
    assert to(parse("1-90", "rating"), "psf") == 90
    assert unit_name("pounds per square foot") == "psf"
    assert unit_name("zone") is None


@pytest.mark.parametrize(("text", "unit"), [("16 in", "psf"), ("24 ga", "in"), ("16 in", "cubits")])
def test_an_amount_in_a_foreign_unit_does_not_exist(text: str, unit: str) -> None:
    with pytest.raises(QuantityError, match="has no amount in"):
        to(parse(text), unit)
