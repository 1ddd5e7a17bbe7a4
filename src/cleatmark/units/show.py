"""Quantities converted and written out as a reader checks them."""

from __future__ import annotations

from fractions import Fraction
from math import atan, degrees

from cleatmark.units.quantity import BASE_UNITS, Quantity, QuantityError
from cleatmark.units.screws import screw_number
from cleatmark.units.tables import BY_NAME, unit_name

_SI = {
    "in": "mm",
    "ft": "m",
    "psf": "kPa",
    "psi": "kPa",
    "ksi": "MPa",
    "sq ft": "m²",
    "sq in": "m²",
    "mph": "m/s",
}
_SI |= {"lb": "N", "kip": "kN", "mil": "mm"}
_US = {
    "mm": "in",
    "cm": "in",
    "m": "ft",
    "Pa": "psf",
    "kPa": "psf",
    "kg/m²": "psf",
    "MPa": "ksi",
    "m²": "sq ft",
}
_US |= {"m/s": "mph", "km/h": "mph", "N": "lb", "kN": "kip", "g/m²": "oz"}
_PLACES = {
    "in": 4,
    "ft": 2,
    "mm": 1,
    "m": 2,
    "psf": 1,
    "Pa": 0,
    "kPa": 3,
    "ksi": 1,
    "MPa": 0,
    "m²": 2,
    "mph": 1,
}
_EXACT_PLACES = 6


def to(q: Quantity, unit: str) -> Fraction:
    """The exact amount in `unit`, however it is written ("inches", "psf").

    "" is the kind's base unit; ":12" the rise of a slope in 12, "deg" its degrees, rounded to nine decimals; "L/" the
    divisor of a deflection limit.

    Raises QuantityError where the unit is not of the quantity's kind; a gauge has no inches without its metal
    (see thicknesses).
    """
    if unit == "" or unit == BASE_UNITS[q.kind]:
        return q.value
    if q.kind == "slope" and unit.startswith(":"):
        return q.value * Fraction(unit[1:])
    if q.kind == "slope" and unit_name(unit) == "deg":
        return Fraction(round(degrees(atan(q.value)) * 10**9), 10**9)
    if q.kind == "ratio" and unit == "L/" and q.value:
        return 1 / q.value
    name = unit_name(unit)
    if name is None or q.kind not in BY_NAME[name].factors:
        raise QuantityError(f'"{q.text}" is a {q.kind} and has no amount in {unit}')
    return q.value / BY_NAME[name].factors[q.kind]


def show(q: Quantity, unit: str = "", system: str = "US") -> str:
    """The quantity as text: "48.2 psf", "16 in", "1-3/4 in", "24 ga".

    unit    in which it is shown; "" for the unit it was written in
    system  "US" or "SI": a unit of the other system is shown in this one's
    Exact where the amount has few decimals, rounded to the places that the trade prints otherwise.
    """
    if q.kind == "gauge":
        return f"{_decimal(q.value, 2)} ga{_after(q)}"
    if q.kind == "rating":
        return f"1-{q.value}"
    if q.kind in ("class", "number"):
        return _decimal(q.value, 4)
    if q.kind == "ratio" and q.unit != "%":
        return f"L/{_decimal(1 / q.value, 2).replace(',', '')}" if q.value else "0"
    if q.kind == "slope" and q.unit not in ("in/ft", "%", "deg"):
        run = q.unit[1:] if q.unit.startswith(":") else "12"
        return f"{_rise(q.value * Fraction(run))}:{run}"
    if q.kind == "screw size" and q.unit == "No.":
        number = screw_number(q.value)
        if number is not None:
            return f"No. {number}"
    name = _system(unit_name(unit) or q.unit or BASE_UNITS[q.kind], q.kind, system)
    return f"{_number(to(q, name), name)} {name}{_after(q)}"


def _system(name: str, kind: str, system: str) -> str:
    other = (_SI if system == "SI" else _US).get(name, name)
    return other if kind in BY_NAME[other].factors else name


def _after(q: Quantity) -> str:
    return f", {q.basis}" if q.basis else ""


def _number(amount: Fraction, unit: str) -> str:
    if unit in ("in", "ft", "in/ft") and amount.denominator in (2, 4, 8, 16, 32, 64):
        sign, size = ("-" if amount < 0 else ""), abs(amount)
        whole, part = divmod(size, 1)
        return f"{sign}{whole}-{part}" if whole else f"{sign}{part}"
    return _decimal(amount, _PLACES.get(unit, 2))


def _rise(amount: Fraction) -> str:
    if 0 < amount < 1 and amount.denominator in (2, 3, 4, 8, 16):
        return str(amount)
    return _decimal(amount, 3)


def _decimal(amount: Fraction, places: int) -> str:
    """The amount exactly where it has at most six decimals, otherwise rounded half up to `places`."""
    scaled = amount * 10**_EXACT_PLACES
    if scaled.denominator == 1:
        digits, places = abs(scaled.numerator), _EXACT_PLACES
    else:
        digits = int(abs(amount) * 10**places + Fraction(1, 2))
    whole, part = divmod(digits, 10**places)
    tail = f"{part:0{places}d}".rstrip("0") if places else ""
    sign = "-" if amount < 0 and digits else ""
    return f"{sign}{whole:,}" + (f".{tail}" if tail else "")
