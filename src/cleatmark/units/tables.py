"""Units as the trade writes them, with exact factors to each kind's base unit.

Sources: inch 25.4 mm, pound 0.45359237 kg, mile 1609.344 m and ounce 1/16 pound by the international yard and
pound agreement (exact); standard gravity 9.80665 m/s² (exact). Copper sheet: ounces a square foot times
0.00135 in, ASTM B370 (thicknesses from memory, high confidence).
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import product

from msgspec import Struct

INCH_MM = Fraction(254, 10)
POUND_FORCE_N = Fraction("0.45359237") * Fraction("9.80665")
SQUARE_FOOT_M2 = Fraction("0.3048") ** 2
PSF_PA = POUND_FORCE_N / SQUARE_FOOT_M2
KSI_MPA = PSF_PA * 144 / 1000
OUNCE_G = Fraction("28.349523125")
COPPER_INCHES_PER_OUNCE = Fraction("0.00135")

_LENGTHS = ("length", "thickness", "screw size")


class Unit(Struct, frozen=True):
    """A unit: its factors to the base unit by kind, and the ways in which it is written.

    factors   the first kind is the one taken where none is asked for
    words     whole
    compound  parts, any of the first before any of the second and so on
    """

    name: str
    factors: Mapping[str, Fraction]
    words: tuple[str, ...]
    compound: tuple[tuple[str, ...], ...] = ()


def _unit(
    name: str,
    kinds: str | tuple[str, ...],
    factor: Fraction | int,
    *words: str,
    compound: tuple[tuple[str, ...], ...] = (),
) -> Unit:
    names = (kinds,) if isinstance(kinds, str) else kinds
    return Unit(name, dict.fromkeys(names, Fraction(factor)), (name, *words), compound)


_POUNDS = ("pounds force", "pounds", "pound", "lbs", "lbf", "lb", "#")
_PER = ("/", " per ")
_SQUARE_FEET = ("square foot", "square feet", "sq ft", "ft²", "sf")

UNITS: tuple[Unit, ...] = (
    _unit("in", _LENGTHS, 1, "inch", "inches", '"', "″", "”", "“", "''", "’’"),
    _unit("ft", _LENGTHS[:2], 12, "foot", "feet", "'", "′", "’"),
    _unit("mm", _LENGTHS, 1 / INCH_MM, "millimeter", "millimeters", "millimetre", "millimetres"),
    _unit("cm", _LENGTHS[:2], 10 / INCH_MM, "centimeter", "centimeters", "centimetre", "centimetres"),
    _unit("m", _LENGTHS[:2], 1000 / INCH_MM, "meter", "meters", "metre", "metres"),
    _unit("mil", ("thickness", "length"), Fraction(1, 1000), "mils"),
    _unit("ga", "gauge", 1, "gauge", "gage", "gauges"),
    Unit(
        "oz",
        {"weight": Fraction(1), "thickness": COPPER_INCHES_PER_OUNCE},
        ("oz", "ounce", "ounces"),
        (("oz", "ounces"), _PER, _SQUARE_FEET),
    ),
    _unit("g/m²", "weight", SQUARE_FOOT_M2 / OUNCE_G, "g/sq m"),
    _unit("psf", "pressure", 1, compound=(_POUNDS, _PER, _SQUARE_FEET)),
    Unit(
        "psi",
        {"stress": Fraction(1, 1000), "pressure": Fraction(144)},
        ("psi",),
        (_POUNDS[1:], _PER, ("square inch", "sq in", "in²")),
    ),
    _unit("Pa", "pressure", 1 / PSF_PA, "pascal", "pascals", "N/m²"),
    _unit("kPa", "pressure", 1000 / PSF_PA, "kilopascal", "kilopascals", "kN/m²"),
    _unit("kg/m²", "pressure", Fraction("9.80665") / PSF_PA, "kgf/m²", "kg/sq m"),
    _unit("ksi", "stress", 1, "kips per square inch", "kip/sq in"),
    _unit("MPa", "stress", 1 / KSI_MPA, "megapascal", "megapascals", "N/mm²"),
    _unit("mph", "speed", 1, "miles per hour", "mile per hour", "mi/h", "miles an hour"),
    _unit("m/s", "speed", Fraction(3600) / Fraction("1609.344"), "mps", "meters per second"),
    _unit("km/h", "speed", 1000 / Fraction("1609.344"), "kph", "kmh", "kilometers per hour"),
    _unit("sq ft", "area", 1, *_SQUARE_FEET),
    _unit("sq in", "area", Fraction(1, 144), "in²", "square inch", "square inches"),
    _unit(
        "m²",
        "area",
        1 / SQUARE_FOOT_M2,
        "sq m",
        "square meter",
        "square metre",
        "square meters",
        "square metres",
    ),
    _unit("lb", "force", 1, "lbs", "lbf", "pound", "pounds", "pounds force"),
    _unit("kip", "force", 1000, "kips"),
    _unit("N", "force", 1 / POUND_FORCE_N, "newton", "newtons"),
    _unit("kN", "force", 1000 / POUND_FORCE_N, "kilonewton", "kilonewtons"),
    _unit("years", "duration", 1, "year", "yr", "yrs"),
    _unit("months", "duration", Fraction(1, 12), "month", "mo", "mos"),
    _unit("deg", "angle", 1, "degree", "degrees", "°"),
    _unit(
        "in/ft",
        "slope",
        Fraction(1, 12),
        "inch per foot",
        "inches per foot",
        "in per ft",
        '"/ft',
        '" per foot',
    ),
    _unit("%", ("ratio", "slope"), Fraction(1, 100), "percent", "per cent"),
)

BY_NAME: Mapping[str, Unit] = {unit.name: unit for unit in UNITS}


def normal(word: str) -> str:
    """A unit as written, without what does not change it: case, dots, spaces, hyphens, ² against 2."""
    folded = word.casefold().replace("²", "2").replace("^2", "2")
    folded = "/".join(part.strip() for part in folded.replace(" per ", "/").split("/"))
    return "".join(char for char in folded if char not in " .-‑\u00a0\u2007\u2009\u202f\t\n")


BY_WORD: Mapping[str, Unit] = {
    normal("".join(word)): unit
    for unit in UNITS
    for word in [*unit.words, *(product(*unit.compound) if unit.compound else ())]
}


def unit_name(word: str) -> str | None:
    """The unit's one name ("inches" gives "in", "lb/sq ft" gives "psf"), or None where it is not a unit."""
    unit = BY_WORD.get(normal(word))
    return unit.name if unit else None
