"""A quantity, its kinds, and the error that a wrong one raises."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct


class Quantity(Struct, frozen=True):
    """An exact amount of one kind.

    kind   one of KINDS, such as "length" or "pressure"
    value  in the kind's base unit (BASE_UNITS), exact; of a gauge, the gauge number
    unit   the unit as normalised from the text ("in", "ft", "psf", "Pa", "ga", "oz", ...)
    text   as written, white space folded
    basis  of a thickness: "nominal", "minimum coated", "minimum base metal", "measured", or "minimum" where
           the coating is left open; of a yield strength: "minimum" or "measured"; "" where none is stated
    level  of a pressure: "allowable", "strength", or "" where none is stated
    """

    kind: str
    value: Fraction
    unit: str = ""
    text: str = ""
    basis: str = ""
    level: str = ""


class QuantityError(ValueError):
    """A text that is not the quantity asked for: what is wrong, what was expected, an example of it."""

    def __init__(self, message: str, expected: str = "", example: str = "") -> None:
        self.message = message
        self.expected = expected
        self.example = example
        parts = [message]
        if expected:
            parts.append(f'expected {expected}, such as "{example}"' if example else f"expected {expected}")
        super().__init__("; ".join(parts))


class Kind(Struct, frozen=True):
    """A kind of quantity: its base unit, how a message names the right form, and an example of it.

    bare    whether a number without a unit is a value of this kind
    signed  whether it may be negative
    """

    base: str
    expected: str
    example: str
    bare: bool = False
    signed: bool = False


KINDS: Mapping[str, Kind] = {
    "length": Kind("in", "a length with its unit (in, ft, mm, m)", "16 in"),
    "thickness": Kind("in", "a thickness with its unit (ga, in, mil, mm, oz)", "24 ga"),
    "gauge": Kind("ga", "a gauge", "24 ga"),
    "pressure": Kind("psf", "a pressure with its unit (psf, Pa, kPa)", "-45 psf", signed=True),
    "stress": Kind("ksi", "a stress with its unit (ksi, psi, MPa)", "50 ksi"),
    "slope": Kind("rise/run", "a slope as rise to run, in degrees or in percent", "3:12"),
    "screw size": Kind("in", "a screw size by number or diameter", "No. 10"),
    "area": Kind("sq ft", "an area with its unit (sq ft, m²)", "10 sq ft"),
    "speed": Kind("mph", "a speed with its unit (mph, m/s, km/h)", "120 mph"),
    "weight": Kind("oz/sq ft", "a sheet weight with its unit (oz/sq ft, g/m²)", "20 oz"),
    "force": Kind("lb", "a force with its unit (lb, kip, N, kN)", "250 lb", signed=True),
    "duration": Kind("years", "a duration with its unit (years, months)", "20 years"),
    "ratio": Kind("L", "a deflection limit as a part of the span", "L/180"),
    "angle": Kind("deg", "an angle with its unit (deg)", "14 deg", signed=True),
    "number": Kind("", "a number", "2", bare=True, signed=True),
    "class": Kind("", "a class by its number", "90", bare=True),
    "rating": Kind("psf", "a windstorm rating", "1-90"),
}

BASE_UNITS: Mapping[str, str] = {name: kind.base for name, kind in KINDS.items()}

ALIKE: Mapping[str, frozenset[str]] = {
    "length": frozenset({"length", "thickness", "gauge"}),
    "thickness": frozenset({"length", "thickness", "gauge"}),
    "gauge": frozenset({"length", "thickness", "gauge"}),
    "class": frozenset({"class", "number"}),
    "number": frozenset({"class", "number"}),
}
"""Kinds that may be compared with one another, beside each with itself. A class is a number without a unit: a table
that gives the class a county asks for holds the number alone."""


def comparable(kind: str, other: str) -> bool:
    """Whether quantities of the two kinds can be put in order."""
    return other in ALIKE.get(kind, (kind,))
