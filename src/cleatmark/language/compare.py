"""Comparing two values as the trade means it: three-valued, by kind, with bases and levels minded."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import lru_cache

from cleatmark.facts import NONE, Nothing, Tri, Value
from cleatmark.language.logic import NO, UNKNOWN, YES
from cleatmark.units import BY_AMOUNT, Quantity, orderings

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


@lru_cache(maxsize=4096)
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


def comparing(op: str, right: Value) -> Callable[[Value], Tri]:
    """`compare` with the right side known beforehand, as rules mostly have it."""
    if isinstance(right, Quantity) and right.kind in BY_AMOUNT and op in ALLOWED:
        return _beside_amount(op, right)
    if isinstance(right, str) and op == "is":
        return _beside_text(right)
    return lambda left: compare(op, left, right)


def _beside_amount(op: str, right: Quantity) -> Callable[[Value], Tri]:
    """Exact, by whole numbers: a fraction beside a fraction takes six times as long."""
    kind = right.kind
    amount, under = right.value.as_integer_ratio()
    less, equal, greater = (YES if order in ALLOWED[op] else NO for order in (-1, 0, 1))

    def settle(left: Value) -> Tri:
        if not isinstance(left, Quantity) or left.kind != kind:
            return compare(op, left, right)
        own, own_under = left.value.as_integer_ratio()
        own, other = own * under, amount * own_under
        return equal if own == other else less if own < other else greater

    return settle


def _beside_text(right: str) -> Callable[[Value], Tri]:
    """`is` beside a text, which is folded once."""
    folded = fold(right)

    def settle(left: Value) -> Tri:
        if not isinstance(left, str):
            return compare("is", left, right)
        return YES if fold(left) == folded else NO

    return settle


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


SMALL_WORDS = frozenset(
    [
        "a",
        "an",
        "and",
        "as",
        "at",
        "be",
        "by",
        "for",
        "from",
        "in",
        "of",
        "on",
        "or",
        "the",
        "to",
        "with",
        "over",
        "under",
        "per",
        "type",
    ]
)
ENDINGS = ("ing", "ed", "es", "s")


def stems(text: str) -> frozenset[str]:
    """The words of a text that carry meaning, without endings: "for mechanical seaming" is mechanical, seam."""
    words = re.findall(r"[a-z0-9/.#%\u00bd-\u00be]+", fold(text))
    return frozenset(_stem(word.strip("./")) for word in words if word not in SMALL_WORDS) - {""}


def _stem(word: str) -> str:
    for ending in ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word[: -len(ending)]
    return word


def words_meet(offered: str, asked: str, title: str = "") -> Tri:
    """Whether an offered text meets an asked one: YES where it has all its words (those of the field's title may be
    left out), NO where it has none, UNKNOWN between: that is for a reader to judge."""
    wanted = stems(asked) - stems(title) or stems(asked)
    have = stems(offered)
    if wanted <= have:
        return YES
    return NO if wanted.isdisjoint(have) else UNKNOWN
