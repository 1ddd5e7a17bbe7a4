"""Comparing two values as the trade means it: three-valued, by kind, with bases and levels minded."""

from __future__ import annotations

from datetime import date

from cleatmark.facts import NONE, Nothing, Tri, Value
from cleatmark.language.logic import NO, UNKNOWN, YES
from cleatmark.units import Quantity, orderings

ALLOWED = {
    "is": frozenset({0}),
    "at least": frozenset({0, 1}),
    "at most": frozenset({0, -1}),
    "more than": frozenset({1}),
    "less than": frozenset({-1}),
    "before": frozenset({-1}),
    "after": frozenset({1}),
    "on or before": frozenset({-1, 0}),
    "on or after": frozenset({0, 1}),
}


def within(possible: frozenset[int], allowed: frozenset[int]) -> Tri:
    """YES where every possible ordering is allowed, NO where none is, else UNKNOWN."""
    if possible <= allowed:
        return YES
    return NO if possible.isdisjoint(allowed) else UNKNOWN


def fold(text: str) -> str:
    """Text as compared: case, white space and hyphens make no difference."""
    return " ".join(text.replace("-", " ").casefold().split())


def compare(op: str, left: Value, right: Value, metal_left: str = "", metal_right: str = "") -> Tri:
    """left OP right for two known values. `is not` is the reader's to negate."""
    if op == "includes":
        items = left if isinstance(left, tuple) else (left,)
        return YES if any(same(item, right) is YES for item in items) else NO
    if op == "mentions":
        items = left if isinstance(left, tuple) else (left,)
        needle = fold(str(right))
        return YES if any(needle in fold(str(item)) for item in items) else NO
    if isinstance(left, Quantity) and isinstance(right, Quantity):
        return within(orderings(left, right, metal_a=metal_left, metal_b=metal_right), ALLOWED[op])
    if isinstance(left, date) and isinstance(right, date):
        return within(frozenset({(left > right) - (left < right)}), ALLOWED[op])
    if op == "is":
        return same(left, right)
    if isinstance(left, Nothing) or isinstance(right, Nothing):
        return NO
    return UNKNOWN


def same(left: Value, right: Value) -> Tri:
    """Equality of two values that need not be of one form."""
    if isinstance(left, tuple):
        return YES if any(same(item, right) is YES for item in left) else NO
    if left is NONE or right is NONE or isinstance(left, Nothing) or isinstance(right, Nothing):
        return YES if isinstance(left, Nothing) and isinstance(right, Nothing) else NO
    if isinstance(left, str) and isinstance(right, str):
        return YES if fold(left) == fold(right) else NO
    if isinstance(left, Quantity) and isinstance(right, Quantity):
        return within(orderings(left, right), ALLOWED["is"])
    return YES if type(left) is type(right) and left == right else NO


def contains_words(whole: str, part: str) -> bool:
    """Whether every word of `part` stands in `whole`: how a stated text is met by a fuller one."""
    words = set(fold(whole).split())
    return all(word in words for word in fold(part).split())
