"""The possible orderings of two quantities when what they are measured on is not stated.

A thickness may be nominal, coated or base metal; a yield strength specified or measured; a pressure at
allowable or strength level. Where a basis or level is missing, each reading is tried, like with like, and
every ordering that some reading gives is returned. A caller that needs one answer asks whether all agree.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from cleatmark.units.metals import Column, columns, gauges_of, metal_name, same_as_printed
from cleatmark.units.quantity import KINDS, Quantity, comparable

BY_AMOUNT = frozenset(KINDS) - {"pressure", "thickness", "gauge", "stress"}
"""Kinds of which two compare by their amounts alone, lengths where no metal is told: neither has a level or a basis."""
ALL = frozenset({-1, 0, 1})
ONE = {order: frozenset({order}) for order in (-1, 0, 1)}
ALLOWABLE_FROM_STRENGTH = Fraction(6, 10)
"""Allowable-stress wind pressure as a part of the strength-level one, ASCE 7 load combinations since 2010."""


def orderings(a: Quantity, b: Quantity, *, metal_a: str = "", metal_b: str = "") -> frozenset[int]:
    """The possible orderings of a against b: -1 less, 0 equal, 1 greater. A heavier sheet is the greater.

    metal_a, metal_b  the metals of two sheets or of two yield strengths; a metal not stated is taken to be
    the other's. Different metals give all three: the comparison means nothing.
    Raises TypeError for kinds that cannot be compared.
    """
    if a.kind != b.kind and not comparable(a.kind, b.kind):
        raise TypeError(f"a {a.kind} cannot be compared with a {b.kind}")
    if a.kind == "pressure":
        return _pressures(a, b)
    if a.kind in BY_AMOUNT and (a.kind != "length" or (b.kind == "length" and not metal_a and not metal_b)):
        return ONE[_sign(a.value, b.value)]
    first, second = metal_name(metal_a), metal_name(metal_b)
    if first and second and first != second:
        return ALL
    if a.kind == "stress":
        return _yields(a, b)
    return _sheets(a, b, first or second)


def _sign(a: Fraction, b: Fraction) -> int:
    """-1, 0 or 1; by whole numbers, for a difference of fractions takes six times as long."""
    (x, under_x), (y, under_y) = a.as_integer_ratio(), b.as_integer_ratio()
    return (x * under_y > y * under_x) - (x * under_y < y * under_x)


def _pressures(a: Quantity, b: Quantity) -> frozenset[int]:
    """Both without a level are like with like: a test pressure has none."""
    if a.level == b.level:
        return ONE[_sign(a.value, b.value)]
    return frozenset(_sign(x, y) for x in _allowable(a) for y in _allowable(b))


def _allowable(q: Quantity) -> Iterator[Fraction]:
    if q.level != "strength":
        yield q.value
    if q.level != "allowable":
        yield q.value * ALLOWABLE_FROM_STRENGTH


def _yields(a: Quantity, b: Quantity) -> frozenset[int]:
    """A measured yield is never below the minimum of its sheet, so the two compare on one side only."""
    direct = _sign(a.value, b.value)
    if a.basis == b.basis:
        return frozenset({direct})
    found = set() if a.basis and b.basis else {direct}
    if "measured" not in (a.basis, b.basis) and direct == 0 and not found:
        return frozenset({0})
    for first in [a.basis] if a.basis else ["minimum", "measured"]:
        for second in [b.basis] if b.basis else ["minimum", "measured"]:
            if first == second:
                found.add(direct)
            elif first == "minimum":
                found |= {1} if direct > 0 else {0, 1} if direct == 0 else ALL
            else:
                found |= {-1} if direct < 0 else {-1, 0} if direct == 0 else ALL
    return frozenset(found)


@lru_cache(maxsize=4096)
def _sheets(a: Quantity, b: Quantity, metal: str) -> frozenset[int]:
    if a.kind == "gauge" and b.kind == "gauge":
        return ONE[_sign(b.value, a.value)]
    if a.kind == "gauge":
        return _gauge_against(a, b, metal)
    if b.kind == "gauge":
        return frozenset(-order for order in _gauge_against(b, a, metal))
    direct = _sign(a.value, b.value)
    if a.kind == "length" or b.kind == "length" or metal not in ("", "steel"):
        return frozenset({direct})
    if a.basis == b.basis and a.basis not in ("", "minimum"):
        return frozenset({direct})
    if a.basis == b.basis:
        return frozenset(
            {direct} | ({0} if gauges_of(a, metal).keys() & gauges_of(b, metal).keys() else set())
        )
    return frozenset(
        order
        for first in columns("steel", a.basis)
        for second in columns("steel", b.basis)
        for order in ([direct] if first is second else _across(a.value, first, b.value, second))
    )


def _gauge_against(gauge: Quantity, decimal: Quantity, metal: str) -> frozenset[int]:
    """A gauge against a decimal: every column that the decimal's basis, or the gauge's, allows."""
    found: set[int] = set()
    number = int(gauge.value) if gauge.value.denominator == 1 else 0
    for column in columns(metal, decimal.basis or gauge.basis):
        if number not in column.inches:
            if metal:
                return ALL
            continue
        printed = any(same_as_printed(decimal, figure) for figure in column.figures(number))
        found.add(0 if printed else _sign(column.inches[number], decimal.value))
    return frozenset(found) or ALL


def _across(a: Fraction, first: Column, b: Fraction, second: Column) -> frozenset[int]:
    """Two thicknesses in two columns, placed among the gauges of each."""
    low_a, high_a = _bracket(a, first)
    low_b, high_b = _bracket(b, second)
    if low_a == high_a == low_b == high_b:
        return frozenset({0})
    if high_a <= low_b:
        return frozenset({-1})
    if low_a >= high_b:
        return frozenset({1})
    return ALL


def _bracket(inches: Fraction, column: Column) -> tuple[int, int]:
    """The gauges, negated so that heavier is greater, between which a thickness stands in a column."""
    exact = next((gauge for gauge, value in column.inches.items() if value == inches), None)
    if exact is not None:
        return -exact, -exact
    below = [-gauge for gauge, value in column.inches.items() if value < inches]
    above = [-gauge for gauge, value in column.inches.items() if value > inches]
    return max(below, default=-1000), min(above, default=1000)
