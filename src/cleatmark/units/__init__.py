"""Quantities as the trade writes them, exact, with the text as written kept beside the value.

Quantity            the value, its kind, its unit and text as written, basis and level
parse(text, ...)    the one parser, shared by YAML, rules and readings; raises QuantityError
QUANTITY_PATTERN    a quantity as a token; pattern_for(kind) for one kind only
to, show            exact amounts in a unit, and text for a reader
orderings(a, b)     the possible orderings of two quantities when bases or levels are not stated
thicknesses(q, m)   inches by basis of a gauge in a metal
"""

from cleatmark.units.metals import metal_name, thicknesses
from cleatmark.units.order import ALLOWABLE_FROM_STRENGTH, BY_AMOUNT, orderings
from cleatmark.units.parse import parse
from cleatmark.units.pattern import QUANTITY_PATTERN, pattern_for
from cleatmark.units.quantity import BASE_UNITS, KINDS, Kind, Quantity, QuantityError, comparable
from cleatmark.units.screws import SCREW_INCHES
from cleatmark.units.show import show, to
from cleatmark.units.tables import unit_name

__all__ = [
    "ALLOWABLE_FROM_STRENGTH",
    "BASE_UNITS",
    "BY_AMOUNT",
    "KINDS",
    "QUANTITY_PATTERN",
    "SCREW_INCHES",
    "Kind",
    "Quantity",
    "QuantityError",
    "comparable",
    "metal_name",
    "orderings",
    "parse",
    "pattern_for",
    "show",
    "thicknesses",
    "to",
    "unit_name",
]
