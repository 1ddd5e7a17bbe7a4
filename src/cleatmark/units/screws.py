"""Screw diameters by number.

Source: numbers 8, 9 and 14 wood screw tables (from memory, high confidence), 10, 12 and 1/4 in an evaluation
report's fastener table (high). Others by the series 0.060 + 0.013 n inches, ASME B18.6.1 (from memory).
"""

from __future__ import annotations

from fractions import Fraction

SCREW_INCHES: dict[int, Fraction] = {
    number: Fraction(60 + 13 * number, 1000) for number in (4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20)
}


def screw_diameter(number: int) -> Fraction | None:
    """Diameter in inches of a screw by its number, None where there is no such number."""
    return SCREW_INCHES.get(number)


def screw_number(diameter: Fraction) -> int | None:
    """The number of a screw by its diameter in inches, None where no number has it."""
    return next((number for number, inches in SCREW_INCHES.items() if inches == diameter), None)
