"""Quantities as the trade writes them. The forms are the trade's own: common practice, no source."""

from fractions import Fraction

import pytest

from cleatmark.units import BASE_UNITS, KINDS, QuantityError, parse

WRITTEN = [
    ("16 in", "length", Fraction(16), "in"),
    ("16 in.", "length", Fraction(16), "in"),
    ("16 inches", "length", Fraction(16), "in"),
    ('16"', "length", Fraction(16), "in"),
    ("16”", "length", Fraction(16), "in"),
    ("16 in o.c.", "length", Fraction(16), "in"),
    ("24 inches on center", "length", Fraction(24), "in"),
    ("5/8 in", "length", Fraction(5, 8), "in"),
    ("1-3/4 in", "length", Fraction(7, 4), "in"),
    ("1 3/4 in", "length", Fraction(7, 4), "in"),
    ('1¾"', "length", Fraction(7, 4), "in"),
    ("¾ in", "length", Fraction(3, 4), "in"),
    ("1‑3⁄4 in", "length", Fraction(7, 4), "in"),
    ("4 ft 6 in", "length", Fraction(54), "ft"),
    ("4'-6\"", "length", Fraction(54), "ft"),
    ("4’ 6 1/2”", "length", Fraction(109, 2), "ft"),
    ("38 ft", "length", Fraction(456), "ft"),
    ("25.4 mm", "length", Fraction(1), "mm"),
    ("24 ga", "gauge", Fraction(24), "ga"),
    ("24-gauge", "gauge", Fraction(24), "ga"),
    ("24 gage", "gauge", Fraction(24), "ga"),
    (".0236 in", "length", Fraction(236, 10000), "in"),
    ("60 mil", "thickness", Fraction(60, 1000), "mil"),
    ("105 psf", "pressure", Fraction(105), "psf"),
    ("105 PSF", "pressure", Fraction(105), "psf"),
    ("-45 lb/sq ft", "pressure", Fraction(-45), "psf"),
    ("−45 psf", "pressure", Fraction(-45), "psf"),
    ("–45 psf", "pressure", Fraction(-45), "psf"),
    ("minus 45 psf", "pressure", Fraction(-45), "psf"),
    ("45 lbs./sq. ft.", "pressure", Fraction(45), "psf"),
    ("45 lbf/ft²", "pressure", Fraction(45), "psf"),
    ("45 lb/sf", "pressure", Fraction(45), "psf"),
    ("45 # / sq ft", "pressure", Fraction(45), "psf"),
    ("45 pounds per square foot", "pressure", Fraction(45), "psf"),
    ("3:12", "slope", Fraction(1, 4), ":12"),
    ("1/4:12", "slope", Fraction(1, 48), ":12"),
    ("3 in 12", "slope", Fraction(1, 4), ":12"),
    ("1/4 inch per foot", "slope", Fraction(1, 48), "in/ft"),
    ("#10", "screw size", Fraction("0.190"), "No."),
    ("No. 12", "screw size", Fraction("0.216"), "No."),
    ("1/4-14", "screw size", Fraction(1, 4), "in"),
    ("20 oz", "weight", Fraction(20), "oz"),
    ("50 ksi", "stress", Fraction(50), "ksi"),
    ("50,000 psi", "stress", Fraction(50), "psi"),
    ("20 years", "duration", Fraction(20), "years"),
    ("20-year", "duration", Fraction(20), "years"),
    ("240 months", "duration", Fraction(20), "months"),
    ("twenty (20) years", "duration", Fraction(20), "years"),
    ("twenty-five years", "duration", Fraction(25), "years"),
    ("two-year", "duration", Fraction(2), "years"),
    ("L/180", "ratio", Fraction(1, 180), "L/"),
    ("120 mph", "speed", Fraction(120), "mph"),
    ("120 miles per hour", "speed", Fraction(120), "mph"),
    ("10 sq ft", "area", Fraction(10), "sq ft"),
    ("10 square feet", "area", Fraction(10), "sq ft"),
    ("10 ft²", "area", Fraction(10), "sq ft"),
    ("250 lb", "force", Fraction(250), "lb"),
    ("14 deg", "angle", Fraction(14), "deg"),
    ("two", "number", Fraction(2), ""),
    ("2.0", "number", Fraction(2), ""),
]


@pytest.mark.parametrize(("text", "kind", "value", "unit"), WRITTEN)
def test_the_unit_gives_the_kind_and_the_value_is_exact(
    text: str, kind: str, value: Fraction, unit: str
) -> None:
    found = parse(text)
    assert (found.kind, found.value, found.unit) == (kind, value, unit)
    assert found.text == " ".join(text.split())


ASKED = [
    ("24 ga", "thickness", "gauge", Fraction(24)),
    ("60 mil", "length", "length", Fraction(60, 1000)),
    ('.0236"', "thickness", "thickness", Fraction("0.0236")),
    ("19/32 in", "thickness", "thickness", Fraction(19, 32)),
    ("20 oz", "thickness", "thickness", Fraction("0.0270")),
    ("16 oz", "thickness", "thickness", Fraction("0.0216")),
    ("90", "class", "class", Fraction(90)),
    ("Class 90", "class", "class", Fraction(90)),
    ("UL 90", "class", "class", Fraction(90)),
    ("1-90", "rating", "rating", Fraction(90)),
    ("1–90", "rating", "rating", Fraction(90)),
    ("1A-90", "rating", "rating", Fraction(90)),
    ("I-90", "rating", "rating", Fraction(90)),
    ("FM Class 1-135", "rating", "rating", Fraction(135)),
    ("3/12", "slope", "slope", Fraction(1, 4)),
    ("45 deg", "slope", "slope", Fraction(1)),
    ("14 deg", "slope", "slope", Fraction("0.249328002843")),
    ("14°", "slope", "slope", Fraction("0.249328002843")),
    ("14-degree", "slope", "slope", Fraction("0.249328002843")),
    ("25 %", "slope", "slope", Fraction(1, 4)),
    ("25%", "slope", "slope", Fraction(1, 4)),
    ("12-14", "screw size", "screw size", Fraction("0.216")),
    ("1/4 in", "screw size", "screw size", Fraction(1, 4)),
    ("number 10", "screw size", "screw size", Fraction("0.190")),
    ("1 psi", "pressure", "pressure", Fraction(144)),
]


@pytest.mark.parametrize(("text", "asked", "kind", "value"), ASKED)
def test_some_forms_are_read_only_where_their_kind_is_asked_for(
    text: str, asked: str, kind: str, value: Fraction
) -> None:
    found = parse(text, asked)
    assert (found.kind, found.value) == (kind, value)


def test_a_rating_is_no_quantity_by_itself() -> None:
    with pytest.raises(QuantityError):
        parse("1-90")


def test_si_units_by_their_exact_definitions() -> None:
    """Pound 0.45359237 kg, foot 0.3048 m, gravity 9.80665 m/s², mile 1609.344 m: exact by definition."""
    psf = Fraction("0.45359237") * Fraction("9.80665") / (Fraction("0.3048") * Fraction("0.3048"))
    assert round(float(psf), 5) == 47.88026
    assert parse("2,400 Pa").value == 2400 / psf
    assert parse("2\u00a0400 Pa").value == parse("2\u202f400 Pa").value == parse("2400 Pa").value
    assert parse("2.4 kPa").value == parse("2400 N/m²").value == parse("2400 Pa").value
    assert parse("50 kg/m²").value == 50 * Fraction("9.80665") / psf
    assert parse("345 MPa").value == parse("345 N/mm²").value == 345_000_000 / (psf * 144_000)
    assert parse("44.704 m/s").value == 100
    assert parse("1.609344 km/h").value == 1
    assert parse("0.09290304 m²").value == 1


def test_white_space_is_folded_and_the_text_kept() -> None:
    assert parse("  1-3/4 \n in ").text == "1-3/4 in"


BASES = [
    ("24 ga nominal", "", "nominal"),
    ("24 ga, nominal", "thickness", "nominal"),
    ("0.0236 in minimum base metal", "thickness", "minimum base metal"),
    ("0.0236 in minimum base metal", "", "minimum base metal"),
    ("0.0236 in (base metal)", "thickness", "minimum base metal"),
    ("0.0236 in min. coated", "thickness", "minimum coated"),
    ("0.0236 in minimum", "thickness", "minimum"),
    ("0.0241 in, measured", "thickness", "measured"),
    ("50 ksi minimum", "stress", "minimum"),
    ("58.2 ksi measured", "stress", "measured"),
    ("58.2 ksi (coupon)", "stress", "measured"),
    ("50 ksi", "stress", ""),
]


@pytest.mark.parametrize(("text", "kind", "basis"), BASES)
def test_words_behind_the_unit_give_the_basis(text: str, kind: str, basis: str) -> None:
    assert parse(text, kind).basis == basis


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("31.2 psf allowable", "allowable"),
        ("31.2 psf (ASD)", "allowable"),
        ("31.2 psf, allowable-stress level", "allowable"),
        ("52 psf strength", "strength"),
        ("52 psf ultimate", "strength"),
        ("52 psf LRFD", "strength"),
        ("52 psf", ""),
    ],
)
def test_words_behind_the_unit_give_the_level(text: str, level: str) -> None:
    assert parse(text, "pressure").level == level


def test_a_gauge_with_its_decimal_is_one_sheet() -> None:
    found = parse("24 ga (0.0236 in)", "thickness", metal="steel")
    assert (found.kind, found.value, found.basis) == ("gauge", 24, "minimum coated")
    assert parse("24 gauge [0.61 mm]", "thickness").value == 24


A_SLOPE = 'expected a slope as rise to run, in degrees or in percent, such as "3:12"'
WRONG = [
    ("16", "length", '"16" has no unit; expected a length with its unit (in, ft, mm, m), such as "16 in"'),
    (
        "105",
        "pressure",
        '"105" has no unit; expected a pressure with its unit (psf, Pa, kPa), such as "-45 psf"',
    ),
    (
        "105 psf",
        "length",
        '"105 psf" is a pressure, and a length is asked for; '
        'expected a length with its unit (in, ft, mm, m), such as "16 in"',
    ),
    (
        "-16 in",
        "length",
        '"-16 in" is negative: a length is not; expected a length with its unit (in, ft, mm, m), such as "16 in"',
    ),
    (
        "16 furlongs",
        "length",
        '"16 furlongs": "furlongs" is not a unit of a length; '
        'expected a length with its unit (in, ft, mm, m), such as "16 in"',
    ),
    (
        "24 in max",
        "length",
        '"24 in max": "max" is not part of a length; '
        'expected a length with its unit (in, ft, mm, m), such as "16 in"',
    ),
    ("10", "screw size", '"10" has no unit; expected a screw size by number or diameter, such as "No. 10"'),
    (
        "No. 13",
        "screw size",
        '"No. 13": no screw has the number 13; '
        'expected one of the numbers 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20, such as "No. 10"',
    ),
    (
        "1-28",
        "rating",
        '"1-28" is not a windstorm rating: ratings go in steps of 15 psf; expected a rating, such as "1-90"',
    ),
    (
        "20 oz",
        "thickness",
        '"20 oz": ounces give the thickness of copper sheet, and the metal is steel; '
        'expected a gauge or a decimal thickness, such as "0.032 in"',
    ),
    (
        "24 ga (0.032 in)",
        "thickness",
        '"24 ga (0.032 in)": 24 ga and 0.032 in are not one sheet; '
        'expected the gauge or the decimal thickness, not two that disagree, such as "24 ga"',
    ),
    (
        "twenty (25) years",
        "duration",
        '"twenty (25) years": the word says 20 and the figure 25; '
        'expected a duration with its unit (years, months), such as "20 years"',
    ),
    ("", "length", 'the value is empty; expected a length with its unit (in, ft, mm, m), such as "16 in"'),
    ("3:0", "slope", f'"3:0" has no run; {A_SLOPE}'),
    (
        "1/2",
        "slope",
        '"1/2" may be 1/2 in 12, or 1 in 2; expected a slope that says which, such as "1/2:12"',
    ),
    ("-3 deg", "slope", f'"-3 deg" is negative: a slope is not; {A_SLOPE}'),
    ("90 deg", "slope", f'"90 deg" is no slope: a roof rises less than 90 degrees; {A_SLOPE}'),
    ("14", "slope", f'"14" has no unit; {A_SLOPE}'),
    ("14 d", "slope", f'"14 d": "d" is not a unit of a slope; {A_SLOPE}'),
    ("1/0 in", "", '"1/0" divides by zero'),
    ("nan", "number", '"nan" is not a number; expected a number, such as "2"'),
    ("1e5", "number", '"1e5": "e5" is not a unit of a number; expected a number, such as "2"'),
    ("0,0236 in", "", '"0,0236 in" is not a quantity; expected a number with its unit, such as "16 in"'),
    ("2024-01-01", "number", '"2024-01-01" is not a number; expected a number, such as "2"'),
]


@pytest.mark.parametrize(("text", "kind", "message"), WRONG)
def test_what_is_wrong_and_what_was_expected_is_said(text: str, kind: str, message: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, kind, metal="steel" if kind == "thickness" else "")
    assert str(caught.value) == message


def test_a_text_too_long_is_refused_at_once() -> None:
    with pytest.raises(QuantityError, match="10000 characters are too many"):
        parse("1" * 10_000)


def test_a_kind_that_does_not_exist_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="no kind of quantity is called 'colour'"):
        parse("16 in", "colour")


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_the_example_of_every_kind_is_of_that_kind(kind: str) -> None:
    assert parse(KINDS[kind].example, kind).kind in (kind, "gauge")
    assert set(BASE_UNITS) == set(KINDS)
