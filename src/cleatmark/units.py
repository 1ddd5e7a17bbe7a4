"""Quantities as the trade writes them, exact, with the text as written kept beside the value.

Contract (this module is filled in by its own room; the names below are used everywhere):

Quantity            the value, its kind, its unit and text as written, basis and level
parse(text, ...)    the one parser, shared by YAML, rules and readings; raises QuantityError
orderings(a, b)     the possible orderings of two quantities when bases or levels are not stated
"""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct


class Quantity(Struct, frozen=True):
    """An exact amount of one kind.

    kind   one of KINDS, such as "length" or "pressure"
    value  in the kind's base unit (BASE_UNITS), exact
    unit   the unit as normalised from the text ("in", "ft", "psf", "Pa", "ga", "oz", ...)
    text   as written, white space folded
    basis  of a thickness or a yield strength: "nominal", "minimum coated", "minimum base metal",
           "measured", or "" where none is stated
    level  of a pressure: "allowable", "strength", or "" where none is stated
    """

    kind: str
    value: Fraction
    unit: str = ""
    text: str = ""
    basis: str = ""
    level: str = ""
